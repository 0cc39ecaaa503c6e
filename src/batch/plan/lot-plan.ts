import { S_PER_H, S_PER_MIN } from '../../base/constants.ts';
import { InputError } from '../../base/errors.ts';
import { type CalendarEntry, type CalendarRun, planCalendar } from '../../chamber/calendar.ts';
import { planMaterial } from '../../chamber/material-use.ts';
import type { Batch } from '../document.ts';
import { processOf } from './film-facts.ts';
import { lensesOfLoad, loadRows, loadsOf, orderShareOf } from './load-rows.ts';
import { costLot, lotCosting } from './lot-cost.ts';
import type { ChargePlan, LoadPlan, LoadRow, LotDone, LotPlan, PocketUse, RunPlan } from './plan-types.ts';
import { within } from './within.ts';

/**
 * The whole lot: loads, runs, hours, material with its refills, the calendar where the batch holds shifts and the
 * cost of a lens where it holds prices. A load goes through the chamber once for each coated side; the last load
 * may be part full, but takes a whole run.
 * @throws InputError where no place is left for a lens, or no shift can hold a run.
 */
export function planLot(document: Batch, load: LoadPlan, runs: readonly RunPlan[]): LotPlan {
  const { quantity, rejectReservePercent } = document.order;
  if (load.lensesPerLoad === 0)
    throw new InputError(
      'fixture.witnessesPerRack',
      'the witness pieces leave no place for a lens on the rack',
    );
  const lensesToStart = Math.ceil(quantity * (1 + rejectReservePercent / 100) - 1e-9);
  const ownLot = document.order.lot || 'own';
  const loads = loadsOf(load, ownLot, lensesToStart);
  const rows = loadRows(load, ownLot, lensesToStart, loads);
  const runCount = loads * runs.length;
  const cleanings = Math.floor(Math.max(0, runCount - 1) / document.process.cleanEveryRuns);
  const perLoadS = runs.reduce((sum, run) => sum + run.totalS, 0);
  const totalS = loads * perLoadS + cleanings * document.process.cleanMin * S_PER_MIN;
  const chargeG = loads * runs.flatMap(({ charge }) => charge).reduce((sum, { massG }) => sum + massG, 0);
  const crystals = loads * runs.reduce((sum, run) => sum + crystalsOf(run), 0);
  const calendar = document.calendar === undefined ? undefined : calendarOf(document, loads, runs);
  const orderShare = orderShareOf(load, lensesToStart);
  const costing = lotCosting(document, { totalS, loads, lensesToStart, crystals, orderShare }, runs);
  const cost = costing === undefined ? undefined : costLot(costing)?.cost;
  return {
    lensesToStart,
    loads,
    runs: runCount,
    rows,
    orderShare,
    lensesInLastLoad: lensesOfLoad(rows, loads),
    totalS,
    chargeG,
    crystals,
    pockets: pocketsOf(document, loads, runs),
    lots: lotsDone(document, rows, perLoadS, runs.length, calendar),
    ...(calendar === undefined ? {} : { calendar }),
    ...(costing === undefined ? {} : { costing }),
    ...(cost === undefined
      ? {}
      : { cost, costPerLens: cost.perGoodLens, currency: document.money?.currency ?? '' }),
  };
}

/** When each lot on the carrier goes in and when the last of it is out. */
function lotsDone(
  document: Batch,
  rows: readonly LoadRow[],
  perLoadS: number,
  runsPerLoad: number,
  calendar: readonly CalendarEntry[] | undefined,
): LotDone[] {
  const names = [...new Set(rows.flatMap(({ racks }) => racks.map(({ lot }) => lot)))];
  return names
    .filter((lot) => lot !== '')
    .map((lot) => {
      const own = rows.filter(({ racks }) => racks.some((rack) => rack.lot === lot));
      const lastLoad = own.at(-1)!.to;
      const runsDone = lastLoad * runsPerLoad;
      const cleanings = Math.floor(Math.max(0, runsDone - 1) / document.process.cleanEveryRuns);
      const doneAt = calendar?.[runsDone - 1]?.ends;
      return {
        lot,
        firstLoad: own[0]!.from,
        lastLoad,
        doneS: lastLoad * perLoadS + cleanings * document.process.cleanMin * S_PER_MIN,
        ...(doneAt === undefined ? {} : { doneAt }),
      };
    });
}

