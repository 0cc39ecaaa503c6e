import { describe, expect, it } from 'vitest';
import { AsBuiltModel, type Deviation } from '../../src/inspect/as-built-model.ts';
import { fitDeviations, isInformed } from '../../src/inspect/fit-deviations.ts';
import { Random } from '../../src/math/random.ts';
import { measure, PLANNED } from './simulated-measurement.ts';

const points = PLANNED.stack.wavelengthNm.length;
const all: Deviation = { kind: 'thickness', layers: [0, 1, 2, 3, 4] };

describe('deviations fitted to a measurement', () => {
  it('of which none is free leave what the plan does not explain', () => {
    const coating = measure([all], [1.02], 0, new Random(1));
    const light = new Float64Array(points);
    new AsBuiltModel(coating, []).values(new Float64Array(0), light);
    const sum = light.reduce((total, value, w) => total + (coating.values[w]! - value) ** 2, 0);
    expect(fitDeviations(coating, [])).toEqual({
      ...{ x: new Float64Array(0), sigma: new Float64Array(0), correlation: new Float64Array(0) },
      ...{ sumOfSquares: sum, residualRms: Math.sqrt(sum / points), converged: true },
    });
  });

  // 16 % shifts what the coating shows by about 90 nm.
  it.each([0.82, 0.84, 1.16, 1.19])('are found far off, at a factor of %f on all layers', (factor) => {
    const { x, converged, residualRms } = fitDeviations(measure([all], [factor], 0, new Random(1)), [all]);
    expect(x[0]).toBeCloseTo(factor, 5);
    expect(residualRms).toBeLessThan(1e-6);
    expect(converged).toBe(true);
  });

  it.each([0.88, 1.12])(
    'are found at a factor of %f on thick layers, whose fringes have many valleys',
    (factor) => {
      const [, ta2o5, , , mgf2] = PLANNED.stack.layers;
      const thick = {
        ...PLANNED,
        stack: { ...PLANNED.stack, layers: [ta2o5!, mgf2!] },
        thicknessNm: Float64Array.of(900, 1200),
      };
      const both: Deviation = { kind: 'thickness', layers: [0, 1] };
      const values = new Float64Array(points);
      new AsBuiltModel({ ...thick, values }, [both]).values(Float64Array.of(factor), values);
      expect(fitDeviations({ ...thick, values }, [both]).x[0]).toBeCloseTo(factor, 5);
    },
  );

  it('weigh the measurement against what was expected beforehand, and have their spread from both', () => {
    const deviations: Deviation[] = [
      { kind: 'thickness', layers: [3] },
      { kind: 'index', layers: [4] },
      { kind: 'grading', layers: [3] },
    ];
    const coating = measure(deviations, [1.03, 0.99, 0.04], 0.002, new Random(4));
    const { x, sigma, correlation, sumOfSquares, residualRms } = fitDeviations(coating, deviations);
    const model = new AsBuiltModel(coating, deviations);
    const [light, slope] = [new Float64Array(points), new Float64Array(points * 3)];
    model.withSlopes(x, light, slope);
    const left = light.map((value, w) => value - coating.values[w]!);
    expect(left.reduce((sum, value) => sum + value ** 2, 0)).toBeCloseTo(sumOfSquares, 12);
    expect(residualRms).toBeCloseTo(Math.sqrt(sumOfSquares / points), 12);
    // One sigma beforehand: 10 % of a thickness, 5 % of an index, 10 % of a grading; noise from the residual.
    const expected = [0.1, 0.05, 0.1];
    const noise = Math.sqrt(sumOfSquares / (points - 3));
    const information = expected.map((_, i) =>
      expected.map((before, j) => {
        let sum = i === j ? 1 / before ** 2 : 0;
        for (let w = 0; w < points; w++) sum += (slope[3 * w + i]! * slope[3 * w + j]!) / noise ** 2;
        return sum;
      }),
    );
    // (JᵀJ / s² + P) C = 1, with C from the stated spread (N. R. Draper, H. Smith, Applied Regression Analysis).
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        let product = 0;
        for (let k = 0; k < 3; k++)
          product += information[i]![k]! * correlation[3 * k + j]! * sigma[k]! * sigma[j]!;
        expect(product).toBeCloseTo(i === j ? 1 : 0, 6);
      }
    for (let i = 0; i < 3; i++) expect(correlation[4 * i]).toBeCloseTo(1, 9);
    // Where the weighted sum of squares is least it has no slope; the scale is that of one sigma.
    const planned = [1, 1, 0];
    for (let p = 0; p < 3; p++) {
      let pull = (x[p]! - planned[p]!) / expected[p]! ** 2;
      for (let w = 0; w < points; w++) pull += (left[w]! * slope[3 * w + p]!) / noise ** 2;
      expect(Math.abs(pull * sigma[p]!)).toBeLessThan(0.01);
    }
  });

  it('begin from any further start as well, and end in the best valley', () => {
    const deviations: Deviation[] = [0, 1, 2, 3, 4].map((layer) => ({ kind: 'thickness', layers: [layer] }));
    const truth = [1.3, 0.8, 1.25, 0.75, 1.2];
    const coating = measure(deviations, truth, 0, new Random(1));
    const alone = fitDeviations(coating, deviations);
    const led = fitDeviations(coating, deviations, [Float64Array.from(truth)]);
    expect(led.residualRms).toBeLessThan(1e-4);
    expect(led.sumOfSquares).toBeLessThanOrEqual(alone.sumOfSquares * (1 + 1e-6));
  });

  it('never claim more than 10⁻⁷ of noise allows, however well all fits', () => {
    const { sigma } = fitDeviations(measure([all], [1], 0, new Random(1)), [all]);
    const slope = new Float64Array(points);
    new AsBuiltModel({ ...PLANNED, values: new Float64Array(points) }, [all]).withSlopes(
      ...([Float64Array.of(1), new Float64Array(points), slope] as const),
    );
    const sum = slope.reduce((total, value) => total + value ** 2, 0);
    expect(sigma[0]! / (1e-7 / Math.sqrt(sum))).toBeCloseTo(1, 4);
  });

  it.each([
    ['thickness', 0.05],
    ['index', 0.025],
    ['grading', 0.05],
  ] as const)(
    'are told by the measurement where the %s has less than half the spread expected',
    (kind, half) => {
      expect(isInformed({ kind, layers: [0] }, half)).toBe(false);
      expect(isInformed({ kind, layers: [0] }, half - 1e-9)).toBe(true);
    },
  );
});
