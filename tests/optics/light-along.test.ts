import { describe, expect, it } from 'vitest';
import { gradingProfile, gradingSlope } from '../../src/materials/grading.ts';
import { type IndexDirection, lightAlong } from '../../src/optics/light-along.ts';
import type { Medium } from '../../src/optics/medium.ts';
import { type Part, polarizedLight } from '../../src/optics/polarized-light.ts';
import { constant, plainStack, span } from './support/stacks.ts';

const wavelengthNm = Float64Array.from(span(430, 690, 5));
const COUNT = wavelengthNm.length;
const CHANGE = 0.11;
const SUBLAYERS = 6;

/** Invented: a plain layer, one that absorbs, one that is graded, a thin one; dispersion in the second. */
const media: readonly Medium[] = [
  constant(COUNT, 1.46),
  { n: Float64Array.from(span(2.2, 2.05, COUNT)), k: new Float64Array(COUNT).fill(0.02) },
  { ...constant(COUNT, 1.9, 0.01), profile: gradingProfile(CHANGE, SUBLAYERS) },
  constant(COUNT, 1.38),
];
const thicknessNm = Float64Array.of(70, 45, 130, 8);
const plate = {
  thicknessMm: 2,
  backLayers: [constant(COUNT, 1.38), constant(COUNT, 2.05, 0.01)],
  backThicknessNm: Float64Array.of(95, 20),
  exit: constant(COUNT, 1.2),
};
const part = (layers: readonly Medium[], substrate = constant(COUNT, 1.52)): Part => ({
  stack: { wavelengthNm, incident: constant(COUNT, 1), layers, substrate },
});

/** A factor on n of two layers; then n and k of one, each its own way with the wavelength; then the grading. */
const directions: readonly IndexDirection[] = [
  [
    { layer: 0, n: media[0]!.n },
    { layer: 2, n: media[2]!.n },
  ],
  [{ layer: 1, n: Float64Array.from(span(0.3, -0.2, COUNT)), k: Float64Array.from(span(0.1, 0.4, COUNT)) }],
  [{ layer: 2, n: media[2]!.n, k: media[2]!.k, profile: gradingSlope(CHANGE, SUBLAYERS) }],
  [{ layer: 3, n: new Float64Array(COUNT).fill(1) }],
];
/** The same changes carried out. */
const moved = (direction: number, way: number): readonly Medium[] =>
  media.map((medium, layer) => {
    if (direction === 2 && layer === 2)
      return { ...medium, profile: gradingProfile(CHANGE + way, SUBLAYERS) };
    const change = direction === 2 ? undefined : directions[direction]!.find((one) => one.layer === layer);
    return change === undefined
      ? medium
      : {
          ...medium,
          n: medium.n.map((value, w) => value + way * change.n[w]!),
          k: medium.k.map((value, w) => value + way * (change.k?.[w] ?? 0)),
        };
  });

/** Differences of sixth order: weights 45, −9, 1 over 60 (B. Fornberg, Math. Comp. 51, 699, 1988, table 1). */
function slopeBySteps(light: (way: number) => Float64Array, step: number): Float64Array {
  const pairs = [45, -9, 1].map((weight, i) => {
    const [more, less] = [light((i + 1) * step), light(-(i + 1) * step)];
    return more.map((value, w) => (weight * (value - less[w]!)) / (60 * step));
  });
  return pairs[0]!.map((value, w) => value + pairs[1]![w]! + pairs[2]![w]!);
}

describe('derivatives along directions of the index', () => {
  it.each([
    ['a surface', 0, 's', (layers: readonly Medium[]) => part(layers)],
    ['a surface at 50°', 0.87, 'p', (layers: readonly Medium[]) => part(layers)],
    ['a plate', 0, 'p', (layers: readonly Medium[]) => ({ ...part(layers), plate })],
    ['a plate at 40°', 0.7, 's', (layers: readonly Medium[]) => ({ ...part(layers), plate })],
    [
      'a plate that absorbs, at 60°',
      1.05,
      'p',
      (layers: readonly Medium[]) => ({ ...part(layers, constant(COUNT, 1.6, 1e-5)), plate }),
    ],
  ] as const)('equal differences of sixth order for %s', (_, angle, polarization, made) => {
    const found = lightAlong(made(media), thicknessNm, angle, polarization, directions);
    const plain = polarizedLight(made(media), thicknessNm, angle, polarization, false);
    for (const quantity of ['R', 'T'] as const) {
      for (let w = 0; w < COUNT; w++) expect(found[quantity][w]).toBeCloseTo(plain[quantity][w]!, 13);
      for (let d = 0; d < directions.length; d++) {
        const expected = slopeBySteps(
          (way) => polarizedLight(made(moved(d, way)), thicknessNm, angle, polarization, false)[quantity],
          1e-3,
        );
        for (let w = 0; w < COUNT; w++)
          expect(found.derivative![quantity][w * directions.length + d]).toBeCloseTo(expected[w]!, 10);
      }
    }
  });

  it('follow the closed form of a quarter wave on a plate whose back is bare', () => {
    // R1 = ((ns − n²) / (ns + n²))², R2 = ((ns − 1) / (ns + 1))², T = (1 − R1)(1 − R2) / (1 − R1 R2): textbook relations.
    const [n, ns, nm] = [1.45, 1.52, 550];
    const stack = plainStack([nm], 1, [n], ns);
    const bare = {
      thicknessMm: 1,
      backLayers: [],
      backThicknessNm: new Float64Array(0),
      exit: stack.incident,
    };
    const { derivative } = lightAlong({ stack, plate: bare }, Float64Array.of(nm / 4 / n), 0, 's', [
      [{ layer: 0, n: stack.layers[0]!.n }],
    ]);
    const r1 = ((ns - n * n) / (ns + n * n)) ** 2;
    const r2 = ((ns - 1) / (ns + 1)) ** 2;
    const dR1 = (n * 2 * (ns - n * n) * -4 * n * ns) / (ns + n * n) ** 3;
    const dT = (-(1 - r2) * (1 - r2) * dR1) / (1 - r1 * r2) ** 2;
    expect(derivative!.T[0]! / dT).toBeCloseTo(1, 12);
    expect(derivative!.R[0]).toBeCloseTo(-dT, 14);
  });

  it('are nothing along the grading of an even layer between like media, which reflects alike from both sides', () => {
    // Reciprocity: without absorption R is the same from either side (Born & Wolf, sec. 1.6), so R is even in the change.
    const layer = { ...constant(COUNT, 2.1), profile: gradingProfile(0, SUBLAYERS) };
    const along = (substrate: number) =>
      lightAlong(part([layer], constant(COUNT, substrate)), Float64Array.of(140), 0.5, 'p', [
        [{ layer: 0, n: layer.n, profile: gradingSlope(0, SUBLAYERS) }],
      ]).derivative!.R;
    for (const value of along(1)) expect(Math.abs(value)).toBeLessThan(1e-15);
    for (const value of along(1.52)) expect(Math.abs(value)).toBeGreaterThan(1e-3);
  });
});
