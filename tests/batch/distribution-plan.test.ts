import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { arrivalOnRotatingPlane } from '../../src/chamber/emission.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

describe('the distribution of the eyepiece lens', () => {
  const plan = computePlan(eyepiece);

  it('has every material of each side once', () => {
    expect(plan.distributions.map(({ side }) => side)).toEqual(['front', 'back']);
    for (const { materials } of plan.distributions)
      expect(materials.map(({ material }) => material).sort()).toEqual(
        [...new Set(eyepiece.surfaces.front.layers.map(({ material }) => material))].sort(),
      );
  });

  it('is 1 on the mean of the lens places and deviates by what it says', () => {
    for (const { atPlaces, deviationPercent } of plan.distributions[0]!.materials) {
      const lenses = [...atPlaces].filter((_, index) => plan.load.places[index]!.use === 'lens');
      expect(lenses.reduce((sum, value) => sum + value, 0) / lenses.length).toBeCloseTo(1, 12);
      expect(Math.max(...lenses.map((value) => 100 * Math.abs(value - 1)))).toBeCloseTo(deviationPercent, 12);
    }
  });

  it('thins towards the edge of the convex front more than on the flatter back', () => {
    const [front, back] = plan.distributions;
    expect(front!.edgePercent).toBeLessThan(-1);
    expect(back!.edgePercent).toBeGreaterThan(front!.edgePercent);
    for (const { lens } of front!.materials)
      expect(lens.relative[lens.relative.length >> 1]).toBeCloseTo(1, 12);
  });

  it('of a level planet has on its axis what the closed form of a turning plane says (Holland & Steckelmacher 1952)', () => {
    const level = edited((batch) => {
      batch.fixture.tiltDeg = 0;
    });
    for (const { source, rack, perMassPerMm2 } of computePlan(level).distributions[0]!.materials) {
      const { offsetMm, exponent } = level.chamber.sources.find(({ id }) => id === source)!;
      const { heightMm, carrierRadiusMm } = level.fixture;
      const expected = arrivalOnRotatingPlane(exponent, heightMm, offsetMm, carrierRadiusMm);
      expect((rack.relative[0]! * perMassPerMm2) / expected).toBeCloseTo(1, 8);
    }
  });

  it('changes with the tilt, the source and the height', () => {
    const before = plan.distributions[0]!.deviationPercent;
    const changes: ((batch: Batch) => void)[] = [
      (batch) => {
        batch.fixture.tiltDeg = 35;
      },
      (batch) => {
        batch.chamber.sources[0]!.offsetMm = 100;
      },
      (batch) => {
        batch.fixture.heightMm = 700;
      },
    ];
    for (const change of changes)
      expect(computePlan(edited(change)).distributions[0]!.deviationPercent).not.toBeCloseTo(before, 3);
  });
});

describe('the aim', () => {
  it('scales film, charge and time, and nothing of the stack', () => {
    const aimed = (aimPercent: number) =>
      computePlan(
        edited((batch) => {
          batch.process.aimPercent = aimPercent;
        }),
      );
    const before = aimed(0);
    const after = aimed(2);
    expect(after.surfaces).toEqual(before.surfaces);
    after.runs[0]!.charge.forEach(({ netMassG }, index) => {
      expect(netMassG / before.runs[0]!.charge[index]!.netMassG).toBeCloseTo(1.02, 12);
    });
    expect(after.runs[0]!.totalS).toBeGreaterThan(before.runs[0]!.totalS);
  });
});

describe('a source inside a planet', () => {
  it('is refused with the source named', () => {
    const low = edited((batch) => {
      batch.fixture.heightMm = 40;
    });
    expect(() => computePlan(low)).toThrow(
      /^chamber\.sources\[0\]: a planet comes within [\d.]+ mm of the source/,
    );
  });

  it('or a rack that dips to the sources is refused at the height of the racks', () => {
    const low = edited((batch) => {
      batch.fixture.heightMm = 52;
    });
    expect(() => computePlan(low)).toThrow(
      /^fixture\.heightMm: [\d.]+ mm from the axis the rack dips to -?[\d.]+ mm, not above the source at 0 mm/,
    );
  });
});
