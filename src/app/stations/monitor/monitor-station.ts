import { css, html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { duration, fixed, percent } from '../../../base/format.ts';
import type { Side } from '../../../batch/document.ts';
import type { CutPlan, RunPlan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/monitor-trace/cw-monitor-trace.ts';
import type { TraceAxis } from '../../../elements/monitor-trace/trace-series.ts';
import { CUT_RULES } from '../../../monitor/cut-rule.ts';
import { choiceField, type Desk, flagField, numberField } from '../../fields/fields.ts';
import '../../fields/material-field.ts';
import { downloadText } from '../../download.ts';
import type { MaterialChosenEvent } from '../../fields/material-field.ts';
import { routeHref } from '../../routes.ts';
import '../../shell/change-line.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { shownRun, shownSide, sidePicker, withoutPlan } from '../sides-shown.ts';
import { layerName } from '../stack/layer-edits.ts';
import './choose-panel.ts';
import { cutTableCsv, layerTraces } from './monitor-view.ts';
import './rehearsal-panel.ts';
import type { RehearsedEvent } from './rehearsed-event.ts';
import './rescue-panel.ts';
import { RULE_WORDS } from '../../../monitor/rule-words.ts';
import './virtual-runs.ts';

const RULES = CUT_RULES.map((rule) => [rule, RULE_WORDS[rule]] as const);
const SIGNALS = [
  ['R', 'R'],
  ['T', 'T'],
] as const;

/** Monitor: what the witness's signal will do in every layer, where to cut, and what the crystal will show meanwhile. */
@customElement('app-monitor-station')
export class MonitorStation extends StationElement {
  static override styles = [
    stationStyles,
    css`
      td .flag {
        min-height: 0;
      }
      .note {
        color: var(--cw-watch);
      }
      app-material-field {
        flex: 1 1 14rem;
        max-width: 20rem;
      }
      .turn,
      .layer,
      .under {
        white-space: nowrap;
      }
      .under {
        color: var(--cw-ink-soft);
        font-size: var(--cw-size-small);
      }
      .inside {
        display: grid;
        gap: var(--cw-space-3);
        margin-top: var(--cw-space-3);
      }
      td s {
        color: var(--cw-ink-soft);
      }
    `,
  ];

  @state() private against: TraceAxis = 'thickness';
  /** What the last rehearsal of each side really grew, nm. */
  @state() private rehearsedNm: Readonly<Partial<Record<Side, readonly number[]>>> = {};
  @state() private only: number | undefined;

  override render() {
    const { state: now, bench } = this;
    const desk: Desk = { bench, state: now };
    const run = shownRun(now);
    const before = shownRun(now, 'before');
    return html`<div class="stack">
      <div class="row head"><h1>Monitor</h1>${sidePicker(desk)}</div>
      <app-change-line .state=${now} .station=${'monitor'}></app-change-line>
      ${run === undefined ? withoutPlan(now) : run.cuts.length === 0 ? html`<p class="empty">No layer, so nothing to watch yet. Lay out the stack first.</p>` : this.trace(run, before)}
      ${run === undefined || run.cuts.length === 0 ? nothing : this.cutTable(desk, run, before)}
      ${this.settings(desk)}
      ${
        run === undefined || run.cuts.length === 0
          ? nothing
          : html`<app-virtual-runs .bench=${bench} .state=${now}></app-virtual-runs>
            <app-rehearsal-panel .bench=${bench} .state=${now} @app-rehearsed=${({ thicknessNm }: RehearsedEvent) => this.keepRehearsed(thicknessNm)}></app-rehearsal-panel>
            <app-rescue-panel .bench=${bench} .state=${now} .rehearsedNm=${this.rehearsedNm[shownSide(now)]}></app-rescue-panel>`
      }
    </div>`;
  }

  private trace(run: RunPlan, before: RunPlan | undefined) {
    const axes = [
      ['thickness', 'thickness'],
      ['time', 'time'],
    ] as const;
    const only = this.only !== undefined && this.only < run.cuts.length ? this.only : undefined;
    const onPick = (event: Event) => {
      const { value } = event.target as HTMLSelectElement;
      this.only = value === '' ? undefined : Number(value);
    };
    return html`<div class="stack">
      <div class="row">
        <span role="group" aria-label="Trace against">${axes.map(([axis, words]) => html`<button aria-pressed=${this.against === axis} @click=${() => this.showAgainst(axis)}>against ${words}</button>`)}</span>
        <label class="small soft" for="only">Layers shown</label>
        <select id="only" @change=${onPick}>
          <option value="" ?selected=${only === undefined}>all, end to end</option>
          ${run.cuts.map(({ label }, index) => html`<option value=${index} ?selected=${only === index}>${index + 1} ${label}</option>`)}
        </select>
      </div>
      <cw-monitor-trace
        .layers=${layerTraces(run)}
        .previous=${before === undefined || before === run ? [] : layerTraces(before)}
        .against=${this.against}
        .only=${only}
        .label=${'Predicted signal of the witness'}
        .fileName=${`${this.state.batch.id}-monitor`}
      ></cw-monitor-trace>
    </div>`;
  }

  private keepRehearsed(thicknessNm: readonly number[]): void {
    this.rehearsedNm = { ...this.rehearsedNm, [shownSide(this.state)]: thicknessNm };
  }

  private showAgainst(axis: TraceAxis): void {
    this.against = axis;
  }

  private cutTable(desk: Desk, run: RunPlan, before: RunPlan | undefined) {
    const { cuts } = run;
    const side = shownSide(this.state);
    const earlier = new Map(before?.cuts.map((cut) => [cut.id, cut]));
    return html`<div class="group">
      <div class="head"><h2>Where to cut</h2><a class="small" href=${routeHref({ page: 'cut-table', batchId: this.state.batch.id })}>Cut table to print</a><button class="quiet" @click=${() => downloadText(`${this.state.batch.id}-cut-table.csv`, cutTableCsv(run), 'text/csv')}>Cut table as CSV</button></div>
      <app-choose-panel .bench=${this.bench} .state=${this.state}></app-choose-panel>
      <div class="scroll" tabindex="0" role="group" aria-label="Cut table"><table>
        <thead><tr>
          <th>Layer</th><th>Wavelength</th><th>Signal</th><th>Cut by</th><th>Fresh witness</th>
          <th class="figure">Starts at</th><th>Turning points</th><th class="figure">Cut at</th><th class="figure">Swing</th>
          <th class="figure">Crystal, its fall and what is left</th><th class="figure">Time</th>
        </tr></thead>
        <tbody>${cuts.map((cut, index) => this.cutRow(desk, cut, index, layerName(side, index), earlier.get(cut.id)))}</tbody>
      </table></div>
    </div>`;
  }

  private cutRow(desk: Desk, cut: CutPlan, index: number, name: string, before: CutPlan | undefined) {
    const { monitor } = this.state.batch;
    const path = ['monitor', 'layers', cut.id] as const;
    const cutAt = percent(cut.endLevel);
    const was = before === undefined ? cutAt : percent(before.endLevel);
    return html`<tr>
        <td class="layer">${index + 1} ${cut.label}<div class="under">${fixed(cut.thicknessNm, 1)} nm</div></td>
        <td>${numberField(desk, [...path, 'wavelengthNm'], `${name}: monitoring wavelength`, { compact: true, name: `${name}, monitoring wavelength`, usual: monitor.wavelengthNm })}</td>
        <td>${choiceField(desk, [...path, 'signal'], `${name}: signal`, SIGNALS, { usual: monitor.signal, compact: true })}</td>
        <td>${choiceField(desk, [...path, 'rule'], `${name}: cut by`, RULES, { usual: monitor.rule, compact: true })}</td>
        <td>${flagField(desk, [...path, 'newWitness'], `${name}: fresh witness`, { compact: true })}</td>
        <td class="figure">${percent(cut.startLevel)}</td>
        <td>${cut.turningPoints.length === 0 ? 'none' : cut.turningPoints.map(({ level, thicknessNm }) => html`<div class="turn">${percent(level)} at ${fixed(thicknessNm, 1)} nm</div>`)}</td>
        <td class="figure"><b>${cutAt}</b>${was === cutAt ? nothing : html`<br /><s>${was}</s>`}</td>
        <td class="figure">${fixed(cut.swingPercent, 2)} %</td>
        <td class="figure">${fixed(cut.crystalThicknessNm, 1)} nm<div class="under">${fixed(cut.crystalDropHz, 0)} Hz, ${fixed(cut.crystalLeftHz / 1000, 1)} kHz left</div></td>
        <td class="figure">${duration(cut.timeS)}</td>
      </tr>
      ${cut.note === '' ? nothing : html`<tr><td colspan="11" class="note"><p>${cut.note}</p></td></tr>`}`;
  }

  private settings(desk: Desk) {
    const { bench } = this;
    const { witness } = this.state.batch.monitor;
    const onWitness = ({ material }: MaterialChosenEvent) => {
      bench.edit({
        name: `Witness glass ${witness.material} → ${material}`,
        recipe: (draft) => {
          draft.monitor.witness.material = material;
        },
      });
    };
    const noise = (field: string, label: string) =>
      numberField(desk, ['monitor', 'noise', field], label, { name: `Noise: ${label.toLowerCase()}` });
    const further = (field: string, label: string) =>
      numberField(desk, ['monitor', 'noise', field], label, {
        name: `Noise: ${label.toLowerCase()}`,
        optional: true,
      });
    return html`
      <div class="group">
        <h2>Witness and light</h2>
        <div class="fields">
          <app-material-field label="Witness glass" .bench=${bench} .state=${this.state} .value=${witness.material} .roles=${['substrate']} @app-material-chosen=${onWitness}></app-material-field>
          ${numberField(desk, ['monitor', 'witness', 'thicknessMm'], 'Witness thickness')}
          ${choiceField(desk, ['monitor', 'witness', 'backSurface'], 'Its back surface', [
            ['none', 'reflects nothing (ground, wedged)'],
            ['bare', 'bare and polished'],
          ])}
          ${numberField(desk, ['monitor', 'wavelengthNm'], 'Wavelength, unless a layer has its own', { name: 'Monitoring wavelength' })}
          ${choiceField(desk, ['monitor', 'signal'], 'Signal', [
            ['R', 'reflected'],
            ['T', 'transmitted'],
          ])}
          ${choiceField(desk, ['monitor', 'rule'], 'Cut by', RULES)}
          ${numberField(desk, ['monitor', 'bandwidthNm'], 'Bandwidth', { name: 'Monitoring bandwidth' })}
          ${numberField(desk, ['monitor', 'incidenceDeg'], 'Angle of the light', { name: 'Monitoring angle' })}
        </div>
      </div>
      <details class="group">
        <summary><h2>Noise of machine and instrument</h2></summary>
        <div class="inside">
        <div class="fields">
          ${noise('signalPercent', 'Signal noise')} ${noise('driftPercentPerMin', 'Signal drift')} ${noise('rateNoisePercent', 'Rate noise')}
          ${noise('rateBiasPercent', 'Rate off by')} ${noise('crystalPercent', 'Crystal scatter')} ${noise('shutterDelayS', 'Shutter delay')} ${noise('sampleS', 'Sampled every')}
        </div>
        <p class="small soft">All scatters are one sigma. What is left empty below counts as none.</p>
        <div class="fields">
          ${further('gainPercent', 'Gain error, once a witness')} ${further('rateCorrelationS', 'Rate noise lasts')}
          ${further('rateDecayPercentPerMin', 'Source dies away by')} ${further('spitsPerMin', 'Spits')} ${further('spitNm', 'A spit adds')}
          ${further('toolingPercent', 'Tooling scatter, each layer')} ${further('toolingDriftPercent', 'Tooling drift, layer to layer')}
          ${further('indexPercent', 'Index, off its record by')}
        </div>
        <h3>Crystals as they age</h3>
        <p class="small soft">Holder, frequency and budget stand at the run. A crystal that has used a part of its budget reads off and jitters by that part of the figures here. It is lost once it has used its life, drawn about the average; the display then goes on by set rate and clock, and a fresh one is turned in before the next layer. Shops report lives from well below to twice the budget (common practice, no source): take yours from the run log.</p>
        <div class="fields">
          ${further('crystalLifePercent', 'Life on average, of the budget')} ${further('crystalLifeScatterPercent', 'Life scatters by')}
          ${further('crystalAgedNoiseNm', 'Used up, it jitters by')} ${further('crystalAgedShiftPercent', 'Used up, it reads off by')}
        </div>
        </div>
      </details>
    `;
  }
}
