import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { lotRuns } from '../../src/batch/plan/lot-runs.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { tryWay } from '../../src/batch/plan/ways.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { travellerPage } from '../../src/batch/traveller/traveller-html.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

/** Both sides, three loads, small pockets that want filling up, a crystal that lasts for two layers. */
const busy = edited((batch) => {
  batch.order.quantity = 700;
  batch.process.cleanEveryRuns = 2;
  batch.process.cleanMin = 25;
  for (const source of batch.chamber.sources) source.pocketCm3 = 0.8;
  batch.chamber.crystals.budgetHz = 9000;
  batch.calendar = {
    firstDay: '2026-11-27',
    shifts: [{ fromMin: 360, toMin: 1320 }],
    weekdays: [1, 2, 3, 4, 5],
    aloneOutsideShifts: false,
  };
});
const plan = computePlan(busy);
const runs = lotRuns(busy, plan);

describe('the runs of a lot', () => {
  it('are every load once for each side, the last load with what is left', () => {
    expect(runs.map(({ number, load, side }) => [number, load, side])).toEqual([
      [1, 1, 'front'],
      [2, 1, 'back'],
      [3, 2, 'front'],
      [4, 2, 'back'],
      [5, 3, 'front'],
      [6, 3, 'back'],
    ]);
    // 700 and 5 % of reserve are 735, less two loads of 260.
    expect(runs.map(({ lenses }) => lenses)).toEqual([260, 260, 260, 260, 215, 215]);
  });

  it('are cleaned after every second one, but not after the last', () => {
    expect(runs.map(({ isCleanedAfter }) => isCleanedAfter)).toEqual([
      false,
      true,
      false,
      true,
      false,
      false,
    ]);
    const never = { ...busy, process: { ...busy.process, cleanMin: 0 } };
    expect(lotRuns(never, plan).some(({ isCleanedAfter }) => isCleanedAfter)).toBe(false);
  });

  it('have the cleaning in the calendar: the run ends later by it', () => {
    const minutes = (from: string, to: string) => (Date.parse(`${to}Z`) - Date.parse(`${from}Z`)) / 60_000;
    const [first, second] = runs.map(({ calendar }) => minutes(calendar!.unloadFrom, calendar!.ends));
    expect(first).toBe(busy.process.ventMin + busy.process.unloadMin);
    expect(second).toBe(first! + 25);
  });

  it('go over the weekend where a shift has no room for one more', () => {
    const days = runs.map(({ calendar }) => calendar!.begins.slice(0, 10));
    expect(days[0]).toBe('2026-11-27');
    expect(days.every((day) => day === '2026-11-27' || day >= '2026-11-30')).toBe(true);
    expect(days.at(-1)! >= '2026-11-30').toBe(true);
  });

  it('name what is filled up before them, and where a fresh crystal goes in', () => {
    expect(runs[0]!.refills.join()).toMatch(/\(gun-1\).*\(boat-1\)/);
    expect(runs.slice(1).flatMap(({ refills }) => refills).length).toBeGreaterThan(0);
    for (const { label, source, refillBeforeRun } of plan.lot.pockets)
      expect(
        runs.filter(({ refills }) => refills.includes(`${label} (${source})`)).map(({ number }) => number),
      ).toEqual(refillBeforeRun);
    expect(runs[0]!.crystalBeforeLayers).toEqual([3]);
    expect(plan.lot.crystals).toBe(2 * runs.length);
  });

  it('stand on the traveller with day, times, refills and cleaning, second side included', () => {
    const page = travellerPage(busy, plan, { version: '1', fingerprint: 'f' });
    expect(page).toContain('The lot, run by run');
    for (const { calendar, load, side } of runs) {
      expect(page).toContain(`${load}, ${side}: `);
      expect(page).toContain(calendar!.begins.slice(11));
    }
    expect(page.match(/then clean, change liners: 25 min/g)).toHaveLength(2);
    expect(page).toMatch(/first fill up [^<]*\(gun-1\)[^<]*; fresh crystal before layer 3/);
    expect(page).toContain('The run aims at 5.5 % more than this on the mean lens place');
    expect(page).toContain('Fri 2026-11-27');
    expect(page).not.toMatch(/NaN|undefined/);
    const without = edited((batch) => {
      delete batch.calendar;
    });
    const plain = travellerPage(without, computePlan(without), { version: '1', fingerprint: 'f' });
    expect(plain).toContain('The lot, run by run');
    expect(plain).not.toContain('Alone from');
  });

  it('are thinned on the traveller to those with something to do where there are very many', () => {
    const many = edited((batch) => {
      batch.order.quantity = 12_000;
      batch.process.cleanEveryRuns = 10;
      delete batch.calendar;
    });
    const page = travellerPage(many, computePlan(many), { version: '1', fingerprint: 'f' });
    expect(page).toMatch(/\d+ runs at which nothing is filled up or cleaned are not listed/);
  });
});

describe('another way to run the lot over shifts', () => {
  it('tells when it ends and by how much earlier that is', () => {
    const faster = tryWay(busy, plan, { rackDiameterMm: 520, racks: 4, pumps: 2, rates: 2 });
    if (typeof faster === 'string') throw new Error(faster);
    const before = Date.parse(`${plan.lot.calendar!.at(-1)!.ends}Z`);
    expect(faster.endsEarlierH).toBeCloseTo((before - Date.parse(`${faster.ends}Z`)) / 3_600_000, 9);
    expect(faster.endsEarlierH).toBeGreaterThan(0);
    expect(faster.runs).toBeLessThan(plan.lot.runs);
  });

  it('says nothing of shifts where the batch holds none', () => {
    const plain = edited((batch) => {
      delete batch.calendar;
    });
    expect(tryWay(plain, computePlan(plain), { rates: 2 })).not.toHaveProperty('ends');
  });
});
