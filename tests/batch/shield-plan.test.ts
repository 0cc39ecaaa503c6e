import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkBatch } from '../../src/batch/check-batch.ts';
import type { Batch } from '../../src/batch/document.ts';
import {
  evenOutRequest,
  firstShield,
  isBetter,
  madeShield,
  usedSources,
} from '../../src/batch/plan/even-out-load.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { evenOut } from '../../src/chamber/even-out.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));
const bare = computePlan(eyepiece);
const source = usedSources(eyepiece)[0]!;
const wanted = firstShield(eyepiece, 'one', source);
const found = evenOut(evenOutRequest(eyepiece, bare.load, wanted));

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

const shielded = edited((batch) => {
  batch.chamber.shields = [madeShield(wanted, found.shield)];
});

describe('a shield in the batch', () => {
  const plan = computePlan(shielded);
  const before = bare.distributions[0]!.materials.filter((spread) => spread.source === source);
  const after = plan.distributions[0]!.materials.filter((spread) => spread.source === source);

  it('evens the film of its source on every lens place, and leaves other sources alone', () => {
    expect(isBetter(found.films)).toBe(true);
    checkBatch(shielded);
    after.forEach((spread, index) => {
      expect(spread.shade!.bareDeviationPercent).toBe(before[index]!.deviationPercent);
      expect(spread.deviationPercent).toBeLessThan(0.1 * before[index]!.deviationPercent);
    });
    for (const spread of plan.distributions[0]!.materials)
      if (spread.source !== source) expect(spread.shade).toBeUndefined();
  });

  it('makes charge and run longer by what it takes', () => {
    const taken = after[0]!.shade!.takenPercent;
    expect(taken).toBeGreaterThan(1);
    const massOf = (one: typeof plan) => one.runs[0]!.charge.find((item) => item.source === source)!.netMassG;
    expect(massOf(plan) / massOf(bare)).toBeCloseTo(1 / (1 - taken / 100), 9);
    const timeOf = (one: typeof plan) => one.runs[0]!.cuts.find(({ label }) => label === after[0]!.label)!;
    expect(timeOf(plan).timeS / timeOf(bare).timeS).toBeCloseTo(1 / (1 - taken / 100), 3);
    expect(timeOf(plan).crystalThicknessNm / timeOf(bare).crystalThicknessNm).toBeCloseTo(
      1 / (1 - taken / 100),
      9,
    );
    expect(plan.runs[0]!.totalS).toBeGreaterThan(bare.runs[0]!.totalS);
  });

  it('leaves toolings alone that were measured with it in place', () => {
    const measured = structuredClone(shielded);
    measured.chamber.shields![0]!.inTooling = true;
    const { runs } = computePlan(measured);
    expect(runs[0]!.totalS).toBeCloseTo(bare.runs[0]!.totalS, 6);
  });

  it('that the racks would hit, or that names no source, is refused by its place', () => {
    expect(() =>
      computePlan(
        edited((batch) => {
          batch.chamber.shields = [{ ...madeShield(wanted, found.shield), heightMm: 880 }];
        }),
      ),
    ).toThrow('chamber.shields[0].heightMm: 880 mm is not below 844.4 mm');
    expect(() =>
      checkBatch(
        edited((batch) => {
          batch.chamber.shields = [{ ...madeShield(wanted, found.shield), source: 'gun-9' }];
        }),
      ),
    ).toThrow('chamber.shields[0].source: "gun-9" is no source of this chamber');
  });

  it('before the crystal is said', () => {
    const hidden = structuredClone(shielded);
    hidden.chamber.crystals.offsetMm = 300;
    expect(computePlan(hidden).warnings.some((line) => line.startsWith('A shield hides the crystal'))).toBe(
      true,
    );
  });
});

describe('the holder ring', () => {
  it('has the usual play and ledge where the batch says nothing, as wide as before', () => {
    expect(bare.load.holder).toMatchObject({ outerMm: 36, seatMm: 32.2, openingMm: 30.8, lipMm: 0 });
    expect(bare.load.holderDiameterMm).toBe(36);
  });

  it('with a lip shadows the edge of the lens and not its centre', () => {
    const lipped = computePlan(
      edited((batch) => {
        batch.fixture.holder = { playMm: 0.1, ledgeMm: 0.6, lipMm: 6 };
      }),
    );
    expect(lipped.distributions[0]!.edgePercent).toBeLessThan(bare.distributions[0]!.edgePercent - 0.5);
    expect(lipped.distributions[0]!.materials[0]!.perMassPerMm2).toBe(
      bare.distributions[0]!.materials[0]!.perMassPerMm2,
    );
  });

  it('whose ledge covers the clear aperture is refused', () => {
    expect(() =>
      computePlan(
        edited((batch) => {
          batch.fixture.holder = { playMm: 0.1, ledgeMm: 1.5, lipMm: 0 };
        }),
      ),
    ).toThrow('fixture.holder.ledgeMm: a ledge of 1.5 mm covers part of the clear aperture');
  });
});

describe('a source that stands higher', () => {
  it('is nearer to the racks, which get more of its vapour', () => {
    const raised = computePlan(
      edited((batch) => {
        for (const one of batch.chamber.sources) one.heightMm = 100;
      }),
    );
    expect(raised.distributions[0]!.materials[0]!.perMassPerMm2).toBeGreaterThan(
      bare.distributions[0]!.materials[0]!.perMassPerMm2,
    );
  });

  it('above the racks is refused by its place', () => {
    expect(() =>
      computePlan(
        edited((batch) => {
          batch.chamber.sources[1]!.heightMm = 950;
        }),
      ),
    ).toThrow("chamber.sources[1].heightMm: 950 mm is not below the racks' height of 900 mm");
  });
});
