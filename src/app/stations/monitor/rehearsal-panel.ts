import { html, nothing, type PropertyValues } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { fixed, percent } from '../../../base/format.ts';
import type { RunPlan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/monitor-trace/cw-monitor-trace.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityInputEvent } from '../../../elements/quantity-field/quantity-events.ts';
import { type CutRule, isOptical } from '../../../monitor/cut-rule.ts';
import { Rehearsal } from '../../../monitor/rehearsal.ts';
import { RULE_WORDS } from '../../../monitor/rule-words.ts';
import { applyTheme } from '../../preferences.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { shownRun, shownSide, shownSurface } from '../sides-shown.ts';
import { rehearsalSetup } from './batch-rehearsal.ts';
import { bestOf, keepBest } from './best-scores.ts';
import { type Exercise, exerciseKey, exerciseWords } from './exercise.ts';
import { MISHAP_CHOICES, type MishapChoice, mishapsOf } from './mishap-choice.ts';
import { layerTraces } from './monitor-view.ts';
import { rehearsalReport } from './rehearsal-report.ts';
import { rehearsalStyles } from './rehearsal-styles.ts';
import { RehearsedEvent } from './rehearsed-event.ts';

const SPEEDS = [1, 2, 5, 10, 20, 60] as const;
/** The picture follows this often; readers who want less motion get it twice a second. */
const PICTURE_MS = 100;
const CALM_PICTURE_MS = 500;
/** A frame that comes later than this (the window was hidden) counts as this long. */
const LONGEST_FRAME_S = 0.25;

/** The run played on the whole screen: the technician closes every shutter and is told afterwards how far off each layer is. */
@customElement('app-rehearsal-panel')
export class RehearsalPanel extends StationElement {
  static override styles = [stationStyles, rehearsalStyles];

