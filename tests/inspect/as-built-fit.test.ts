import { describe, expect, it } from 'vitest';
import { fitAsBuilt } from '../../src/inspect/as-built-fit.ts';
import { AsBuiltModel, type Deviation, type MeasuredCoating } from '../../src/inspect/as-built-model.ts';
import { explainDeviation } from '../../src/inspect/explain-deviation.ts';
import { gradingProfile } from '../../src/materials/grading.ts';
import { resolveIndex } from '../../src/materials/index-spec.ts';
import { Random } from '../../src/math/random.ts';
import type { Medium } from '../../src/optics/medium.ts';
import { GROUPS, measure, PLANNED, simulatedMeasurement } from './simulated-measurement.ts';

const CASES = 100;
/** Two materials off against each other. */
const twoOff: Deviation[] = [
  { kind: 'thickness', layers: [1, 3] },
  { kind: 'thickness', layers: [0, 2] },
];

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
    expect(warnings).toEqual([
      'The measurement says hardly anything on the thickness of layer 1 (mgf2), the thickness of layer 2 (mgf2).',
    ]);
  });

  it('lists its quantities layer by layer, then the indices, and names those that hang together', () => {
    const coating = measure(twoOff, [1.04, 0.97], 0.0003, new Random(3));
    const { fitted, warnings, factors, correlation, residual, thicknessNm } = fitAsBuilt(coating, GROUPS, {
      free: 'layers',
      indexScale: true,
    });
    const layers = ['1 (al2o3)', '2 (ta2o5)', '3 (al2o3)', '4 (ta2o5)', '5 (mgf2)'];
    expect(fitted).toEqual([
      ...layers.map((layer) => `thickness of layer ${layer}`),
      ...GROUPS.map(({ name }) => `index of ${name}`),
    ]);
    expect(factors.map((factor) => factor.layers)).toEqual([[0], [1], [2], [3], [4]]);
    expect(factors[0]!.indexFactor).toBe(factors[2]!.indexFactor);
    expect(factors[0]!.indexFactor).not.toBe(factors[1]!.indexFactor);
    expect(warnings).toEqual([
      'The measurement cannot tell the index of ta2o5 from the index of mgf2.',
      'The measurement says hardly anything on the thickness of layer 2 (ta2o5), the index of ta2o5.',
    ]);
    for (let i = 0; i < 8; i++)
      for (let j = 0; j <= i; j++) {
        expect(correlation[8 * i + j]).toBeCloseTo(correlation[8 * j + i]!, 9);
        expect(Math.abs(correlation[8 * i + j]!)).toBeLessThanOrEqual(1 + 1e-9);
      }
    // What is left is measured less computed: the coating as found, computed anew, and the residual are the measurement.
    const found = new AsBuiltModel(coating, [
      ...factors.map((factor): Deviation => ({ kind: 'thickness', layers: factor.layers })),
      ...GROUPS.map((group): Deviation => ({ kind: 'index', layers: group.layers })),
    ]);
    const light = new Float64Array(coating.values.length);
    const indices = [0, 1, 4].map((layer) => factors[layer]!.indexFactor!);
    found.values(Float64Array.from([...factors.map((factor) => factor.thicknessFactor), ...indices]), light);
    residual.forEach((left, w) => {
      expect(light[w]! + left).toBeCloseTo(coating.values[w]!, 12);
    });
    expect(thicknessNm[3]).toBeCloseTo(PLANNED.thicknessNm[3]! * factors[3]!.thicknessFactor, 9);
  });

  it('cannot settle more factors than wavelengths', () => {
    const cut = (array: Float64Array) => array.slice(0, 2);
    const { stack } = PLANNED;
    const few = {
      ...PLANNED,
      stack: {
        wavelengthNm: cut(stack.wavelengthNm),
        incident: resolveIndex(1, cut(stack.wavelengthNm)),
        layers: stack.layers.map(({ n, k }) => ({ n: cut(n), k: cut(k) })),
        substrate: resolveIndex('517642', cut(stack.wavelengthNm)),
      },
      values: Float64Array.of(0.01, 0.01),
    };
    expect(() => fitAsBuilt(few, GROUPS, { free: 'materials', indexScale: false })).toThrow(
      'measured.wavelengthNm: 2 wavelengths cannot settle 3 factors; measure more or free fewer',
    );
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

  /** An invented stack of three layers in two materials, which is quick to fit. */
  const SMALL_GROUPS = [
    { name: 'ta2o5', layers: [0, 2] },
    { name: 'mgf2', layers: [1] },
  ];
  const everyOther = (list: Float64Array) => list.filter((_, w) => w % 2 === 0);
  const thinned = ({ n, k }: Medium): Medium => ({ n: everyOther(n), k: everyOther(k) });
  const [, ta2o5, , , mgf2] = PLANNED.stack.layers.map(thinned) as [Medium, Medium, Medium, Medium, Medium];
  const SMALL = {
    ...PLANNED,
    stack: {
      wavelengthNm: everyOther(PLANNED.stack.wavelengthNm),
      incident: thinned(PLANNED.stack.incident),
      layers: [ta2o5, mgf2, ta2o5],
      substrate: thinned(PLANNED.stack.substrate),
    },
    thicknessNm: Float64Array.of(60, 90, 35),
  };
  function small(deviation: Deviation, value: number, noise = 0, seed = 1): MeasuredCoating {
    const light = new Float64Array(SMALL.stack.wavelengthNm.length);
    new AsBuiltModel({ ...SMALL, values: light }, [deviation]).values(Float64Array.of(value), light);
    const random = new Random(seed);
    return { ...SMALL, values: light.map((fraction) => fraction + noise * random.normal()) };
  }

  it.each([
    [{ kind: 'thickness', layers: [0, 1, 2] }, 0.97, 'all layers alike are 3.00 % thinner than planned'],
    [{ kind: 'thickness', layers: [0, 1, 2] }, 1.03, 'all layers alike are 3.00 % thicker than planned'],
    [{ kind: 'thickness', layers: [0, 2] }, 0.95, 'all layers of ta2o5 are 5.00 % thinner than planned'],
    [{ kind: 'thickness', layers: [2] }, 1.05, 'layer 3 (ta2o5) alone is 5.00 % thicker than planned'],
    [{ kind: 'index', layers: [0, 2] }, 0.98, 'the index of ta2o5 is 2.00 % lower than planned'],
    [{ kind: 'index', layers: [0, 2] }, 1.02, 'the index of ta2o5 is 2.00 % higher than planned'],
    [
      { kind: 'grading', layers: [0, 2] },
      -0.06,
      'the index of ta2o5 falls by 6.00 % from the inner to the outer side of each layer',
    ],
    [
      { kind: 'grading', layers: [0, 2] },
      0.06,
      'the index of ta2o5 rises by 6.00 % from the inner to the outer side of each layer',
    ],
  ] as const)(
    'is told in a sentence, to the hundredth where there is no noise (%j by %f)',
    (deviation, value, words) => {
      const { verdict, explanations } = explainDeviation(small(deviation, value), SMALL_GROUPS);
      expect(verdict).toBe(`Most likely ${words} (± 0.00 %); what is left is 0.00 % rms.`);
      expect(explanations[0]!.sentence).toBe(`${words} (± 0.00 %)`);
      expect(explanations.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 12);
    },
  );

  it('is as likely as its parameters are few where everything fits', () => {
    const planned = small({ kind: 'thickness', layers: [] }, 1);
    const { explanations, verdict } = explainDeviation(planned, SMALL_GROUPS);
    expect(verdict).toBe('The measurement agrees with the plan; what is left is 0.00 % rms.');
    // Against 1 for the plan each kind with one parameter weighs n^(−1/2), and two thicknesses n^(−1): Schwarz again.
    const points = SMALL.stack.wavelengthNm.length;
    const total = 1 + 5 * points ** -0.5 + 1 / points;
    expect(explanations[0]).toMatchObject({ kind: 'as-planned', sentence: 'the coating is as planned' });
    expect(explanations[0]!.probability).toBeCloseTo(1 / total, 6);
    const each = explanations.find(({ kind }) => kind === 'each-material')!;
    expect(each.probability).toBeCloseTo(1 / points / total, 6);
  });

  it('is sought among those only that the coating allows', () => {
    const kindsOf = (layers: number, groups: typeof GROUPS) => {
      const stack = { ...SMALL.stack, layers: SMALL.stack.layers.slice(0, layers) };
      const values = stack.wavelengthNm.map((nm) => 0.02 + nm / 1e5);
      const coating = { ...SMALL, stack, thicknessNm: SMALL.thicknessNm.slice(0, layers), values };
      return explainDeviation(coating, groups)
        .explanations.map(({ kind }) => kind)
        .sort();
    };
    const a = { name: 'al2o3', layers: [0] };
    const b = { name: 'ta2o5', layers: [1] };
    expect(kindsOf(1, [a])).toEqual(['all-scaled', 'as-planned', 'graded', 'index']);
    expect(kindsOf(2, [{ name: 'al2o3', layers: [0, 1] }])).toEqual([
      ...['all-scaled', 'as-planned', 'graded', 'index', 'one-layer', 'one-layer'],
    ]);
    expect(kindsOf(2, [a, b])).toEqual([
      ...['all-scaled', 'as-planned', 'each-material', 'graded', 'graded'],
      ...['index', 'index', 'one-layer', 'one-layer'],
    ]);
  });

  it('counts as decided from 95 % against all that contradict it, as each material by itself does not', () => {
    const simple = ['as-planned', 'all-scaled', 'one-material', 'one-layer'];
    const cases: [number[], number, string][] = [
      [[0, 1, 2], 1.03, 'all-scaled'],
      [[0, 2], 0.95, 'one-material'],
      [[1], 1.05, 'one-layer'],
      [[], 1, 'as-planned'],
    ];
    for (const [layers, value, kind] of cases) {
      const measured = small({ kind: 'thickness', layers }, value, 0.0003, 3);
      const { explanations, isDecided } = explainDeviation(measured, SMALL_GROUPS);
      const [first, ...others] = explanations;
      expect(first!.kind).toBe(kind);
      const rivals = others.filter((other) => !(simple.includes(kind) && other.kind === 'each-material'));
      const against = rivals.reduce((sum, { probability }) => sum + probability, 0);
      expect(isDecided).toBe(first!.probability / (first!.probability + against) >= 0.95);
      if (kind !== 'as-planned') expect([isDecided, first!.probability < 0.95]).toEqual([true, true]);
    }
  });

  it('says for each material by itself how far it is off, thicker or thinner', () => {
    const { verdict, isDecided } = explainDeviation(
      measure(twoOff, [1.04, 0.97], 0.0003, new Random(3)),
      GROUPS,
    );
    expect(isDecided).toBe(true);
    expect(verdict).toMatch(
      /^Most likely al2o3 is 3\.\d\d % thinner than planned \(± 0\.\d\d %\) and ta2o5 is 3\.\d\d % thicker than planned \(± 0\.\d\d %\) and mgf2 is 0\.\d\d % (thinner|thicker) than planned \(± 0\.\d\d %\); what is left is 0\.03 % rms\.$/,
    );
  });

  it("is weighed by Schwarz's criterion, every kind of story as likely beforehand as the others", () => {
    const { explanations } = explainDeviation(measure(twoOff, [1.01, 0.99], 0.003, new Random(3)), GROUPS);
    // n ln(mean square) + parameters ln n, and the kind's share for each of its members (G. Schwarz, Ann. Stat. 6, 461, 1978).
    const points = PLANNED.stack.wavelengthNm.length;
    const members = { 'as-planned': 1, 'all-scaled': 1, 'one-material': 2, 'each-material': 1 };
    const counts = { ...members, 'one-layer': 5, index: 3, graded: 3 };
    expect(explanations).toHaveLength(16);
    const weights = explanations.map(({ kind, x, residualRms }) => {
      const criterion = points * Math.log(residualRms ** 2) + x.length * Math.log(points);
      return Math.exp(-criterion / 2) / counts[kind];
    });
    const total = weights.reduce((sum, weight) => sum + weight, 0);
    explanations.forEach(({ probability }, i) => {
      expect(probability / (weights[i]! / total)).toBeCloseTo(1, 9);
      expect(probability).toBeLessThanOrEqual(explanations[i - 1]?.probability ?? 1);
    });
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
