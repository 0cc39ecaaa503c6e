import { css, html, nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import type { Batch } from '../../batch/document.ts';
import { lotWords } from '../../batch/lot-words.ts';
import { figuresOf } from '../../batch/plan/figures.ts';
import type { Plan } from '../../batch/plan/plan-types.ts';
import '../../elements/spectrum-chart/cw-spectrum-chart.ts';
import { PlanBook } from '../plan-book.ts';
import { routeHref, STATIONS } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { stationStyles } from '../station-styles.ts';
import { FIRST_VIEW, spectrumCurves, spectrumLimits } from '../stations/stack/spectrum-view.ts';
import { type Fact, stationFacts } from '../stations/station-facts.ts';
import type { BatchEntry } from '../storage/storage-port.ts';

interface Other {
  readonly batch: Batch;
  readonly plan: Plan | undefined;
  readonly fault: string | undefined;
}

/** The open batch beside another one: figures, facts of every station, spectra. */
@customElement('app-compare-page')
export class ComparePage extends StationElement {
  static override styles = [
    stationStyles,
    css`
      table {
        table-layout: fixed;
      }
      tbody th {
        font-weight: 400;
      }
      tr.differs td {
        font-weight: 600;
      }
    `,
  ];

  @property({ attribute: false }) withId: string | undefined;
  @state() private entries: readonly BatchEntry[] = [];
  @state() private other: Other | undefined;
  readonly #plans = new PlanBook();

  protected override firstUpdated(): void {
    void this.bench
      .orSay(() => this.bench.shelf.list())
      .then((entries = []) => {
        this.entries = entries;
      });
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('withId')) void this.takeOther();
  }

  override render() {
    const { batch, plan } = this.state;
    const others = this.entries.filter(({ id }) => id !== batch.id);
    const onChange = (event: Event) => {
      const withId = (event.target as HTMLSelectElement).value || undefined;
      location.hash = routeHref({ page: 'compare', batchId: batch.id, withId });
    };
    return html`<div class="stack">
      <div class="row head">
        <h1>Compare</h1>
        <div class="field">
          <label for="with">${batch.order.title} with</label>
          <select id="with" .value=${live(this.withId ?? '')} @change=${onChange}>
            <option value="">choose a batch …</option>
            ${others.map(({ id, title, lot }) => html`<option value=${id} ?selected=${id === this.withId}>${title}${lot === '' ? '' : `, ${lotWords(lot)}`}</option>`)}
          </select>
        </div>
      </div>
      ${this.other === undefined || plan === undefined ? html`<p class="empty">Choose the batch that ${batch.order.title} is to be held against.</p>` : this.comparison(batch, plan, this.other)}
    </div>`;
  }

  private comparison(batch: Batch, plan: Plan, other: Other) {
    if (other.plan === undefined)
      return html`<p class="said">${other.batch.order.title} has no plan: ${other.fault}.</p>`;
    const figures = (one: Plan): Fact[] => figuresOf(one).map(({ label, text }) => ({ name: label, text }));
    const [mine, theirs] = [plan.surfaces[0], other.plan.surfaces[0]];
    return html`
      ${this.table('Figures', figures(plan), figures(other.plan), batch, other.batch)}
      ${
        mine === undefined || theirs === undefined
          ? nothing
          : html`<cw-spectrum-chart
              .curves=${[...spectrumCurves(theirs, undefined, FIRST_VIEW).map((curve) => ({ ...curve, name: `${other.batch.order.title}: ${curve.name}`, dash: 'dashed' as const })), ...spectrumCurves(mine, undefined, FIRST_VIEW).map((curve) => ({ ...curve, name: `${batch.order.title}: ${curve.name}` }))]}
              .limits=${spectrumLimits(batch.surfaces.front.requirements, mine)}
              .label=${'Front surfaces'}
            ></cw-spectrum-chart>`
      }
      ${STATIONS.map((station) => this.table(station[0]!.toUpperCase() + station.slice(1), stationFacts(station, batch, plan), stationFacts(station, other.batch, other.plan!), batch, other.batch))}
    `;
  }

  private table(title: string, mine: readonly Fact[], theirs: readonly Fact[], one: Batch, other: Batch) {
    const their = new Map(theirs.map(({ name, text }) => [name, text]));
    const my = new Map(mine.map(({ name, text }) => [name, text]));
    const names = [...new Set([...my.keys(), ...their.keys()])];
    return html`<div class="group"><h2>${title}</h2><div class="scroll"><table>
      <thead><tr><td></td><th>${one.order.title}</th><th>${other.order.title}</th></tr></thead>
      <tbody>${names.map((name) => {
        const [left, right] = [my.get(name) ?? '–', their.get(name) ?? '–'];
        return html`<tr class=${left === right ? '' : 'differs'}><th scope="row">${name}</th><td>${left}</td><td>${right}</td></tr>`;
      })}</tbody>
    </table></div></div>`;
  }

  private async takeOther(): Promise<void> {
    const id = this.withId;
    this.other = undefined;
    if (id === undefined) return;
    const taken = await this.bench.orSay(() => this.bench.shelf.take(id));
    if (taken?.kind !== 'batch' || id !== this.withId) return;
    const { plan, fault } = this.#plans.of(taken.batch);
    this.other = { batch: taken.batch, plan, fault: fault?.message };
  }
}
