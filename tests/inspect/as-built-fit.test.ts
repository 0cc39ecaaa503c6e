import { describe, expect, it } from 'vitest';
import { fitAsBuilt } from '../../src/inspect/as-built-fit.ts';
import { AsBuiltModel, type Deviation } from '../../src/inspect/as-built-model.ts';
import { explainDeviation } from '../../src/inspect/explain-deviation.ts';
import { gradingProfile } from '../../src/materials/grading.ts';
import { Random } from '../../src/math/random.ts';
import { GROUPS, measure, PLANNED, simulatedMeasurement } from './simulated-measurement.ts';

const CASES = 100;

describe('the derivatives of what is measured', () => {
  const deviations: Deviation[] = [
    { kind: 'thickness', layers: [0, 2] },
    { kind: 'thickness', layers: [3] },
    { kind: 'index', layers: [1, 3] },
    { kind: 'grading', layers: [4] },
  ];
  const x = Float64Array.of(1.03, 0.96, 1.01, 0.05);
  const plate = {
    thicknessMm: 3,
    backLayers: [],
    backThicknessNm: new Float64Array(0),
    exit: PLANNED.stack.incident,
  };

  /** Planned with a grading of its own, which the deviation comes on top of. */
  const graded = PLANNED.stack.layers.with(4, {
    ...PLANNED.stack.layers[4]!,
    profile: gradingProfile(-0.04, 4),
  });

  it.each([
    ['R at normal incidence', { quantity: 'R', incidenceRad: 0 }],
    ['T of a plate at 30°', { quantity: 'T', incidenceRad: Math.PI / 6, plate }],
    ['R for s light at 45°', { quantity: 'R', incidenceRad: Math.PI / 4, polarization: 's' }],
    [
      'a layer that was planned graded',
      { quantity: 'R', incidenceRad: 0.3, plate, stack: { ...PLANNED.stack, layers: graded } },
    ],
  ] as const)('are exact for %s', (_, how) => {
    const values = new Float64Array(PLANNED.stack.wavelengthNm.length);
    const model = new AsBuiltModel({ ...PLANNED, ...how, values }, deviations);
    const slope = new Float64Array(values.length * x.length);
    model.withSlopes(x, values.slice(), slope);
    const lightAt = (p: number, way: number) => {
      const light = values.slice();
      model.values(x.with(p, x[p]! + way), light);
      return light;
    };
    for (let p = 0; p < x.length; p++) {
      // Differences of fourth order, whose error lies far below that of any step of second order.
      const h = 1e-3;
      const [far, near] = [
        [lightAt(p, 2 * h), lightAt(p, -2 * h)],
        [lightAt(p, h), lightAt(p, -h)],
      ] as const;
      for (let w = 0; w < values.length; w++) {
        const expected = (8 * (near[0][w]! - near[1][w]!) - (far[0][w]! - far[1][w]!)) / (12 * h);
        expect(slope[w * x.length + p]).toBeCloseTo(expected, 8);
      }
    }
  });
});

