import { describe, expect, it } from 'vitest';
import { AsBuiltModel, type Deviation, plannedValue } from '../../src/inspect/as-built-model.ts';
import { gradingProfile } from '../../src/materials/grading.ts';
import type { Medium } from '../../src/optics/medium.ts';
import { computeSpectrum } from '../../src/optics/spectrum.ts';
import { startingWith } from '../support/refusals.ts';
import { PLANNED } from './simulated-measurement.ts';

const { stack, thicknessNm } = PLANNED;
const points = stack.wavelengthNm.length;
const incidenceRad = Math.PI / 5;
const scaled = (medium: Medium, factor: number): Medium => ({
  ...medium,
  n: medium.n.map((value) => value * factor),
});
const withLayers = (layers: readonly Medium[]) => ({ ...stack, layers });

describe('what would be measured', () => {
  const planned = stack.layers.with(4, {
    ...stack.layers[4]!,
    profile: Float64Array.of(1.02, 1, 0.99, 0.98),
  });

  it.each<[string, Deviation[], number[], readonly Medium[], Float64Array, readonly Medium[]]>([
    ['nothing', [], [], stack.layers, thicknessNm, stack.layers],
    [
      'thicknesses, whose factors multiply where they meet',
      [
        { kind: 'thickness', layers: [0, 2] },
        { kind: 'thickness', layers: [2, 3] },
      ],
      [1.03, 0.9],
      stack.layers,
      Float64Array.of(75 * 1.03, 14, 30 * 1.03 * 0.9, 110 * 0.9, 92),
      stack.layers,
    ],
    [
      'indices, whose factors multiply, and no absorption',
      [
        { kind: 'index', layers: [1, 3] },
        { kind: 'index', layers: [3, 4] },
      ],
      [1.02, 0.97],
      stack.layers,
      thicknessNm,
      [1, 1.02, 1, 1.02 * 0.97, 0.97].map((factor, layer) => scaled(stack.layers[layer]!, factor)),
    ],
    [
      'gradings, which add up where they meet',
      [
        { kind: 'grading', layers: [3] },
        { kind: 'grading', layers: [1, 3] },
      ],
      [0.08, -0.03],
      stack.layers,
      thicknessNm,
      stack.layers
        .with(1, { ...stack.layers[1]!, profile: gradingProfile(-0.03, 6) })
        .with(3, { ...stack.layers[3]!, profile: gradingProfile(0.05, 6) }),
    ],
    [
      'a grading on top of one that was planned, about the middle of the layer',
      [{ kind: 'grading', layers: [4] }],
      [0.08],
      planned,
      thicknessNm,
      planned.with(4, {
        ...planned[4]!,
        profile: Float64Array.of(1.02 * 0.97, 0.99, 0.99 * 1.01, 0.98 * 1.03),
      }),
    ],
  ])('with deviations of %s is what the changed stack shows', (_, deviations, x, layers, thick, changed) => {
    for (const polarization of ['s', 'p', 'mean'] as const)
      for (const quantity of ['R', 'T'] as const) {
        const values = new Float64Array(points);
        const how = { stack: withLayers(layers), thicknessNm, quantity, incidenceRad, polarization, values };
        const model = new AsBuiltModel(how, deviations);
        const light = new Float64Array(points).fill(7);
        model.values(Float64Array.from(x), light);
        const [expected] = computeSpectrum(withLayers(changed), thick, { incidenceRad: [incidenceRad] });
        light.forEach((value, w) => {
          expect(value).toBeCloseTo(expected![polarization][quantity][w]!, 11);
        });
        model.thicknessesNm(Float64Array.from(x)).forEach((nm, layer) => {
          expect(nm).toBeCloseTo(thick[layer]!, 10);
        });
      }
  });

  it('is as planned at a factor of 1 and a grading of 0', () => {
    expect(
      (['thickness', 'index', 'grading'] as const).map((kind) => plannedValue({ kind, layers: [0] })),
    ).toEqual([1, 1, 0]);
  });

  it('has slopes that add up where deviations meet', () => {
    const deviations: Deviation[] = [
      { kind: 'thickness', layers: [0, 2] },
      { kind: 'thickness', layers: [2, 3] },
      { kind: 'index', layers: [1, 3] },
      { kind: 'index', layers: [3, 4] },
      { kind: 'grading', layers: [4] },
      { kind: 'grading', layers: [1, 4] },
    ];
    const x = Float64Array.of(1.03, 0.95, 1.02, 0.98, 0.05, -0.02);
    const model = new AsBuiltModel(
      { ...PLANNED, incidenceRad, values: new Float64Array(points) },
      deviations,
    );
    const [light, again] = [new Float64Array(points), new Float64Array(points).fill(7)];
    const slope = new Float64Array(points * x.length).fill(7);
    model.values(x, light);
    model.withSlopes(x, again, slope);
    expect(again).toEqual(light);
    const at = (p: number, way: number) => {
      const moved = new Float64Array(points);
      model.values(x.with(p, x[p]! + way), moved);
      return moved;
    };
    const h = 1e-4;
    for (let p = 0; p < x.length; p++) {
      const [more, less] = [at(p, h), at(p, -h)];
      for (let w = 0; w < points; w++)
        expect(slope[w * x.length + p]).toBeCloseTo((more[w]! - less[w]!) / (2 * h), 6);
    }
  });

  it.each([
    [{ ...PLANNED, values: new Float64Array(40) }, 'measured.values: there are 40 values for 41 wavelengths'],
    [
      { ...PLANNED, values: new Float64Array(41), thicknessNm: thicknessNm.slice(1) },
      'layers: there are 4 thicknesses for 5 layers',
    ],
  ])('is refused where lists do not belong together (%#)', (coating, fault) => {
    expect(() => new AsBuiltModel(coating, [])).toThrow(startingWith(fault));
  });
});
