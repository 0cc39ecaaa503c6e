import { css, html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { clock, counted, duration, significant } from '../../../base/format.ts';
import type { RunPlan, StepPlan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/run-timeline/cw-run-timeline.ts';
import type { StepSelectEvent } from '../../../elements/run-timeline/step-select-event.ts';
import type { Desk } from '../../fields/fields.ts';
import '../../shell/change-line.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { costLabel, costNow, costText } from '../cost-now.ts';
import { shownRun, sidePicker, withoutPlan } from '../sides-shown.ts';
import { calendarFields } from './calendar-fields.ts';
import { chamberFields, materialTable, moneyFields, processFields } from './run-fields.ts';
import { calendarPicture, costTable, crystalTable, pressureChart, refillTable } from './run-sheets.ts';
import './what-if.ts';

/** Run: what happens in the chamber from loading to unloading, how long it takes, what has to be weighed in. */
@customElement('app-run-station')
export class RunStation extends StationElement {
  static override styles = [
    stationStyles,
    css`
      :host {
        --sheet-share: 1fr;
        --picture-share: 1.1fr;
      }
      tr.picked {
        background: var(--cw-sheet);
        box-shadow: inset 3px 0 0 var(--cw-ink);
      }
      tr.critical td:first-child b {
        font-weight: 600;
      }
      td b {
        font-weight: 400;
      }
      .cautions {
        margin: 0;
        padding-inline-start: 1.2em;
      }
      .cautions li {
        margin-bottom: var(--cw-space-2);
        max-width: 80ch;
      }
    `,
  ];

  @state() private selected = '';

  override render() {
    const { state: now, bench } = this;
    const desk: Desk = { bench, state: now };
    const run = shownRun(now);
    const before = shownRun(now, 'before');
    return html`<div class="stack">
      <div class="row head"><h1>Run</h1>${sidePicker(desk)}</div>
      <app-change-line .state=${now} .station=${'run'}></app-change-line>
      ${run === undefined ? withoutPlan(now) : html`${this.summary(run)}${this.timeline(run)}`}
      <div class="bench">
        <div class="stack">
          ${run === undefined ? nothing : this.charge(run)}
          <div class="group"><h2>Process</h2>${processFields(desk)}</div>
          <details class="group"><summary><h2>Chamber</h2> <span class="soft small">${now.batch.chamber.name}</span></summary><div class="stack">${chamberFields(desk)}</div></details>
          <div class="group"><h2>Cost</h2>${moneyFields(desk)}${now.plan === undefined ? nothing : costTable(now, this.unpriced())}</div>
        </div>
        <div class="stack">
          ${run === undefined ? nothing : this.steps(run, before)}
          ${run === undefined ? nothing : html`<div class="group"><h2>Pumping</h2>${pressureChart(run, before, now.preferences.pressureUnit)}</div>`}
          ${run === undefined ? nothing : html`<div class="group"><h2>Crystals</h2>${crystalTable(run, now.batch.chamber.crystals.budgetHz)}</div>`}
        </div>
      </div>
      <div class="group"><h2>The lot over the shifts</h2>${calendarFields(desk)}${now.plan === undefined ? nothing : calendarPicture(now.batch, now.plan)}</div>
      <div class="group"><h2>What if</h2><app-what-if .bench=${bench} .state=${now}></app-what-if></div>
      <div class="group"><h2>Materials</h2>${materialTable(desk)}</div>
      ${now.plan === undefined ? nothing : this.cautions(now.plan.cautions, now.plan.warnings)}
    </div>`;
  }

  private summary({ totalS, steps }: RunPlan) {
    const { plan } = this.state;
    const cost = costNow(this.state);
    const sum = (kinds: readonly string[]) =>
      steps.filter(({ kind }) => kinds.includes(kind)).reduce((total, { durationS }) => total + durationS, 0);
    return html`<dl class="facts">
      <div><dt>door to door</dt><dd>${duration(totalS)}</dd></div>
      <div><dt>film growing</dt><dd>${duration(sum(['deposit']))}</dd></div>
      <div><dt>runs for the lot</dt><dd>${plan?.lot.runs ?? '–'}</dd></div>
      <div><dt>whole lot, cleaning included</dt><dd>${plan === undefined ? '–' : duration(plan.lot.totalS)}</dd></div>
      <div><dt>material for the lot</dt><dd>${plan === undefined ? '–' : `${significant(plan.lot.chargeG)} g`}</dd></div>
      ${cost === undefined ? nothing : html`<div><dt>${costLabel(cost)}</dt><dd>${costText(cost)}</dd></div>`}
    </dl>`;
  }

  private charge({ charge }: RunPlan) {
    return html`<div class="group">
      <h2>What to weigh in</h2>
      ${
        charge.length === 0
          ? html`<p class="empty">No layer, so nothing to weigh in yet.</p>`
          : html`<div class="scroll" tabindex="0" role="group" aria-label="What to weigh in"><table>
              <thead><tr><th>Material</th><th>Source</th><th class="figure">Pockets</th><th class="figure">Used</th><th class="figure">With reserve</th></tr></thead>
              <tbody>${charge.map(({ label, source, pockets, netMassG, massG }) => html`<tr><td>${label}</td><td>${source}</td><td class="figure">${pockets}</td><td class="figure">${significant(netMassG)} g</td><td class="figure"><b>${significant(massG)} g</b></td></tr>`)}</tbody>
            </table></div>`
      }
      ${this.state.plan === undefined ? nothing : refillTable(this.state.plan.lot)}
    </div>`;
  }

  /** Materials of the runs that the batch holds no price for. */
  private unpriced(): string[] {
    const { batch, plan } = this.state;
    const charged = new Map(
      plan?.runs.flatMap(({ charge }) => charge.map(({ material, label }) => [material, label] as const)),
    );
    return [...charged]
      .filter(([material]) => batch.process.materials[material]?.pricePerG === undefined)
      .map(([, label]) => label);
  }

  private timeline({ steps }: RunPlan) {
    return html`<cw-run-timeline
      .steps=${steps}
      .critical=${steps.filter(({ critical }) => critical).map(({ id }) => id)}
      .selected=${this.selected}
      @cw-step-select=${({ stepId }: StepSelectEvent) => this.pick(stepId)}
    ></cw-run-timeline>`;
  }

  private pick(id: string): void {
    this.selected = id;
    this.renderRoot.querySelector(`#step-${CSS.escape(id)}`)?.scrollIntoView({ block: 'nearest' });
  }

  private steps({ steps }: RunPlan, before: RunPlan | undefined) {
    const earlier = new Map(before?.steps.map((step) => [step.id, step.durationS]));
    return html`<div class="group">
      <h2>${counted(steps.length, 'step')}, those that set the length in bold</h2>
      <div class="scroll" tabindex="0" role="group" aria-label="Steps of the run"><table>
        <thead><tr><th>Step</th><th class="figure">Starts</th><th class="figure">Takes</th><th>Set by</th></tr></thead>
        <tbody>${steps.map((step) => this.step(step, earlier.get(step.id)))}</tbody>
      </table></div>
    </div>`;
  }

  private step(
    { id, label, startS, durationS, limitedBy, critical }: StepPlan,
    earlierS: number | undefined,
  ) {
    const isMoved = earlierS !== undefined && Math.abs(earlierS - durationS) >= 1;
    return html`<tr id="step-${id}" class="${critical ? 'critical' : ''} ${id === this.selected ? 'picked' : ''}">
      <td><b>${label}</b></td>
      <td class="figure">${clock(startS)}</td>
      <td class="figure">${isMoved ? html`<s class="soft">${duration(earlierS)}</s> ` : nothing}${duration(durationS)}</td>
      <td class="soft">${limitedBy}</td>
    </tr>`;
  }

  private cautions(cautions: readonly string[], warnings: readonly string[]) {
    return html`
      ${warnings.length === 0 ? nothing : html`<div class="group"><h2>To be cleared before the run</h2><ul class="cautions">${warnings.map((line) => html`<li>${line}</li>`)}</ul></div>`}
      <details class="group" open><summary><h2>Cautions</h2></summary><ol class="cautions">${cautions.map((line) => html`<li>${line}</li>`)}</ol></details>
    `;
  }
}
