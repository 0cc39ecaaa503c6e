import { css, html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { counted, fixed } from '../../../base/format.ts';
import { COMMON_FILMS } from '../../../batch/suggest-layers.ts';
import { FORM_NAMES } from '../../../design/missing-forms.ts';
import '../../../elements/spectrum-chart/cw-spectrum-chart.ts';
import type { SpectrumCurve } from '../../../elements/spectrum-chart/spectrum-chart-data.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf, materialLabel, materialsOf } from '../material-words.ts';
import { shownSide, shownSurface, shownSurfacePlan } from '../sides-shown.ts';
import type { Candidate } from './candidate.ts';
import { candidateTable } from './candidate-table.ts';
import type { FormChoice } from './closed-form-stacks.ts';
import { DeskPanel, faultLine } from './desk-panel.ts';
import { setLayers } from './layer-edits.ts';
import { CURVE_COLOURS, spectrumLimits } from './spectrum-view.ts';
import type { Goal } from './stack-desk.ts';
import { pocketsOf } from './task-requests.ts';

/** Finds stacks from the materials at hand, by closed forms or by a search, to be compared and taken. */
@customElement('app-stack-finder')
export class StackFinder extends DeskPanel {
  static override styles = [
    stationStyles,
    css`
      fieldset {
        display: flex;
        flex-wrap: wrap;
        gap: 0 var(--cw-space-4);
        align-items: center;
        min-width: 0;
        margin: 0;
        padding: 0;
        border: 0;
      }
      legend {
        padding: 0;
      }
      legend,
      .field > span {
        color: var(--cw-ink-soft);
        font-size: var(--cw-size-small);
      }
      progress {
        width: 12rem;
        max-width: 100%;
        accent-color: var(--cw-ink);
      }
      .compare {
        display: grid;
        grid-template-columns: minmax(0, 1fr) minmax(0, 1.6fr);
        gap: var(--cw-space-5);
        align-items: start;
      }
      @media (max-width: 62rem) {
        .compare {
          grid-template-columns: minmax(0, 1fr);
        }
      }
      .candidates td,
      .candidates th {
        vertical-align: top;
      }
      .candidates th[scope='row'] {
        position: sticky;
        left: 0;
        min-width: 8em;
        max-width: 12em;
        background: var(--cw-paper);
        color: var(--cw-ink-soft);
        font-weight: 400;
      }
      .candidates th[scope='col'] {
        min-width: 8em;
      }
      .source {
        display: block;
        color: var(--cw-ink-soft);
        font-weight: 400;
      }
      .films {
        margin: 0;
        padding-inline-start: 1.4em;
        white-space: nowrap;
      }
    `,
  ];

  @state() private left: ReadonlySet<Candidate> = new Set();

  override render() {
    const { desk } = this;
    const { batch } = this.state;
    const surface = shownSurface(this.state);
    const pool = this.pool();
    const isRunning = desk.search.state.kind === 'running';
    const nothingAsked = surface.requirements.length === 0;
    const others = materialsOf(['film', 'metal'], batch).filter(({ id }) => !this.offered().includes(id));
    return html`<section class="group" aria-label="Find a stack">
      <div class="head"><h2>Find a stack</h2></div>
      <fieldset>
        <legend>Materials at hand</legend>
        ${this.offered().map((id) => html`<label class="flag"><input type="checkbox" .checked=${pool.includes(id)} @change=${() => this.toggle(id)} />${labelOf(id, batch)}</label>`)}
        <select aria-label="Another material for the search" @change=${this.onAnother}>
          <option value="">another …</option>
          ${others.map((record) => html`<option value=${record.id}>${materialLabel(record)} (${record.id})</option>`)}
        </select>
      </fieldset>
      <div class="fields">
        ${this.wish(
          'Most layers',
          desk.wishes.maxLayers,
          '',
          { min: 1, max: 40, whole: true },
          (maxLayers) => {
            desk.wishes = { ...desk.wishes, maxLayers };
          },
        )}
        ${this.wish(
          'Thinnest layer',
          desk.wishes.minThicknessNm,
          'nm',
          { min: 0.1, max: 1000 },
          (minThicknessNm) => {
            desk.wishes = { ...desk.wishes, minThicknessNm };
          },
        )}
        ${this.wish('Thickest stack', desk.wishes.maxTotalNm, 'nm', { min: 10, max: 1e5 }, (maxTotalNm) => {
          desk.wishes = { ...desk.wishes, maxTotalNm };
        })}
        ${this.wish('Seed of the search', desk.wishes.seed, '', { min: 0, max: 1e9, whole: true }, (seed) => {
          desk.wishes = { ...desk.wishes, seed };
        })}
        <label class="field"><span>First comes</span>
          <select .value=${desk.goal} @change=${this.onGoal}>
            <option value="lowest" ?selected=${desk.goal === 'lowest'}>the best as planned</option>
            <option value="robust" ?selected=${desk.goal === 'robust'}>the most robust (highest yield)</option>
          </select>
        </label>
      </div>
      <p class="small soft">At most ${counted(pocketsOf(batch), 'material')} in one stack: as many as the chamber's sources have pockets.</p>
      <div class="row">
        <button class="main" ?disabled=${isRunning || pool.length === 0 || nothingAsked} @click=${() => void desk.find(this.state, pool)}>Search</button>
        <button ?disabled=${isRunning || pool.length === 0} @click=${() => desk.suggest(this.state, pool)}>Suggest from closed forms</button>
        <select aria-label="Which closed forms" .value=${desk.forms} @change=${this.onForms}>
          <option value="each" ?selected=${desk.forms === 'each'}>the best of each kind</option>
          ${Object.entries(FORM_NAMES).map(([kind, name]) => html`<option value=${kind} ?selected=${kind === desk.forms}>all: ${name.toLowerCase()}</option>`)}
        </select>
        <button ?disabled=${isRunning || nothingAsked || surface.layers.length === 0} @click=${() => void desk.refine(this.bench)}>Refine thicknesses</button>
        ${nothingAsked ? html`<span class="small soft">State a requirement at the order first: it is what a search aims at.</span>` : nothing}
      </div>
      <div role="status" class="stack">${this.progress()}${faultLine(desk.search.state)}${desk.note === '' ? nothing : html`<p>${desk.note}</p>`}</div>
      ${this.results()}
    </section>`;
  }

  private progress() {
    const { desk } = this;
    const { state: now } = desk.search;
    if (now.kind === 'stopped') return html`<p>The search was stopped; nothing was changed.</p>`;
    if (now.kind !== 'running') return nothing;
    return html`<div class="row">
      <progress max="1" .value=${now.fraction} aria-label="Progress of the search"></progress>
      <span class="small soft">${now.doing}, ${fixed(100 * now.fraction, 0)} %</span>
      <button @click=${() => desk.search.cancel()}>Stop</button>
    </div>`;
  }

  private results() {
    const { desk } = this;
    const { found } = desk;
    const present = shownSurfacePlan(this.state);
    if (found === undefined || present === undefined) return nothing;
    const { candidates, how, warnings } = found;
    if (candidates.length === 0)
      return html`${warnings.map((warning) => html`<p>${warning}</p>`)}<p class="empty">No closed form fits this glass with these materials: allow more of them.</p>`;
    const shown = candidates.filter((candidate) => !this.left.has(candidate));
    const now = desk.search.state;
    const took = now.kind === 'answered' && how !== 'closed forms' ? `, ${fixed(now.tookS, 1)} s` : '';
    return html`
      ${warnings.map((warning) => html`<p>${warning}</p>`)}
      <p class="small soft">${counted(candidates.length, 'stack')} from ${how}${took}.</p>
      ${found.requirements === shownSurface(this.state).requirements ? nothing : html`<p class="said">The requirements have been changed since these stacks were found; search again.</p>`}
      ${faultLine(desk.yields.state)}
      <div class="compare">
        <cw-spectrum-chart
          .curves=${[presentCurve(present), ...shown.map((candidate) => curveOf(candidate, candidates.indexOf(candidate)))]}
          .limits=${spectrumLimits(shownSurface(this.state).requirements, present)}
          .maxPercent=${scaleTop(candidates, present)}
          .label=${'Reflectance of the found stacks'}
          .fileName=${`${this.state.batch.id}-stacks`}
        ></cw-spectrum-chart>
        ${candidateTable({
          batch: this.state.batch,
          found,
          isShown: (candidate) => !this.left.has(candidate),
          onShow: (candidate) => {
            const hidden = new Set(this.left);
            if (!hidden.delete(candidate)) hidden.add(candidate);
            this.left = hidden;
          },
          onTake: ({ name, layers, form }) => {
            const side = shownSide(this.state);
            const words = form === undefined ? `${name}, from a search` : form.kind.toLowerCase();
            this.bench.edit(setLayers(side, layers, `Stack of the ${side}: ${words}`));
          },
        })}
      </div>`;
  }

  /** The materials with process settings and those in use; a batch without any is offered the usual ones. */
  private offered(): string[] {
    const { surfaces, process } = this.state.batch;
    const back = typeof surfaces.back === 'object' ? surfaces.back.layers : [];
    const used = [...surfaces.front.layers, ...back].map(({ material }) => material);
    const set = [...used, ...Object.keys(process.materials)];
    return [...new Set([...(set.length < 2 ? [...set, ...COMMON_FILMS] : set), ...(this.desk.pool ?? [])])];
  }

  private pool(): string[] {
    const { pool } = this.desk;
    return this.offered().filter((id) => pool?.has(id) ?? true);
  }

  private toggle(id: string): void {
    const pool = new Set(this.pool());
    if (!pool.delete(id)) pool.add(id);
    this.desk.pool = pool;
    this.desk.changed();
  }

  private readonly onAnother = (event: Event): void => {
    const select = event.target as HTMLSelectElement;
    if (select.value !== '') this.desk.pool = new Set([...this.pool(), select.value]);
    select.value = '';
    this.desk.changed();
  };

  private readonly onForms = (event: Event): void => {
    this.desk.forms = (event.target as HTMLSelectElement).value as FormChoice;
    this.desk.suggest(this.state, this.pool());
  };

  private readonly onGoal = (event: Event): void => {
    this.desk.goal = (event.target as HTMLSelectElement).value as Goal;
    this.desk.sort();
  };
}

/** The first angle's reflectance of a stack. */
function curveOf({ name, plan }: Pick<Candidate, 'name' | 'plan'>, place: number): SpectrumCurve {
  return {
    name,
    wavelengthNm: plan.wavelengthNm,
    values: plan.curves[0]!.mean.R,
    colour: CURVE_COLOURS[place % CURVE_COLOURS.length]!,
  };
}

function presentCurve(plan: Candidate['plan']): SpectrumCurve {
  return { ...curveOf({ name: 'the present stack', plan }, 5), dash: 'dotted' };
}

/** Top of the scale in percent: what the stacks reflect beyond the bands must not flatten what they do within. */
function scaleTop(candidates: readonly Candidate[], present: Candidate['plan']): number {
  const limits = present.requirements.map(({ limitPercent, sense }) =>
    sense === 'below' ? limitPercent : 0,
  );
  const values = candidates.flatMap(({ plan }) => plan.requirements.map(({ valuePercent }) => valuePercent));
  const least = 2.5 * Math.max(...limits, ...values, 0.1);
  return Number(Math.min(100, least).toPrecision(2));
}