describe('the coating as built', () => {
  it.each([
    { free: 'materials', indexScale: false },
    { free: 'layers', indexScale: false },
    { free: 'materials', indexScale: true },
  ] as const)(
    'comes out within its stated uncertainty (two sigma, every factor) in at least 90 of 100 cases with %j',
    (options) => {
      let within = 0;
      for (let seed = 1; seed <= CASES; seed++) {
        const { coating, groups, truth } = simulatedMeasurement(seed, options.free, options.indexScale);
        const { factors } = fitAsBuilt(coating, groups, options);
        const isWithin = factors.every(
          ({ thicknessFactor, sigma, indexFactor = 1, indexSigma = 1 }, i) =>
            Math.abs(thicknessFactor - truth.thickness[i]!) < 2 * sigma &&
            Math.abs(indexFactor - (truth.index[i] ?? 1)) < 2 * indexSigma,
        );
        if (isWithin) within++;
      }
      expect(within).toBeGreaterThanOrEqual(90);
    },
    60_000,
  );

  it('is found to a hundredth of a percent where there is no noise', () => {
    const coating = measure(
      GROUPS.map(({ layers }): Deviation => ({ kind: 'thickness', layers })),
      [1.04, 0.95, 1.02],
      0,
      new Random(1),
    );
    const { factors, identifiable, thicknessNm, residualRms, warnings } = fitAsBuilt(coating, GROUPS, {
      free: 'materials',
      indexScale: false,
    });
    expect(factors.map(({ thicknessFactor }) => Number(thicknessFactor.toFixed(4)))).toEqual([
      1.04, 0.95, 1.02,
    ]);
    expect(thicknessNm[4]).toBeCloseTo(92 * 1.02, 2);
    expect(residualRms).toBeLessThan(1e-6);
    expect([identifiable, warnings]).toEqual([true, []]);
  });

  it('says so where the measurement cannot tell two layers apart', () => {
    const layers = [PLANNED.stack.layers[4]!, PLANNED.stack.layers[4]!];
    const twins = {
      ...PLANNED,
      stack: { ...PLANNED.stack, layers },
      thicknessNm: Float64Array.of(50, 45),
      values: PLANNED.stack.wavelengthNm.map(() => 0.013),
    };
    const { identifiable, warnings } = fitAsBuilt(twins, [{ name: 'mgf2', layers: [0, 1] }], {
      free: 'layers',
      indexScale: false,
    });
    expect(identifiable).toBe(false);
    expect(warnings.join(' ')).toContain('layer 2 (mgf2)');
  });

  it.each([
    [{ values: Float64Array.of(0.1) }, 'measured.values: there are 1 values for 41 wavelengths'],
    [
      { stack: { ...PLANNED.stack, layers: [] }, thicknessNm: new Float64Array(0) },
      'layers: there is no layer to fit',
    ],
  ])('is refused with one sentence where the request is wrong (%#)', (change, fault) => {
    const values = new Float64Array(41);
    expect(() =>
      fitAsBuilt({ ...PLANNED, values, ...change }, GROUPS, { free: 'materials', indexScale: false }),
    ).toThrow(fault);
  });
});

describe('the story of a deviation', () => {
  it.each([
    [{ kind: 'thickness', layers: [0, 1, 2, 3, 4] }, 1.03, 'all-scaled', 'all layers alike are'],
    [{ kind: 'thickness', layers: [4] }, 1.05, 'one-layer', 'layer 5 (mgf2) alone is'],
    [{ kind: 'index', layers: [1, 3] }, 1.02, 'index', 'the index of ta2o5 is'],
    [{ kind: 'grading', layers: [1, 3] }, 0.06, 'graded', 'the index of ta2o5 rises by'],
  ] as const)('is told as it was (%j by %f)', (deviation, value, kind, words) => {
    const { explanations, verdict, isDecided } = explainDeviation(
      measure([deviation], [value], 0.0002, new Random(5)),
      GROUPS,
    );
    expect(explanations[0]).toMatchObject({ kind });
    expect(isDecided).toBe(true);
    expect(verdict).toMatch(`Most likely ${words}`);
    const told = explanations[0]!;
    expect(Math.abs(told.x[0]! - value)).toBeLessThan(3 * told.sigma[0]!);
  });

  it('names two where the measurement does not settle it', () => {
    const { isDecided, verdict } = explainDeviation(
      measure([{ kind: 'thickness', layers: [1, 3] }], [0.96], 0.001, new Random(5)),
      GROUPS,
    );
    expect(isDecided).toBe(false);
    expect(verdict).toMatch(
      /^The measurement does not settle it: perhaps all layers of ta2o5 .* perhaps layer 4/,
    );
  });

  it('leaves a coating alone that is as planned', () => {
    const { verdict } = explainDeviation(measure([], [], 0.001, new Random(5)), GROUPS);
    expect(verdict).toBe('The measurement agrees with the plan; what is left is 0.10 % rms.');
  });
});
