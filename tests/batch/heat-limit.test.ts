import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { heatLimit, heatLimitWords } from '../../src/batch/plan/heat-limit.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

const heatStep = (batch: Batch) => computePlan(batch).runs[0]!.steps.find(({ kind }) => kind === 'heat')!;

describe('how fast the glass may be heated', () => {
  it('follows from its thickness: 1.5 σ (1 − ν) / (E α) of difference, 8 a / b² of it a second', () => {
    // 517642: α 8.3e-6 and 2.51 g/cm³ (its record), E 82 GPa, ν 0.206, 1.114 W/(m K), 0.858 J/(g K) (from memory), 5 MPa.
    const differenceK = (1.5 * 5 * (1 - 0.206)) / (82_000 * 8.3e-6);
    const diffusivity = 1.114 / (2.51 * 0.858);
    const limit = heatLimit(eyepiece)!;
    expect(limit.thicknessMm).toBe(5.4);
    expect(limit.rateKPerMin).toBeCloseTo((60 * differenceK * 8 * diffusivity) / 5.4 ** 2, 6);
  });

  it('holds back nothing of a thin lens, and a thick one by what the step says', () => {
    expect(heatStep(eyepiece).limitedBy).not.toContain('held');
    const thick = edited((batch) => {
      batch.order.lens.centreThicknessMm = 40;
    });
    const step = heatStep(thick);
    expect(step.limitedBy).toMatch(/held to [\d.]+ K\/min for glass 40\.0 mm thick/);
    expect(step.durationS).toBeGreaterThan(heatStep(eyepiece).durationS);
    const { rateKPerMin } = heatLimit(thick)!;
    expect(step.durationS).toBeGreaterThanOrEqual((60 * (210 - 22)) / rateKPerMin - 1);
  });

  it('is the edge’s where that is thicker, and the order’s own where it says one', () => {
    const hollow = edited((batch) => {
      batch.order.lens.frontRadiusMm = -40;
      batch.order.lens.backRadiusMm = 40;
    });
    expect(heatLimit(hollow)!.thicknessMm).toBeCloseTo(5.4 + 2 * (40 - Math.sqrt(40 ** 2 - 16 ** 2)), 9);
    const own = edited((batch) => {
      batch.order.lens.maximumRateKPerMin = 3;
    });
    expect(heatLimit(own)).toMatchObject({ rateKPerMin: 3, by: 'batch' });
    expect(heatStep(own).limitedBy).toContain('held to 3.0 K/min as the order says');
  });

  it('is not known for a crystal, and said so', () => {
    const crystal = edited((batch) => {
      batch.order.lens.substrate = 'caf2-crystal';
    });
    expect(heatLimit(crystal)).toBeUndefined();
    expect(heatLimitWords(undefined, 'CaF2')).toContain("maker's data sheet");
  });

  it('is so high for a very thin plate that it holds nothing back', () => {
    const film = edited((batch) => {
      batch.order.lens.centreThicknessMm = 0.1;
      delete batch.order.lens.frontRadiusMm;
      delete batch.order.lens.backRadiusMm;
    });
    expect(heatLimit(film)!.rateKPerMin).toBeGreaterThan(1000);
    expect(heatStep(film).durationS).toBe(heatStep(eyepiece).durationS);
  });
});

describe('the pumps of a batch', () => {
  const pumped = (change: (batch: Batch) => void) => computePlan(edited(change)).runs[0]!;

  it('take longer through a line, which leaves them less speed at low pressure', () => {
    const free = pumped(() => undefined).pumps;
    const through = pumped((batch) => {
      batch.chamber.pumps[0]!.line = { diameterMm: 40, lengthMm: 1500 };
    }).pumps;
    expect(free[0]!.speedsM3PerS).toEqual([0.022, 0.022]);
    expect(through[0]!.durationS).toBeGreaterThan(free[0]!.durationS);
    expect(through[0]!.speedsM3PerS[1]).toBeLessThan(through[0]!.speedsM3PerS[0]);
  });

  it('take longer after the chamber stood open for longer; the usual 30 min change nothing', () => {
    const last = (exposureMin?: number) =>
      pumped((batch) => {
        if (exposureMin !== undefined) batch.chamber.outgassing!.exposureMin = exposureMin;
      }).pumps.at(-1)!.durationS;
    expect(last(30)).toBe(last());
    expect(last(240)).toBeGreaterThan(last());
  });

  it('whose line is no pipe are refused at the line', () => {
    expect(() =>
      pumped((batch) => {
        batch.chamber.pumps[0]!.line = { diameterMm: 1, lengthMm: 5000 };
      }),
    ).toThrow('chamber.pumps[0].line.lengthMm: 5000 mm is above 1000 mm, a thousand diameters');
  });
});