  @state() private speed = 10;
  @state() private seed = 1;
  @state() private mishap: MishapChoice = 'none';
  @state() private mishapLayer: number | undefined;
  @state() private event = '';
  @state() private fault = '';
  @query('dialog') private readonly dialog!: HTMLDialogElement;
  #play: Rehearsal | undefined;
  #run: RunPlan | undefined;
  #frame = 0;
  #lastMs = 0;
  #pictureMs = 0;
  #isBest = false;
  /** Of the run that is played. */
  #slowest = Number.POSITIVE_INFINITY;
  #played: Pick<Exercise, 'mishap' | 'mishapLayer'> = { mishap: 'none', mishapLayer: undefined };

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.stop();
  }

  protected override updated(changed: PropertyValues): void {
    super.updated(changed);
    if (this.#play !== undefined && !this.dialog.open) this.dialog.showModal();
  }

  override render() {
    const run = shownRun(this.state);
    const layers = run?.cuts ?? [];
    return html`<section class="group" aria-labelledby="rehearsal-title">
      <h2 id="rehearsal-title">Rehearsal</h2>
      <p class="small soft">The run plays on the whole screen with the noise above. The space bar, or a touch of the large button, opens and closes the shutter; Escape leaves.</p>
      <div class="fields">
        ${this.select(
          'speed',
          'Speed',
          SPEEDS.map((speed) => [String(speed), `${speed} ×`]),
          String(this.speed),
          (value) => {
            this.speed = Number(value);
          },
        )}
        ${this.select('mishap', 'Mishap', MISHAP_CHOICES, this.mishap, (value) => {
          this.mishap = value as MishapChoice;
        })}
        ${this.select(
          'mishap-layer',
          'In layer',
          [
            ['', 'any'],
            ...layers.map(({ label }, index) => [String(index), `${index + 1} ${label}`] as const),
          ],
          this.mishapLayer === undefined ? '' : String(this.mishapLayer),
          (value) => {
            this.mishapLayer = value === '' ? undefined : Number(value);
          },
        )}
        <cw-quantity-field label="Seed of the rehearsal" .value=${this.seed} .min=${0} .max=${4_294_967_295} .digits=${10} whole @cw-quantity-input=${({
          value,
        }: QuantityInputEvent) => {
          if (value !== undefined) this.seed = value;
        }}></cw-quantity-field>
      </div>
      <div class="row"><button class="main" @click=${() => this.start()}>Rehearse the run</button> ${this.bestSoFar()}</div>
      ${this.fault === '' ? nothing : html`<p class="said" role="alert">${this.fault}</p>`}
      <dialog aria-labelledby="stage-title" @cancel=${() => this.stop()}>
        ${this.#play === undefined ? nothing : this.stage(this.#play)}
      </dialog>
    </section>`;
  }

  private select(
    id: string,
    label: string,
    choices: readonly (readonly [string, string])[],
    chosen: string,
    set: (value: string) => void,
  ) {
    return html`<div class="field"><label for=${id}>${label}</label>
      <select id=${id} @change=${(event: Event) => set((event.target as HTMLSelectElement).value)}>
        ${choices.map(([value, words]) => html`<option value=${value} ?selected=${value === chosen}>${words}</option>`)}
      </select></div>`;
  }

  private start(): void {
    const { batch } = this.state;
    const surface = shownSurface(this.state);
    const run = shownRun(this.state);
    if (run === undefined) return;
    const { mishap, mishapLayer } = this.asked(run.cuts.length);
    this.#played = { mishap, mishapLayer };
    this.#slowest = Number.POSITIVE_INFINITY;
    try {
      const mishaps = mishapsOf(
        mishap,
        mishapLayer,
        this.seed,
        run.cuts.map(({ thicknessNm, turningPoints }) => ({
          thicknessNm,
          turnNm: turningPoints.map((turn) => turn.thicknessNm),
        })),
      );
      this.#play = new Rehearsal(rehearsalSetup(batch, surface), this.seed, mishaps, 'hand');
    } catch (error) {
      this.fault = error instanceof Error ? error.message : String(error);
      return;
    }
    this.fault = '';
    this.#run = run;
    this.event = 'Press the space bar to open the shutter.';
    this.requestUpdate();
    // Tokens stand on the page's root: the whole page is beside the chamber while the rehearsal lasts.
    document.documentElement.dataset.theme = 'chamber';
    window.addEventListener('keydown', this.onKey);
    document.addEventListener('fullscreenchange', this.onFullScreen);
    void this.updateComplete.then(() => {
      this.dialog.requestFullscreen?.().catch(() => undefined);
      this.dialog.querySelector<HTMLElement>('.shutter')?.focus();
    });
  }

  /** In the full screen the browser keeps Escape for itself: leaving that is leaving the rehearsal. */
  private readonly onFullScreen = (): void => {
    if (document.fullscreenElement === null) this.stop();
  };

  private stop(): void {
    cancelAnimationFrame(this.#frame);
    if (this.#play !== undefined) applyTheme(this.bench.state.preferences.theme);
    window.removeEventListener('keydown', this.onKey);
    document.removeEventListener('fullscreenchange', this.onFullScreen);
    this.#play = undefined;
    if (document.fullscreenElement !== null) void document.exitFullscreen().catch(() => undefined);
    if (this.dialog?.open) this.dialog.close();
    this.requestUpdate();
  }

  private readonly onKey = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') {
      event.preventDefault();
      this.stop();
    } else if (event.code === 'Space' && !(event.composedPath()[0] instanceof HTMLSelectElement)) {
      if (this.#play === undefined || this.#play.phase === 'done') return;
      event.preventDefault();
      if (!event.repeat) this.shutter();
    }
  };

  private shutter(): void {
    const play = this.#play;
    if (play === undefined) return;
    if (play.phase === 'growing') play.closeShutter();
    else if (play.phase === 'ready') {
      play.openShutter();
      this.event = `Shutter open: ${this.layerName(play.layer)}.`;
      this.#lastMs = performance.now();
      this.#frame = requestAnimationFrame(this.tick);
    }
    this.afterMove();
  }

  private readonly tick = (nowMs: number): void => {
    const play = this.#play;
    if (play === undefined || play.phase !== 'growing') return;
    const seconds = Math.min(LONGEST_FRAME_S, Math.max(0, (nowMs - this.#lastMs) / 1000));
    this.#lastMs = nowMs;
    this.#slowest = Math.min(this.#slowest, this.speed);
    play.advance(seconds * this.speed);
    this.afterMove();
    const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
    if (nowMs - this.#pictureMs >= (calm ? CALM_PICTURE_MS : PICTURE_MS)) {
      this.#pictureMs = nowMs;
      this.requestUpdate();
    }
    if (play.phase === 'growing') this.#frame = requestAnimationFrame(this.tick);
  };

  /** Says what has happened when a layer has ended. */
  private afterMove(): void {
    const play = this.#play!;
    if (play.phase === 'growing') return;
    cancelAnimationFrame(this.#frame);
    const last = play.finished.at(-1);
    if (last === undefined) return;
    const by = { hand: 'by hand', controller: 'by the controller', limit: "by the machine's own time limit" }[
      last.closedBy
    ];
    this.event = `Shutter closed ${by} after ${fixed(last.openS, 1)} s: ${this.layerName(last.layer)} is done.`;
    if (play.phase === 'done') {
      this.#isBest = keepBest(exerciseKey(this.exercisePlayed()), play.score().points);
      this.dispatchEvent(new RehearsedEvent(play.finished.map(({ trueNm }) => trueNm)));
      void this.updateComplete.then(() => this.dialog.querySelector<HTMLElement>('h2')?.focus());
    }
    this.requestUpdate();
  }

  /** What the fields ask for. */
  private asked(layerCount: number): Exercise {
    const { batch } = this.state;
    const layer = this.mishapLayer;
    return {
      ...{ batchId: batch.id, lot: batch.order.lot, side: shownSide(this.state) },
      ...{ mishap: this.mishap, speed: this.speed },
      mishapLayer: layer !== undefined && layer < layerCount ? layer : undefined,
    };
  }

  private exercisePlayed(): Exercise {
    const asked = this.asked(0);
    return {
      ...asked,
      ...this.#played,
      speed: Number.isFinite(this.#slowest) ? this.#slowest : this.speed,
    };
  }

  private bestSoFar() {
    const run = shownRun(this.state);
    const exercise = this.asked(run?.cuts.length ?? 0);
    const best = bestOf(exerciseKey(exercise));
    return html`<span class="small soft">${best === undefined ? 'No score yet' : html`Best so far <b>${fixed(best, 0)}</b> of 1000`}: ${exerciseWords(exercise)}.</span>`;
  }

  private layerName(index: number): string {
    return `layer ${index + 1}, ${this.#run?.cuts[index]?.label ?? ''}`;
  }

  private stage(play: Rehearsal) {
    const leave = html`<button @click=${() => this.stop()}>Leave (Escape)</button>`;
    if (play.phase === 'done')
      return html`<div class="stage">
        <div class="row head"><h2 id="stage-title" tabindex="-1">How it went</h2>${leave}</div>
        <p class="event" role="status">${this.event}</p>
        ${rehearsalReport({
          ...{ play, batch: this.state.batch, surface: shownSurface(this.state), run: this.#run! },
          ...{ exercise: this.exercisePlayed(), isBest: this.#isBest },
        })}
        <div class="row"><button class="main" @click=${() => this.start()}>Once more</button></div>
      </div>`;
    const { readings, phase } = play;
    const index = phase === 'growing' ? play.layer : Math.min(play.layer, play.setup.layers.length - 1);
    const cut = this.#run!.cuts[index]!;
    const isOpen = phase === 'growing';
    const light = isOpen ? readings.light.at(-1)! : undefined;
    const crystal = isOpen ? readings.crystalNm.at(-1)! : undefined;
    const traces = layerTraces(this.#run!).map((trace, at) =>
      isOpen && at === index
        ? { ...trace, readings: { thicknessNm: readings.crystalNm, level: readings.light } }
        : trace,
    );
    return html`<div class="stage">
      <div class="row head">
        <h2 id="stage-title">Layer ${index + 1} of ${this.#run!.cuts.length}: ${cut.label}</h2>
        ${this.select(
          'stage-speed',
          'Speed',
          SPEEDS.map((speed) => [String(speed), `${speed} ×`]),
          String(this.speed),
          (value) => {
            this.speed = Number(value);
          },
        )}
        ${leave}
      </div>
      <dl class="dials">
        <div><dt>Signal, ${cut.signal} at ${cut.wavelengthNm} nm</dt><dd>${light === undefined ? '–' : percent(light)}</dd></div>
        <div><dt>${isOptical(play.setup.layers[index]!.rule) ? `Cut by ${RULE_WORDS[cut.rule as CutRule]}, planned at` : `Level at the end (cut by ${RULE_WORDS[cut.rule as CutRule]})`}</dt><dd>${percent(cut.endLevel)}</dd></div>
        <div><dt>Crystal${isOpen && readings.crystalFailed ? ' FAILED, by clock' : ''}, of ${fixed(cut.thicknessNm, 1)} nm${!isOpen || readings.crystalLeftHz === undefined ? '' : `; ${fixed(readings.crystalLeftHz / 1000, 0)} kHz left`}</dt><dd>${crystal === undefined ? '–' : `${fixed(crystal, 1)} nm`}</dd></div>
        <div><dt>Open, of about ${fixed(cut.timeS, 0)} s</dt><dd>${isOpen ? fixed(readings.timeS.at(-1)!, 0) : '0'} s</dd></div>
      </dl>
      <cw-monitor-trace bare .layers=${traces} .only=${index} .playhead=${crystal} .label=${'Signal of this layer, live'}></cw-monitor-trace>
      <button class="shutter main" @click=${() => this.shutter()}>${isOpen ? 'Close the shutter' : 'Open the shutter'} (space bar)</button>
      <p class="event" role="status">${this.event}</p>
    </div>`;
  }
}
