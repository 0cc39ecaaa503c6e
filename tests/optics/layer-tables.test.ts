import Complex from 'complex.js';
import { describe, expect, it } from 'vitest';
import { BOUNDARY_STRIDE, GROWTH_PER_OCTAVE } from '../../src/optics/layer-boundaries.ts';
import { layerTables, MEDIUM_STRIDE } from '../../src/optics/layer-tables.ts';
import type { Medium } from '../../src/optics/medium.ts';
import { constant, plainStack } from './support/stacks.ts';

const wavelengthNm = Float64Array.of(400, 500, 640);
const COUNT = wavelengthNm.length;
const medium = (n: number, k: number): Medium => constant(COUNT, n, k);
const [low, metal] = [medium(1.46, 0.02), medium(0.3, 3)];
const stack = {
  wavelengthNm,
  incident: medium(1.2, 0),
  layers: [low, metal, low, metal],
  substrate: medium(1.52, 0.1),
};
const ANGLE = 0.7;

/** N cos θ and the tilted admittance by Snell's law with complex.js (Born & Wolf, Principles of Optics, sec. 1.6). */
function tilted(n: number, k: number, polarization: 's' | 'p') {
  const index = new Complex(n, -k);
  const normal = index
    .mul(index)
    .sub((1.2 * Math.sin(ANGLE)) ** 2)
    .sqrt();
  return { normal, eta: polarization === 's' ? normal : index.mul(index).div(normal) };
}
function expectComplex(found: Float64Array, at: number, expected: Complex): void {
  expect(found[at]! / expected.re).toBeCloseTo(1, 13);
  expect(found[at + 1]! / expected.im).toBeCloseTo(1, 13);
}

describe.each(['s', 'p'] as const)('the tables that the kernels read, for %s', (polarization) => {
  const tables = layerTables(stack, ANGLE, polarization);
  const [first, second] = [tilted(1.46, 0.02, polarization), tilted(0.3, 3, polarization)];

  it('have each medium once, with half turns and octaves a nm and its admittance both ways', () => {
    expect(tables.media).toHaveLength(COUNT * 2 * MEDIUM_STRIDE);
    for (const [w, nm] of wavelengthNm.entries())
      for (const [m, { normal, eta }] of [first, second].entries()) {
        const at = (2 * w + m) * MEDIUM_STRIDE;
        // δ = 2π N cos θ d / λ in half turns of π; exp(−2 |Im δ|) in octaves.
        expect(tables.media[at]! / ((2 * normal.re) / nm)).toBeCloseTo(1, 13);
        expect(tables.media[at + 1]! / ((-4 * Math.PI * normal.im) / nm / Math.LN2)).toBeCloseTo(1, 13);
        expectComplex(tables.media, at + 2, eta);
        expectComplex(tables.media, at + 4, new Complex(1).div(eta));
      }
  });

  it('have each pair of neighbours once, with the ratio of admittances and the slope iκη', () => {
    expect([...tables.boundaryOf]).toEqual([0, 1, 0, 2]);
    expect(tables.boundaryCount).toBe(3);
    for (const [w, nm] of wavelengthNm.entries())
      for (const [b, [below, above]] of [
        [first, second.eta],
        [second, first.eta],
        [second, new Complex(1)],
      ].entries() as unknown as [number, [typeof first, Complex]][]) {
        const at = (3 * w + b) * BOUNDARY_STRIDE;
        const kappa = below.normal.mul((2 * Math.PI) / nm);
        expect(tables.boundaries[at]! / (kappa.re / Math.PI)).toBeCloseTo(1, 13);
        expect(tables.boundaries[at + 1]! / (-kappa.im / GROWTH_PER_OCTAVE)).toBeCloseTo(1, 13);
        expectComplex(tables.boundaries, at + 2, below.eta.div(above));
        expectComplex(tables.boundaries, at + 4, kappa.mul(below.eta).mul(new Complex(0, 1)));
      }
  });

  it('begin with the lowest layer’s units and end with the admittances of both sides', () => {
    const glass = tilted(1.52, 0.1, polarization);
    const outside = tilted(1.2, 0, polarization);
    for (let w = 0; w < COUNT; w++) {
      expectComplex(tables.entry, 2 * w, new Complex(1).div(first.eta));
      expectComplex(tables.substrateAdmittance, 2 * w, glass.eta);
      expect(tables.incidentAdmittance[2 * w]! / outside.eta.re).toBeCloseTo(1, 13);
      expect(Math.abs(tables.incidentAdmittance[2 * w + 1]!)).toBe(0);
    }
    const from = Array.from(wavelengthNm, (_, w) => new Complex(1.4 + w / 10, -0.1 * (w + 1)));
    const within = {
      n: Float64Array.from(from, ({ re }) => re),
      k: Float64Array.from(from, ({ im }) => -im),
    };
    const inner = layerTables({ ...stack, incident: within }, ANGLE, polarization, stack.incident);
    from.forEach(({ re, im }, w) => {
      expectComplex(inner.incidentAdmittance, 2 * w, tilted(re, -im, polarization).eta);
    });
    const bare = layerTables({ ...stack, layers: [] }, ANGLE, polarization);
    expect([...bare.entry]).toEqual([1, 0, 1, 0, 1, 0]);
    expect(bare.boundaryCount).toBe(0);
  });
});

describe('the runs of wavelengths', () => {
  const runs = (k: readonly number[], more: object = {}, angleIn?: Medium) => {
    const grid = plainStack(
      k.map((_, w) => 400 + w),
      1,
      [],
      [1.5, 0.1],
    );
    const layer = { n: new Float64Array(k.length).fill(1.4), k: Float64Array.from(k) };
    const whole = { ...grid, layers: [layer, constant(k.length, 2)], ...more };
    return layerTables(whole, 0.8, 'p', angleIn).runs.map(
      ({ from, to, lossless }) => `${from}-${to} ${lossless ? 'lossless' : 'absorbing'}`,
    );
  };

  it('change where a layer begins or ends to absorb, whatever the substrate does', () => {
    expect(runs([0, 0, 0.1, 0.1, 0.1, 0])).toEqual(['0-2 lossless', '2-5 absorbing', '5-6 lossless']);
    expect(runs([0.1, 0, 0])).toEqual(['0-1 absorbing', '1-3 lossless']);
    expect(runs([0, 0])).toEqual(['0-2 lossless']);
    expect(runs([])).toEqual([]);
  });

  it('count as absorbing where a layer is evanescent, and where light arrives from within an absorber', () => {
    expect(runs([0, 0], { incident: constant(2, 2.1) })).toEqual(['0-2 absorbing']);
    expect(runs([0, 0], { incident: constant(2, 1.6, 0.1) }, constant(2, 1))).toEqual(['0-2 absorbing']);
  });
});
