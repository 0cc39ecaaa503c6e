import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkBatch } from '../../src/batch/check-batch.ts';
import type { Batch } from '../../src/batch/document.ts';
import { rowWords } from '../../src/batch/plan/load-rows.ts';
import { planPlaces } from '../../src/batch/plan/places-plan.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { planTables } from '../../src/batch/traveller/tables.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

const mixed = edited((batch) => {
  batch.fixture.otherLots = [
    { lot: 'large', quantity: 12, diameterMm: 60 },
    { lot: 'small', quantity: 30, diameterMm: 14 },
  ];
});

describe('lots that share the carrier', () => {
  const plan = computePlan(mixed);
  const alone = computePlan(eyepiece);

  it('have racks of their own, as many places as their own diameter allows', () => {
    const [large, small] = plan.load.otherLots;
    expect(large!.lensesPerRack).toBeLessThan(plan.load.lensesPerRack);
    expect(small!.lensesPerRack).toBeGreaterThan(plan.load.lensesPerRack);
    expect(plan.load.lensesPerRack).toBe(alone.load.lensesPerRack);
  });

  it('are placed whole, and use the racks that stood idle before more loads are made', () => {
    const held = (lot: string) =>
      plan.lot.rows.reduce(
        (sum, { from, to, racks }) =>
          sum + (to - from + 1) * racks.reduce((all, rack) => all + (rack.lot === lot ? rack.lenses : 0), 0),
        0,
      );
    expect(held(eyepiece.order.lot)).toBe(plan.lot.lensesToStart);
    expect([held('large'), held('small')]).toEqual([12, 30]);
    expect(plan.lot.loads).toBe(alone.lot.loads);
    expect(plan.lot.rows.at(-1)!.to).toBe(plan.lot.loads);
  });

  it('stand in words and in the table of loads', () => {
    expect(rowWords(plan.lot.rows.at(-1)!)).toMatch(/of large.*of small/);
    expect(planTables(mixed, plan).find(({ name }) => name === 'loads')!.csv).toContain(',large,');
  });

  it('make a good lens cheaper where they fill what stood empty', () => {
    if (alone.lot.costPerLens !== undefined)
      expect(plan.lot.costPerLens!).toBeLessThan(alone.lot.costPerLens);
    expect(eyepiece.money).toBeDefined();
  });

  it('leave the film of the order as it is and tell their own', () => {
    const [own] = alone.distributions[0]!.materials;
    const [now] = plan.distributions[0]!.materials;
    expect(now!.atPlaces).toEqual(own!.atPlaces);
    expect(now!.atOtherPlaces.map(({ length }) => length)).toEqual(
      plan.load.otherLots.map(({ places }) => places.length),
    );
  });

  it('each have their loads and the time when they are out', () => {
    const { lots, rows, loads, totalS } = plan.lot;
    expect(lots.map(({ lot }) => lot)).toEqual([eyepiece.order.lot, 'large', 'small']);
    for (const { lot, firstLoad, lastLoad } of lots) {
      const own = rows.filter(({ racks }) => racks.some((rack) => rack.lot === lot));
      expect([firstLoad, lastLoad]).toEqual([own[0]!.from, own.at(-1)!.to]);
    }
    const last = lots.find(({ lastLoad }) => lastLoad === loads)!;
    expect(last.doneS).toBeCloseTo(totalS, 6);
    expect(last.doneAt).toBe(plan.lot.calendar?.at(-1)?.ends);
    const early = computePlan(
      edited((batch) => {
        batch.fixture.otherLots = [{ lot: 'next', quantity: 2000, diameterMm: 20 }];
      }),
    ).lot;
    const [own, next] = early.lots;
    expect(own!.lastLoad).toBe(next!.firstLoad);
    expect(own!.doneS).toBeLessThan(next!.doneS);
  });

  it('have verdicts of their own: a lot of the same lenses those of the order', () => {
    const { diameterMm, clearApertureMm, frontRadiusMm, backRadiusMm } = eyepiece.order.lens;
    const twin = {
      quantity: 20,
      diameterMm,
      clearApertureMm,
      frontRadiusMm: frontRadiusMm!,
      backRadiusMm: backRadiusMm!,
    };
    const batch = edited(({ fixture, process }) => {
      fixture.otherLots = [
        { lot: 'twin', ...twin },
        { lot: 'steep', ...twin, frontRadiusMm: 0.55 * diameterMm },
      ];
      // So thin that curvature decides which edges still meet the drawing.
      process.aimPercent = 2;
    });
    const { verdicts, others } = planPlaces(batch, computePlan(batch));
    expect(others[0]!.verdicts).toEqual(verdicts);
    const good = verdicts.filter(({ centre, edge }) => centre && edge).length;
    expect(good).toBeGreaterThan(0);
    expect(others[1]!.goodPerRack).toBeLessThan(others[0]!.goodPerRack);
  });

  it('of lenses that cannot be are refused by their place', () => {
    const refused = (other: Partial<NonNullable<Batch['fixture']['otherLots']>[number]>) => () =>
      checkBatch(
        edited(({ fixture }) => {
          fixture.otherLots = [{ lot: 'odd', quantity: 1, diameterMm: 20, ...other }];
        }),
      );
    expect(refused({ clearApertureMm: 21 })).toThrow(
      'fixture.otherLots[0].clearApertureMm: 21 mm is above the diameter of 20 mm',
    );
    expect(refused({ backRadiusMm: -9 })).toThrow('fixture.otherLots[0].backRadiusMm: -9 mm is too strong');
  });

  it('too large for the rack, or named twice, are refused by their place', () => {
    expect(() =>
      computePlan(
        edited((batch) => {
          batch.fixture.otherLots = [{ lot: 'huge', quantity: 1, diameterMm: 345 }];
        }),
      ),
    ).toThrow('fixture.otherLots[0].diameterMm: a lens of 345 mm in its holder of 349 mm does not go');
    expect(() =>
      checkBatch(
        edited((batch) => {
          batch.fixture.otherLots = [{ lot: batch.order.lot, quantity: 1, diameterMm: 20 }];
        }),
      ),
    ).toThrow('fixture.otherLots[0].lot: "LW-2611-04" names two lots');
  });

  it('of a million lenses are counted without listing every load', () => {
    const { lot } = computePlan(
      edited((batch) => {
        batch.order.quantity = 1_000_000;
      }),
    );
    expect(lot.rows).toHaveLength(2);
    expect(lot.rows[1]!.to).toBe(lot.loads);
  });
});