/** Crystals that a run begins with or changes to: a fresh one at its beginning, and one more for each change. */
function crystalsOf({ cuts }: RunPlan): number {
  if (cuts.length === 0) return 0;
  return 1 + cuts.filter(({ freshCrystal }) => freshCrystal).length;
}

/**
 * Every material's pockets at each of its sources over the lot, filled up between runs as late as the reserve allows. Where sides take
 * different masses of one material, the larger counts, so that it never runs short.
 */
function pocketsOf(document: Batch, loads: number, runs: readonly RunPlan[]): PocketUse[] {
  const keyOf = ({ material, source }: ChargePlan) => `${material} ${source}`;
  const keys = [...new Set(runs.flatMap(({ charge }) => charge.map(keyOf)))];
  return keys.map((key) => {
    const users = runs.flatMap(({ charge }, index) =>
      charge.filter((item) => keyOf(item) === key).map((item) => ({ ...item, index })),
    );
    const { material } = users[0]!;
    const most = users.reduce((largest, item) => (item.massG > largest.massG ? item : largest));
    const capacityG = most.pockets * most.pocketG;
    const leastG = (most.netMassG * processOf(document, material).chargeReservePercent) / 100;
    const [planned] = planMaterial(
      [{ material, pocket: material, massG: most.netMassG }],
      loads * users.length,
      { [material]: { capacityG, leastG: Math.min(leastG, 0.999 * capacityG) } },
    );
    const runOfUse = (use: number) =>
      Math.floor((use - 1) / users.length) * runs.length + users[(use - 1) % users.length]!.index + 1;
    return {
      material,
      label: most.label,
      source: most.source,
      pockets: most.pockets,
      capacityG,
      leastG,
      perRunG: most.netMassG,
      totalG: users.reduce((sum, { netMassG }) => sum + loads * netMassG, 0),
      refillBeforeRun: planned!.refillBeforeRun.map(runOfUse),
    };
  });
}

/** The runs on the shop's shifts, load by load, its sides one after the other. */
function calendarOf(document: Batch, loads: number, runs: readonly RunPlan[]): CalendarEntry[] {
  const { calendar, process } = document;
  if (calendar === undefined) return [];
  const count = loads * runs.length;
  const described = Array.from({ length: count }, (_, index): CalendarRun => {
    const run = runs[index % runs.length]!;
    const beginS = process.loadMin * S_PER_MIN;
    const handsS = (process.ventMin + process.unloadMin) * S_PER_MIN;
    return {
      label: `Load ${Math.floor(index / runs.length) + 1}, ${run.side}`,
      beginS,
      aloneS: Math.max(0, run.totalS - beginS - handsS),
      endS: handsS + (isCleanedAfter(document, index + 1, count) ? process.cleanMin * S_PER_MIN : 0),
    };
  });
  return within('calendar', () => planCalendar({ ...calendar, runs: described }));
}

/** Whether the chamber is cleaned after the run of this number (from 1); after the last one that is the next lot's affair. */
export function isCleanedAfter({ process }: Batch, run: number, runs: number): boolean {
  return process.cleanMin > 0 && run < runs && run % process.cleanEveryRuns === 0;
}

/** Hours between the first beginning and the last end of a calendar. */
export function calendarHours(calendar: NonNullable<LotPlan['calendar']>): number {
  const first = calendar[0];
  const last = calendar.at(-1);
  if (first === undefined || last === undefined) return 0;
  return (Date.parse(`${last.ends}Z`) - Date.parse(`${first.begins}Z`)) / 1000 / S_PER_H;
}
