import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { costLot, goodLensWords } from '../../src/batch/plan/lot-cost.ts';
import { calendarHours } from '../../src/batch/plan/lot-plan.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { tryWay } from '../../src/batch/plan/ways.ts';
import { readBatch, writeBatch } from '../../src/batch/read-batch.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

const twoShifts = {
  firstDay: '2026-11-30',
  shifts: [{ fromMin: 360, toMin: 1320 }],
  weekdays: [1, 2, 3, 4, 5],
  aloneOutsideShifts: false,
};

describe('the lot', () => {
  const { lot, runs } = computePlan(eyepiece);

  it('costs the sum of its parts, shared by the good lenses', () => {
    const { material, machine, labour, crystals, scrap, total } = lot.cost!;
    expect(material + machine + labour + crystals + scrap).toBeCloseTo(total, 9);
    expect(lot.costPerLens).toBeCloseTo(total / eyepiece.order.quantity, 12);
    const hours = lot.totalS / 3600;
    expect(machine).toBeCloseTo(hours * eyepiece.money!.machinePerHour, 9);
    const lost = lot.lensesToStart - eyepiece.order.quantity;
    expect(scrap).toBeCloseTo(lost * eyepiece.money!.lensValue, 6);
  });

  it('costs by the computed yield what the lenses lost and the good ones delivered make of it', () => {
    const costing = lot.costing!;
    const { quantity } = eyepiece.order;
    const reserve = costLot(costing)!;
    expect(reserve).toMatchObject({ by: 'reserve', deliveredLenses: quantity, shortLenses: 0 });
    expect(reserve.cost).toEqual(lot.cost);
    // As many lost as the reserve holds: the same cost, whoever says so.
    const same = costLot(costing, quantity / lot.lensesToStart)!;
    expect(same.by).toBe('yield');
    expect(same.cost.perGoodLens).toBeCloseTo(reserve.cost.perGoodLens, 9);
    // Every lens good: those beyond the order earn nothing, none is lost.
    const all = costLot(costing, 1)!;
    expect(all.cost.scrap).toBe(0);
    expect(all.cost.perGoodLens).toBeCloseTo((reserve.cost.total - reserve.cost.scrap) / quantity, 9);
    // Half of them good: the hours are the same, but half the lenses share them, and the others' worth is lost.
    const half = costLot(costing, 0.5)!;
    expect(half.deliveredLenses).toBeCloseTo(lot.lensesToStart / 2, 9);
    expect(half.shortLenses).toBeCloseTo(quantity - lot.lensesToStart / 2, 9);
    expect(half.cost.scrap).toBeCloseTo((lot.lensesToStart / 2) * eyepiece.money!.lensValue, 6);
    expect(half.cost.perGoodLens).toBeCloseTo(half.cost.total / half.deliveredLenses, 9);
    expect(costLot(costing, 0)).toBeUndefined();
  });

  it('says whether the reserve is enough for the computed yield, and which one would be', () => {
    const costing = { ...lot.costing!, orderedLenses: 100, startedLenses: 105 };
    expect(goodLensWords(costing, 0.97)).toBe(
      'Of 105 lenses started 101 are expected to be good, by the computed yield of 97.0 %: enough for the 100 ordered.',
    );
    expect(goodLensWords(costing, 0.8)).toBe(
      'Of 105 lenses started 84 are expected to be good, by the computed yield of 80.0 %: 16 too few for the 100 ordered. 125 would have to be started, a reserve of 25.0 %.',
    );
    expect(goodLensWords(costing, 0)).toContain('No reserve makes up for that');
  });

  it('fills every material up before the first run and before it falls below the reserve', () => {
    for (const pocket of lot.pockets) {
      expect(pocket.refillBeforeRun[0]).toBe(1);
      let left = 0;
      for (let run = 1; run <= lot.runs; run++) {
        if (pocket.refillBeforeRun.includes(run)) left = pocket.capacityG;
        left -= pocket.perRunG;
        expect(left).toBeGreaterThanOrEqual(pocket.leastG - 1e-9);
      }
      const used = runs
        .flatMap(({ charge }) => charge)
        .filter(({ material }) => material === pocket.material);
      expect(pocket.totalG).toBeCloseTo(lot.loads * used.reduce((sum, { netMassG }) => sum + netMassG, 0), 9);
    }
  });
});

describe('the calendar', () => {
  const planned = computePlan(
    edited((batch) => {
      batch.calendar = twoShifts;
    }),
  );

  it('has every run in order, each inside a shift of a working day', () => {
    const entries = planned.lot.calendar!;
    expect(entries).toHaveLength(planned.lot.runs);
    entries.forEach(({ begins, ends }, index) => {
      expect(begins.slice(11) >= '06:00').toBe(true);
      expect(ends.slice(11) <= '22:00').toBe(true);
      expect(begins.slice(0, 10)).toBe(ends.slice(0, 10));
      expect([0, 6]).not.toContain(new Date(`${begins}Z`).getUTCDay());
      if (index > 0) expect(begins >= entries[index - 1]!.ends).toBe(true);
    });
    expect(calendarHours(entries)).toBeGreaterThan(planned.lot.totalS / 3600 - 1);
  });

  it('is kept in the file', () => {
    const batch = edited((draft) => {
      draft.calendar = twoShifts;
    });
    expect(readBatch(writeBatch(batch)).calendar).toEqual(twoShifts);
  });

  it('whose shift is too short is refused with a sentence', () => {
    const short = edited((batch) => {
      batch.calendar = { ...twoShifts, shifts: [{ fromMin: 360, toMin: 420 }] };
    });
    expect(() => computePlan(short)).toThrow(
      /^calendar\.runs\[0\]: \d+ min with people is above the longest shift of 60 min/,
    );
  });
});

describe('another way to run the lot', () => {
  const plan = computePlan(eyepiece);

  it('as it stands saves nothing', () => {
    expect(tryWay(eyepiece, plan, {})).toMatchObject({ savedH: 0, warnings: [] });
  });

  it('with faster rates or a stronger pump saves hours, with fewer racks costs them', () => {
    expect((tryWay(eyepiece, plan, { rates: 2 }) as { savedH: number }).savedH).toBeGreaterThan(0);
    expect((tryWay(eyepiece, plan, { pumps: 2 }) as { savedH: number }).savedH).toBeGreaterThan(0);
    expect((tryWay(eyepiece, plan, { racks: 2 }) as { savedH: number }).savedH).toBeLessThan(0);
  });

  it('that has no plan says why', () => {
    expect(tryWay(eyepiece, plan, { pumps: 0.001 })).toMatch(/cannot be reached|longer/);
  });
});
