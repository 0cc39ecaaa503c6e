import { css, html, nothing, type PropertyValues } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { dayText } from '../../../base/day-text.ts';
import { counted, duration, fixed } from '../../../base/format.ts';
import type { Batch } from '../../../batch/document.ts';
import { motionKindOf } from '../../../batch/plan/load-motion.ts';
import type { Trial, TrialResult } from '../../../batch/plan/ways.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityChangeEvent } from '../../../elements/quantity-field/quantity-events.ts';
import { PanelRun } from '../../panel-run.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';

interface Answer {
  readonly name: string;
  readonly result: TrialResult | { readonly fault: string };
}

const usualRacks = ({ fixture }: Batch) => Math.max(1, fixture.racks - 1);
const usualRackMm = ({ fixture }: Batch) => Math.round(1.1 * fixture.rackDiameterMm);
const hours = (value: number) => `${fixed(value, 1)} h`;
const endText = (time: string | undefined) =>
  time === undefined ? '–' : `${dayText(time)}, ${time.slice(11)}`;

/** What other rates, pumps or racks would save; nothing of the batch is changed. */
@customElement('app-what-if')
export class WhatIf extends StationElement {
  static override styles = [
    stationStyles,
    css`
      :host {
        display: block;
      }
    `,
  ];

  readonly #ways = new PanelRun<{ ways: readonly Answer['result'][] }>(this, 'ways');
  @state() private rates = 125;
  @state() private pumps = 150;
  @state() private racks: number | undefined;
  @state() private rackDiameterMm: number | undefined;
  @state() private answers: readonly Answer[] = [];
  /** The plan that the answers belong to. */
  private answered: unknown;
  private timer: ReturnType<typeof setTimeout> | undefined;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.timer);
    this.answered = undefined;
  }

  protected override updated(changed: PropertyValues): void {
    const asked = ['rates', 'pumps', 'racks', 'rackDiameterMm'].some((name) => changed.has(name));
    if (!asked && this.state.plan === this.answered) return;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.answer(), 200);
  }

  private async answer(): Promise<void> {
    const { plan, isStale, batch } = this.state;
    if (plan === undefined || isStale) return;
    this.answered = plan;
    const racks = motionKindOf(batch.fixture) === 'planetary' ? (this.racks ?? usualRacks(batch)) : undefined;
    const rackDiameterMm = this.rackDiameterMm ?? usualRackMm(batch);
    const rates = this.rates / 100;
    const pumps = this.pumps / 100;
    const trials: readonly (readonly [string, Trial])[] = [
      [`All rates at ${this.rates} %`, { rates }],
      [`All pumps at ${this.pumps} % of their speed`, { pumps }],
      ...(racks === undefined ? [] : [[counted(racks, 'rack'), { racks }] as const]),
      [`${racks === undefined ? 'A rack' : 'Racks'} of ${rackDiameterMm} mm`, { rackDiameterMm }],
      ['All together', { rates, pumps, ...(racks === undefined ? {} : { racks }), rackDiameterMm }],
    ];
    const answer = await this.#ways.ask({
      batch,
      trials: trials.map(([, trial]) => trial),
    });
    if (answer === undefined) return;
    this.answers = trials.map(([name], index) => ({ name, result: answer.ways[index]! }));
  }

  override render() {
    const { plan, batch } = this.state;
    if (plan === undefined) return nothing;
    const timed = plan.lot.calendar !== undefined;
    const isPlanetary = motionKindOf(batch.fixture) === 'planetary';
    const field = (
      label: string,
      value: number,
      unit: string,
      [min, max]: readonly [number, number],
      take: (value: number) => void,
    ) => html`<cw-quantity-field
      .label=${label}
      .value=${value}
      .unit=${unit}
      .min=${min}
      .max=${max}
      .whole=${unit === ''}
      @cw-quantity-change=${({ value: given }: QuantityChangeEvent) => {
        if (given !== undefined) take(given);
      }}
    ></cw-quantity-field>`;
    const { running, fault } = this.#ways;
    return html`<div class="stack">
      <div class="fields">
        ${field('Rates, of what they are', this.rates, '%', [1, 1000], (value) => (this.rates = value))}
        ${field('Pump speed, of what it is', this.pumps, '%', [1, 1000], (value) => (this.pumps = value))}
        ${isPlanetary ? field('Racks on the carrier', this.racks ?? usualRacks(batch), '', [1, 60], (value) => (this.racks = value)) : nothing}
        ${field(isPlanetary ? 'Diameter of the racks' : 'Diameter of the rack', this.rackDiameterMm ?? usualRackMm(batch), 'mm', [10, 3000], (value) => (this.rackDiameterMm = value))}
      </div>
      <p class="small soft">${running === undefined ? 'Each way is the whole plan computed anew; nothing of the batch is changed.' : 'The other ways are being computed.'}</p>
      ${fault === '' ? nothing : html`<p class="said" role="alert">${fault}</p>`}
      <div class="scroll" tabindex="0" role="group" aria-label="Other ways to run the lot"><table class=${running === undefined ? '' : 'soft'}>
        <thead><tr><th>If</th><th class="figure">Runs</th><th class="figure">A run</th><th class="figure">Lot</th><th class="figure">Hours saved</th>${timed ? html`<th class="figure">Done on the shifts</th><th class="figure">Earlier by</th>` : nothing}</tr></thead>
        <tbody>
          <tr><th scope="row">As planned</th><td class="figure">${plan.lot.runs}</td><td class="figure">${duration(Math.max(0, ...plan.runs.map(({ totalS }) => totalS)))}</td><td class="figure">${duration(plan.lot.totalS)}</td><td class="figure">–</td>${timed ? html`<td class="figure">${endText(plan.lot.calendar?.at(-1)?.ends)}</td><td class="figure">–</td>` : nothing}</tr>
          ${this.answers.map((answer) => this.row(answer))}
        </tbody>
      </table></div>
    </div>`;
  }

  private row({ name, result }: Answer) {
    if ('fault' in result)
      return html`<tr><th scope="row">${name}</th><td colspan="6" class="said">no plan: ${result.fault}</td></tr>`;
    const { runs, perRunS, totalS, savedH, ends, endsEarlierH, warnings } = result;
    return html`<tr>
      <th scope="row">${name}${warnings.map((line) => html`<br /><span class="small soft">${line}</span>`)}</th>
      <td class="figure">${runs}</td>
      <td class="figure">${duration(perRunS)}</td>
      <td class="figure">${duration(totalS)}</td>
      <td class="figure"><b>${hours(savedH)}</b></td>
      ${endsEarlierH === undefined ? nothing : html`<td class="figure">${endText(ends)}</td><td class="figure"><b>${hours(endsEarlierH)}</b></td>`}
    </tr>`;
  }
}
