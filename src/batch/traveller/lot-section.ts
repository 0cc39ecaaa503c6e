import { dayText } from '../../base/day-text.ts';
import { counted, duration, fixed, listed, significant } from '../../base/format.ts';
import { type Markup, markup } from '../../base/markup.ts';
import type { Batch } from '../document.ts';
import { calendarHours } from '../plan/lot-plan.ts';
import { type LotRun, lotRuns } from '../plan/lot-runs.ts';
import type { Plan } from '../plan/plan-types.ts';

/** More runs than this are not listed one by one, unless something is to be done at them. */
const MOST_LISTED = 60;

/** The runs of the lot for the operator: when each is due, what is filled up before it, what is cleaned after it. */
export function lotSection(batch: Batch, plan: Plan): Markup | undefined {
  const all = lotRuns(batch, plan);
  if (all.length === 0) return undefined;
  const { lot } = plan;
  const timed = lot.calendar !== undefined;
  const isBusy = ({ refills, isCleanedAfter }: LotRun) => refills.length > 0 || isCleanedAfter;
  const shown = all.length <= MOST_LISTED ? all : all.filter(isBusy);
  const left = all.length - shown.length;
  const times = timed
    ? markup`<th>Day</th><th class="n">Load</th><th class="n">Alone</th><th class="n">Unload</th><th class="n">Done</th>`
    : undefined;
  return markup`<h2>The lot, run by run</h2>
<p>${counted(lot.runs, 'run')} of ${counted(lot.loads, 'load')}; ${duration(lot.totalS)} of machine time, cleaning included.${timed ? ` Done on ${dayText(lot.calendar!.at(-1)!.ends)} at ${lot.calendar!.at(-1)!.ends.slice(11)}, ${fixed(calendarHours(lot.calendar!), 1)} h after the first run begins.` : ''} Every run begins with a fresh crystal: ${counted(lot.crystals, 'crystal')} for the lot.</p>
<div class="scroll" tabindex="0" role="group" aria-label="The lot, run by run"><table><thead><tr><td></td><th class="n">Run</th><th>Load</th>${times}<th>Besides</th></tr></thead>
<tbody>${shown.map(
    (run) =>
      markup`<tr><td class="tick"></td><td class="n">${run.number}</td><td>${run.load}, ${run.side}: ${counted(run.lenses, 'lens', 'lenses')}</td>${timed ? timesOf(run) : undefined}<td>${besides(batch, run)}</td></tr>`,
  )}</tbody></table></div>
${left === 0 ? undefined : markup`<p>${counted(left, 'run')} at which nothing is filled up or cleaned are not listed.</p>`}
<p>Pockets when full and what stays in them: ${plan.lot.pockets.map(({ label, source, capacityG, leastG }) => `${label} in ${source}, ${significant(capacityG)} g full, at least ${significant(leastG)} g`).join('; ')}.</p>`;
}

/** What is done before, within and after a run besides coating. */
function besides({ process }: Batch, { refills, crystalBeforeLayers, isCleanedAfter }: LotRun): string {
  const crystals =
    crystalBeforeLayers.length === 0
      ? []
      : [`fresh crystal before layer ${listed(crystalBeforeLayers.map(String))}`];
  return [
    ...(refills.length === 0 ? [] : [`first fill up ${listed(refills)}`]),
    ...crystals,
    ...(isCleanedAfter ? [`then clean, change liners: ${fixed(process.cleanMin, 0)} min`] : []),
  ].join('; ');
}

function timesOf({ calendar }: LotRun): Markup | undefined {
  if (calendar === undefined) return undefined;
  const { begins, aloneFrom, unloadFrom, ends } = calendar;
  const later = (time: string) =>
    time.slice(0, 10) === begins.slice(0, 10) ? time.slice(11) : `${time.slice(11)}, ${dayText(time)}`;
  return markup`<td class="day">${dayText(begins)}</td><td class="n">${begins.slice(11)}</td><td class="n">${later(aloneFrom)}</td><td class="n">${later(unloadFrom)}</td><td class="n">${later(ends)}</td>`;
}
