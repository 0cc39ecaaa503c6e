import { html, nothing, type TemplateResult } from 'lit';
import { dayText } from '../../../base/day-text.ts';
import { counted, fixed, listed, significant } from '../../../base/format.ts';
import { convertKnownUnit } from '../../../base/known-units.ts';
import type { Batch } from '../../../batch/document.ts';
import { goodLensWords } from '../../../batch/plan/lot-cost.ts';
import { calendarHours } from '../../../batch/plan/lot-plan.ts';
import { lotRuns } from '../../../batch/plan/lot-runs.ts';
import type { LotPlan, Plan, RunPlan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/line-chart/cw-line-chart.ts';
import '../../../elements/run-timeline/cw-run-timeline.ts';
import type { TimelineStep } from '../../../elements/run-timeline/timeline-layout.ts';
import type { BenchState } from '../../bench-state.ts';
import { costNow } from '../cost-now.ts';

/** The pressure from the start of pumping, on a scale of decades, that before the last edit faint behind. */
export function pressureChart(run: RunPlan, before: RunPlan | undefined, unit: string): TemplateResult {
  const shown = convertKnownUnit(1, 'Pa', unit) === undefined ? 'Pa' : unit;
  const factor = convertKnownUnit(1, 'Pa', shown) ?? 1;
  const line = ({ pressure }: RunPlan) => ({
    name: 'pressure',
    x: pressure.timeS.map((timeS) => timeS / 60),
    y: pressure.pressurePa.map((pressurePa) => factor * pressurePa),
  });
  const old = before === undefined || before === run ? [] : [{ ...line(before), ghost: true }];
  return html`<cw-line-chart
    label="Pressure while pumping"
    file-name="pump-down"
    .series=${[line(run), ...old]}
    .xAxis=${{ title: 'Time of pumping', unit: 'min' }}
    .yAxis=${{ title: 'Pressure', unit: shown, log: true }}
    .digits=${3}
  ></cw-line-chart>`;
}

/** How each layer wears the crystal and where a fresh one is turned in. */
export function crystalTable({ cuts }: RunPlan, budgetHz: number): TemplateResult | typeof nothing {
  if (cuts.length === 0) return nothing;
  const kHz = (hertz: number) => fixed(hertz / 1000, 1);
  return html`<div class="scroll" tabindex="0" role="group" aria-label="Crystal budget"><table>
    <caption>A crystal may fall by ${kHz(budgetHz)} kHz; it is changed between layers, never within one. ${crystalWords(cuts)}</caption>
    <thead><tr><th>Layer</th><th class="figure">Falls by / kHz</th><th class="figure">Left / kHz</th><th>Before it</th></tr></thead>
    <tbody>${cuts.map(
      ({ label, crystalDropHz, crystalLeftHz, freshCrystal }, index) => html`<tr>
        <th scope="row">${index + 1} ${label}</th>
        <td class="figure">${kHz(crystalDropHz)}</td>
        <td class="figure">${crystalLeftHz < 0 ? html`<b class="said">${kHz(crystalLeftHz)}</b>` : kHz(crystalLeftHz)}</td>
        <td>${freshCrystal ? 'fresh crystal' : index === 0 ? 'first crystal' : ''}</td>
      </tr>`,
    )}</tbody>
  </table></div>`;
}

/** Where the crystals of a run are changed, in words. */
export function crystalWords(cuts: RunPlan['cuts']): string {
  const changes = cuts.flatMap(({ freshCrystal }, index) =>
    freshCrystal ? [`between layers ${index} and ${index + 1}`] : [],
  );
  if (changes.length === 0) return 'A fresh one lasts for the whole run.';
  return `A run begins with a fresh one and changes it ${listed(changes)}.`;
}

/** What the lot takes out of each pocket and when it is filled up. */
export function refillTable({ pockets, runs }: LotPlan): TemplateResult | typeof nothing {
  if (pockets.length === 0) return nothing;
  return html`<div class="scroll" tabindex="0" role="group" aria-label="Pockets over the lot"><table>
    <caption>Pockets over the lot of ${counted(runs, 'run')}; filled up between runs, as late as the reserve allows.</caption>
    <thead><tr><th>Material</th><th>Source</th><th class="figure">Pockets hold</th><th class="figure">Used a run</th><th class="figure">Stays in</th><th class="figure">Used by the lot</th><th>Fill up before run</th></tr></thead>
    <tbody>${pockets.map(
      ({ label, source, pockets: count, capacityG, perRunG, leastG, totalG, refillBeforeRun }) => html`<tr>
        <th scope="row">${label}</th>
        <td>${source}, ${counted(count, 'pocket')}</td>
        <td class="figure">${significant(capacityG)} g</td>
        <td class="figure">${significant(perRunG)} g</td>
        <td class="figure">${significant(leastG)} g</td>
        <td class="figure">${significant(totalG)} g</td>
        <td>${refillBeforeRun.length > 12 ? `every ${refillBeforeRun[1]! - refillBeforeRun[0]!} runs` : refillBeforeRun.join(', ')}</td>
      </tr>`,
    )}</tbody>
  </table></div>`;
}

/** The cost of the lot and of a good lens, part by part, and which lenses it counts as lost. */
export function costTable(
  state: BenchState,
  withoutPrice: readonly string[],
): TemplateResult | typeof nothing {
  const now = costNow(state);
  const costing = state.plan?.lot.costing;
  if (now === undefined || costing === undefined) return nothing;
  const { costed, currency, goodShare, isUpdating } = now;
  const said =
    goodShare === undefined
      ? html`Counted as lost: the order's reserve, until the yield is computed${isUpdating ? ' (it is being computed)' : ''}.`
      : html`${goodLensWords(costing, goodShare)}${isUpdating ? html` <b>Updating.</b>` : nothing}`;
  const unpriced =
    withoutPrice.length === 0
      ? nothing
      : html`<p class="small soft">No price is given for ${withoutPrice.join(', ')}: counted as nothing.</p>`;
  if (costed === undefined) return html`<p>${said}</p>${unpriced}`;
  const { cost, lostLenses, deliveredLenses } = costed;
  const parts: readonly (readonly [string, number])[] = [
    ['Machine', cost.machine],
    ['Labour', cost.labour],
    ['Material', cost.material],
    ['Crystals', cost.crystals],
    [
      `${fixed(lostLenses, 1)} lenses lost, by the ${costed.by === 'yield' ? 'computed yield' : "order's reserve"}`,
      cost.scrap,
    ],
  ];
  return html`<p>${said}</p>
    <div class="scroll" tabindex="0" role="group" aria-label="Cost by parts"><table class=${isUpdating ? 'soft' : ''}>
      <thead><tr><th>Part</th><th class="figure">Lot / ${currency}</th><th class="figure">A good lens / ${currency}</th></tr></thead>
      <tbody>${parts.map(([name, value]) => html`<tr><th scope="row">${name}</th><td class="figure">${fixed(value, 2)}</td><td class="figure">${fixed(value / deliveredLenses, 3)}</td></tr>`)}</tbody>
      <tfoot><tr><th scope="row">In all</th><td class="figure"><b>${fixed(cost.total, 2)}</b></td><td class="figure"><b>${fixed(cost.perGoodLens, 3)}</b></td></tr></tfoot>
    </table></div>
    ${unpriced}`;
}

const dayOf = (time: string) => time.slice(0, 10);
const clockOf = (time: string) => time.slice(11);

/** The runs of the lot on the shop's shifts: a lane a day, then the list. */
export function calendarPicture(batch: Batch, plan: Plan): TemplateResult | typeof nothing {
  const { calendar } = plan.lot;
  if (calendar === undefined || calendar.length === 0) return nothing;
  const secondsOf = (time: string) => Date.parse(`${time}Z`) / 1000;
  const midnight = (time: string) => secondsOf(`${dayOf(time)}T00:00`);
  const earliest = Math.min(...calendar.map(({ begins }) => secondsOf(begins) - midnight(begins)));
  const steps = calendar.map(
    ({ label, begins, ends }, index): TimelineStep => ({
      id: `run-${index + 1}`,
      label: `${index + 1}: ${label}`,
      kind: 'deposit',
      lane: dayText(begins),
      startS: secondsOf(begins) - midnight(begins) - earliest,
      durationS: secondsOf(ends) - secondsOf(begins),
    }),
  );
  const last = calendar.at(-1)!;
  const deeds = lotRuns(batch, plan);
  return html`
    <p>The lot is done on <b>${dayText(last.ends)} at ${clockOf(last.ends)}</b>, ${fixed(calendarHours(calendar), 1)} h after its first run begins.</p>
    <cw-run-timeline .steps=${steps} .clockS=${earliest} label="The lot's runs, day by day"></cw-run-timeline>
    <details><summary>${counted(calendar.length, 'run')} with their times</summary>
      <div class="scroll" tabindex="0" role="group" aria-label="The lot's calendar"><table>
        <thead><tr><th>Run</th><th>Day</th><th class="figure">Loading</th><th class="figure">Alone from</th><th class="figure">Unloading</th><th class="figure">Done</th><th>Fill up before it</th><th>After it</th></tr></thead>
        <tbody>${calendar.map(
          ({ label, begins, aloneFrom, unloadFrom, ends }, index) => html`<tr>
            <th scope="row">${index + 1}: ${label}</th>
            <td>${dayText(begins)}</td>
            <td class="figure">${clockOf(begins)}</td>
            <td class="figure">${clockOf(aloneFrom)}</td>
            <td class="figure">${clockOf(unloadFrom)}${dayOf(unloadFrom) === dayOf(begins) ? '' : `, ${dayText(unloadFrom)}`}</td>
            <td class="figure">${clockOf(ends)}</td>
            <td>${deeds[index]!.refills.join(', ')}</td>
            <td>${deeds[index]!.isCleanedAfter ? 'clean, change liners' : ''}</td>
          </tr>`,
        )}</tbody>
      </table></div>
    </details>
  `;
}
