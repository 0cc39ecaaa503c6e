import { css, html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { counted } from '../../../base/format.ts';
import type { MeasuredSpectrum, RunRecord } from '../../../batch/document.ts';
import { plannedRun } from '../../../batch/run-planned.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { judgeRun } from '../../../inspect/judge-run.ts';
import { choiceField, numberField, textField } from '../../fields/fields.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { certificatePart } from './certificate-part.ts';
import { localMoment, momentOf } from './moment.ts';
import './reading-preview.ts';
import { plannedAndActual, readingFields } from './run-figures.ts';
import './run-trail.ts';
import { RUN_WORDS, signOf } from './verdict-lines.ts';

/** Asks the station to open the run. */
export class RunOpenedEvent extends Event {
  readonly runId: string;

  constructor(runId: string) {
    super('app-run-opened', { bubbles: true, composed: true });
    this.runId = runId;
  }
}

/** One run of the log: a line, and all its fields where it is open. */
@customElement('app-run-entry')
export class RunEntry extends StationElement {
  static override styles = [
    stationStyles,
    css`
      .run {
        display: grid;
        gap: var(--cw-space-3);
        padding-block: var(--cw-space-3);
        border-top: var(--cw-hairline) solid var(--cw-rule);
      }
      .run.open {
        border-left: 4px solid var(--cw-residual);
        padding-left: var(--cw-space-3);
      }
    `,
  ];

  @property({ attribute: false }) run!: RunRecord;
  @property({ type: Boolean }) open = false;

  override render() {
    const { run, open } = this;
    const { batch } = this.state;
    const index = batch.runs.indexOf(run);
    const name = `Run ${run.number}`;
    const remove = () =>
      this.bench.edit({
        name: `${name} removed from the log`,
        recipe: (draft) => void draft.runs.splice(index, 1),
      });
    const verdict = judgeRun(batch, run);
    return html`<div class="run ${open ? 'open' : ''}" role="group" aria-label=${name}>
      <div class="row head">
        <h3>${name}, ${run.side}</h3>
        <span class="small soft">${localMoment(run.startedAt).replace('T', ' ')}</span>
        <span>
          ${open ? nothing : html`<button class="quiet" aria-label="Show ${name}" @click=${() => this.dispatchEvent(new RunOpenedEvent(run.id))}>Show</button>`}
          <button class="quiet" aria-label="Remove ${name} from the log" @click=${remove}>Remove</button>
        </span>
      </div>
      ${
        open
          ? this.fields(run, index, name)
          : html`<span class="small soft">${counted(run.spectra.length, 'spectrum', 'spectra')}${run.spectra.length === 0 ? nothing : html` <cw-verdict .verdict=${signOf(verdict)}>${RUN_WORDS[verdict.kind]}</cw-verdict>`}</span>`
      }
    </div>`;
  }

  private fields(run: RunRecord, index: number, name: string) {
    const path = ['runs', index] as const;
    const { plan } = this.state.outcome;
    return html`<div class="fields">
        ${choiceField(
          this,
          [...path, 'side'],
          'Side',
          [
            ['front', 'front'],
            ['back', 'back'],
          ],
          {
            name: `${name}: side`,
            also: (draft, side) => {
              const record = draft.runs[index]!;
              const planned = plan === undefined ? undefined : plannedRun(this.state.batch, plan, side);
              if (planned === undefined) delete record.planned;
              else record.planned = planned;
            },
          },
        )}
        <div class="field"><label for="started">Started</label><input id="started" type="datetime-local" .value=${live(localMoment(run.startedAt))} @change=${this.onStarted} /></div>
        ${textField(this, [...path, 'operator'], 'Operator, initials', { maxLength: 40 })}
        ${textField(this, [...path, 'note'], 'What happened', { optional: true, lines: 2, maxLength: 4000 })}
      </div>
      ${plannedAndActual(this, run, index)}
      ${readingFields(this, run, index)}
      ${run.spectra.map((spectrum, place) => this.spectrum(index, spectrum, place))}
      ${certificatePart(this, run, index)}
      <app-run-trail .bench=${this.bench} .state=${this.state} .run=${run}></app-run-trail>`;
  }

  private spectrum(index: number, spectrum: MeasuredSpectrum, place: number) {
    const { name, wavelengthNm } = spectrum;
    const path = ['runs', index, 'spectra', place] as const;
    const remove = () =>
      this.bench.edit({
        name: `${name} removed`,
        recipe: (draft) => void draft.runs[index]?.spectra.splice(place, 1),
      });
    return html`<div class="fields" role="group" aria-label=${name}>
      ${textField(this, [...path, 'name'], 'Spectrum', { maxLength: 200 })}
      ${choiceField(this, [...path, 'quantity'], 'Quantity', [
        ['R', 'reflectance'],
        ['T', 'transmittance'],
        ['A', 'absorptance'],
      ])}
      ${numberField(this, [...path, 'incidenceDeg'], 'Measured at')}
      ${textField(this, [...path, 'place'], 'Place in the load, such as rack 2, edge', { optional: true, maxLength: 80 })}
      <div class="field"><span class="small soft">${counted(wavelengthNm.length, 'reading')}</span><button class="quiet" aria-label="Remove ${name}" @click=${remove}>Remove</button></div>
    </div><app-reading-preview .bench=${this.bench} .state=${this.state} .spectrum=${spectrum} .runIndex=${index} .place=${place}></app-reading-preview>`;
  }

  private readonly onStarted = (event: Event): void => {
    const field = event.target as HTMLInputElement;
    const index = this.state.batch.runs.indexOf(this.run);
    const startedAt = momentOf(field.value);
    if (startedAt === undefined) {
      field.value = localMoment(this.run.startedAt);
      return;
    }
    this.bench.edit({
      name: `Run ${this.run.number} started ${field.value.replace('T', ' ')}`,
      recipe: (draft) => {
        draft.runs[index]!.startedAt = startedAt;
      },
    });
  };
}

declare global {
  interface HTMLElementEventMap {
    'app-run-opened': RunOpenedEvent;
  }
}
