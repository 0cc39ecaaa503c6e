import { describe, expect, it } from 'vitest';
import { indexDerivatives } from '../../src/optics/index-derivatives.ts';
import { spectrum } from './support/solve.ts';
import { plainStack } from './support/stacks.ts';

type Index = readonly [number, number];
const wavelengths = [480, 610];

function expectSlopes(
  incident: number,
  layers: readonly Index[],
  substrate: Index,
  nms: readonly number[],
  angle: number,
) {
  const media = (changed: readonly Index[]) => plainStack(wavelengths, incident, changed, substrate);
  for (const polarization of ['s', 'p'] as const) {
    const found = indexDerivatives(media(layers), Float64Array.from(nms), angle, polarization);
    layers.forEach(([n, k], j) => {
      const moved = (dn: number, dk: number) =>
        spectrum(media(layers.toSpliced(j, 1, [n + dn, k + dk])), nms, angle, polarization);
      const h = 1e-4;
      for (const quantity of ['R', 'T'] as const) {
        for (const w of [0, 1]) {
          const central = (dn: number, dk: number, step: number) =>
            (moved(dn * step, dk * step)[quantity][w]! - moved(-dn * step, -dk * step)[quantity][w]!) /
            (2 * step);
          const slope = (dn: number, dk: number) => (4 * central(dn, dk, h / 2) - central(dn, dk, h)) / 3;
          const here = w * layers.length + j;
          expect(found[quantity].n[here]).toBeCloseTo(slope(1, 0), 9);
          if (k >= h) {
            expect(found[quantity].k[here]).toBeCloseTo(slope(0, 1), 9);
            continue;
          }
          // At k = 0 only one side is legal: three points forward, error of order h².
          const base = moved(0, 0)[quantity][w]!;
          const forward =
            (4 * moved(0, h)[quantity][w]! - moved(0, 2 * h)[quantity][w]! - 3 * base) / (2 * h);
          expect(found[quantity].k[here]).toBeCloseTo(forward, 5);
        }
      }
    });
  }
}

describe('derivatives with respect to the index', () => {
  it('equal differences for lossless and absorbing layers, straight on and at an angle', () => {
    const layers = [
      [2.3, 0],
      [1.46, 0.01],
      [0.06, 3.6],
      [1.38, 0],
    ] as const;
    expectSlopes(1, layers, [1.52, 0], [60, 90, 12, 80], 0);
    expectSlopes(1, layers, [1.6, 0.3], [60, 90, 12, 80], 0.9);
  });

  it('equal differences for evanescent and for very thin layers', () => {
    expectSlopes(
      1.7,
      [
        [2.1, 0],
        [1.3, 0],
        [2, 0],
      ],
      [1.7, 0],
      [80, 150, 0.5],
      1.1,
    );
  });

  it('equal differences near the critical angle of a layer, where its phase is small and its path is not', () => {
    const angle = Math.asin(1.3 / 1.7);
    const near = (n: number, k: number, nm: number) =>
      expectSlopes(
        1.7,
        [
          [2.1, 0],
          [n, k],
          [1.9, 0.02],
        ],
        [1.5, 0.1],
        [80, nm, 40],
        angle,
      );
    near(1.3 + 1e-3, 0, 150);
    near(1.3 - 1e-3, 0, 150);
    near(1.3 + 3e-4, 1e-3, 150);
    near(1.3 + 1e-2, 0, 40);
  });

  it('are nothing for a layer of no thickness, and grow from there with the thickness', () => {
    const along = (nm: number, polarization: 's' | 'p') =>
      indexDerivatives(
        plainStack([550], 1, [2.3, [1.46, 0.3], 1.38], 1.52),
        Float64Array.of(60, nm, 90),
        0.6,
        polarization,
      );
    for (const polarization of ['s', 'p'] as const) {
      const [none, thin, thinner] = [0, 1e-5, 1e-6].map((nm) => along(nm, polarization));
      for (const quantity of ['R', 'T'] as const)
        for (const by of ['n', 'k'] as const) {
          expect(Math.abs(none![quantity][by][1]!)).toBe(0);
          expect(thin![quantity][by][1]! / thinner![quantity][by][1]! / 10).toBeCloseTo(1, 3);
          expect(thinner![quantity][by][0]).toBeCloseTo(none![quantity][by][0]!, 7);
        }
    }
  });

  it('follow the closed form of a single quarter wave: R of n1 = ((ns − n1²) / (ns + n1²))²', () => {
    // At a quarter wave dR/dδ = 0, so that the index acts through the admittance alone (textbook relation).
    const [n1, ns, nm] = [1.45, 1.52, 550];
    const { R, T } = indexDerivatives(plainStack([nm], 1, [n1], ns), Float64Array.of(nm / 4 / n1), 0, 's');
    const r = (ns - n1 * n1) / (ns + n1 * n1);
    const expected = 2 * r * ((-4 * n1 * ns) / (ns + n1 * n1) ** 2);
    expect(R.n[0]! / expected).toBeCloseTo(1, 12);
    expect(T.n[0]).toBeCloseTo(-R.n[0]!, 14);
  });

  it('stay finite at the critical angle of a layer and under a millimetre of absorber', () => {
    const critical = indexDerivatives(
      plainStack([550], 1.5, [2, 1.5 * Math.sin(Math.PI / 4)], 1.5),
      Float64Array.of(70, 90),
      Math.PI / 4,
      'p',
    );
    const thick = indexDerivatives(
      plainStack([550], 1, [2, [1.6, 0.4]], 1.5),
      Float64Array.of(70, 1e6),
      0,
      's',
    );
    for (const { R, T } of [critical, thick]) {
      for (const array of [R.n, R.k, T.n, T.k]) expect(array.every(Number.isFinite)).toBe(true);
    }
    expect(thick.R.n[0]).toBe(0);
    expect(thick.R.n[1]).not.toBe(0);
  });
});
