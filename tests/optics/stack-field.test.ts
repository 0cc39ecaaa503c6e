import { describe, expect, it } from 'vitest';
import { StackField } from '../../src/optics/stack-field.ts';
import { spectrum } from './support/solve.ts';
import { plainStack } from './support/stacks.ts';

const layers = [
  [2.1, 0.02],
  [0.1, 3.4],
  [1.38, 0],
  [1.9, 0.3],
] as const;
const thicknessNm = [80, 15, 120, 40];
const stack = plainStack([550], 1.2, layers, [1.6, 0.01]);
const field = (angle: number, polarization: 's' | 'p') =>
  new StackField(stack, Float64Array.from(thicknessNm), angle, polarization);

/** Simpson's rule; error of order (step / wavelength)^4. */
function integral(from: number, to: number, value: (at: number) => number, steps = 400): number {
  const width = (to - from) / steps;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const left = from + i * width;
    sum += value(left + 1e-9) + 4 * value(left + width / 2) + value(left + width - 1e-9);
  }
  return (sum * width) / 6;
}

describe('the field in a stack', () => {
  it.each([
    [0, 's'],
    [0.9, 's'],
    [0.9, 'p'],
  ] as const)(
    'loses in each layer what the layer absorbs, in all 1 − R − T: %f rad, %s',
    (angle, polarization) => {
      const here = field(angle, polarization);
      const absorbed = here.absorptance();
      let bottom = here.depthNm;
      thicknessNm.forEach((nm, j) => {
        const sum = integral(bottom - nm, bottom, (depth) => here.at(depth).absorptionPerNm);
        expect(absorbed[j]).toBeCloseTo(sum, 9);
        bottom -= nm;
      });
      const { R, T } = spectrum(stack, thicknessNm, angle, polarization);
      expect(absorbed.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1 - R[0]! - T[0]!, 13);
    },
  );

  it('dies away in an absorbing substrate with what was transmitted', () => {
    for (const [angle, polarization] of [
      [0, 's'],
      [0.9, 'p'],
    ] as const) {
      const here = field(angle, polarization);
      const { T } = spectrum(stack, thicknessNm, angle, polarization);
      const sum = integral(255, 80_000, (depth) => here.at(depth).absorptionPerNm, 4000);
      expect(sum).toBeCloseTo(T[0]!, 7);
    }
  });

  it('swings in front of the stack between (1 − |r|)² and (1 + |r|)²', () => {
    const here = field(0, 's');
    const { R } = spectrum(stack, thicknessNm);
    const size = Math.sqrt(R[0]!);
    const values = Array.from({ length: 2000 }, (_, i) => here.at(-i / 4).intensity);
    expect(Math.max(...values)).toBeCloseTo((1 + size) ** 2, 4);
    expect(Math.min(...values)).toBeCloseTo((1 - size) ** 2, 4);
  });

  it('goes on smoothly through every boundary for s, and for p along the surface', () => {
    const here = field(0.9, 's');
    for (const depth of [0, 40, 160, 175, 255]) {
      expect(here.at(depth).intensity).toBeCloseTo(here.at(depth - 1e-7).intensity, 6);
    }
  });

  it('jumps for p across a bare surface as the normal component of E does, by the ratio of permittivities', () => {
    // Continuity of ε E along the normal; at Brewster's angle nothing is reflected (Born & Wolf, sec. 1.5).
    const [n, angle] = [1.5, Math.atan(1.5)];
    const bare = new StackField(plainStack([550], 1, [], n), new Float64Array(0), angle, 'p');
    const normal = Math.sin(angle) ** 2;
    const along = Math.cos(angle) ** 2;
    expect(bare.at(-1e-9).intensity).toBeCloseTo(1, 12);
    expect(bare.at(0).intensity).toBeCloseTo(along + normal / n ** 4, 12);
  });

  it('is four times the incident one at total reflection where it peaks, and fades beyond by 4π/λ √(n² sin² θ − 1)', () => {
    const [n, angle] = [1.5, 1.0];
    const bare = new StackField(plainStack([550], n, [], 1), new Float64Array(0), angle, 's');
    const values = Array.from({ length: 4000 }, (_, i) => bare.at(-i / 4).intensity);
    expect(Math.max(...values)).toBeCloseTo(4, 5);
    const rate = ((4 * Math.PI) / 550) * Math.sqrt((n * Math.sin(angle)) ** 2 - 1);
    expect(Math.log(bare.at(10).intensity / bare.at(110).intensity) / 100).toBeCloseTo(rate, 12);
    expect(bare.at(10).absorptionPerNm).toBe(0);
  });

  it('stays finite a millimetre deep in an absorber', () => {
    const thick = new StackField(plainStack([550], 1, [[1.6, 0.4]], 1.5), Float64Array.of(1e6), 0, 's');
    expect(thick.at(5e5).intensity).toBe(0);
    expect(thick.at(1000).intensity).toBeGreaterThan(0);
    expect(thick.absorptance()[0]).toBeCloseTo(
      1 - spectrum(plainStack([550], 1, [], [1.6, 0.4]), []).R[0]!,
      12,
    );
  });

  it('draws an admittance that starts at the substrate and comes back after a half wave', () => {
    const [glass, film, nm] = [1.52, 2.3, 550];
    const path = new StackField(
      plainStack([nm], 1, [film], glass),
      Float64Array.of(nm / 2 / film),
      0,
      's',
    ).admittanceLocus(4);
    expect(path[0]).toHaveLength(5);
    expect(path[0]![0]!.re).toBeCloseTo(glass, 14);
    // A quarter wave inverts the admittance: η² / Y (textbook relation).
    expect(path[0]![2]!.re).toBeCloseTo((film * film) / glass, 12);
    expect(path[0]![4]!.re).toBeCloseTo(glass, 12);
    expect(path[0]![4]!.im).toBeCloseTo(0, 12);
    // All on the circle through both points on the real axis.
    const [middle, radius] = [(glass + film ** 2 / glass) / 2, (film ** 2 / glass - glass) / 2];
    for (const point of path[0]!) expect(Math.hypot(point.re - middle, point.im)).toBeCloseTo(radius, 12);
  });

  it('swings in front with half the wavelength there over the cosine', () => {
    for (const [angle, polarization] of [
      [0, 's'],
      [0.9, 's'],
      [0.9, 'p'],
    ] as const) {
      const here = field(angle, polarization);
      const period = 550 / (2 * 1.2 * Math.cos(angle));
      for (const depth of [-10, -130])
        expect(here.at(depth - period).intensity).toBeCloseTo(here.at(depth).intensity, 12);
      expect(here.at(-10 - period / 2).intensity).not.toBeCloseTo(here.at(-10).intensity, 2);
    }
  });

  it('has on a boundary the value behind it, where that of p jumps', () => {
    const here = field(0.9, 'p');
    for (const depth of [0, 40, 160, 175, 255]) {
      expect(here.at(depth).intensity).toBeCloseTo(here.at(depth + 1e-9).intensity, 6);
      expect(here.at(depth).intensity).not.toBeCloseTo(here.at(depth - 1e-9).intensity, 3);
    }
  });

  it('keeps to the thicknesses that it was made for', () => {
    const nm = Float64Array.from(thicknessNm);
    const here = new StackField(stack, nm, 0.9, 's');
    const before = here.at(100);
    nm.fill(7);
    expect(here.at(100)).toEqual(before);
    expect(here.depthNm).toBe(255);
  });

  it('of p at 45° in front of the stack is 1 + R everywhere, for the two waves vibrate across each other', () => {
    const here = field(Math.PI / 4, 'p');
    const { R } = spectrum(stack, thicknessNm, Math.PI / 4, 'p');
    for (const depth of [-1, -77, -400]) expect(here.at(depth).intensity).toBeCloseTo(1 + R[0]!, 12);
  });

  it('runs on alone where nothing reflects, in front of the boundary and behind it', () => {
    const alike = (polarization: 's' | 'p') =>
      new StackField(plainStack([550], 1.3, [], 1.3), new Float64Array(0), 0.7, polarization);
    for (const polarization of ['s', 'p'] as const)
      for (const depth of [-300, 0, 123]) {
        expect(alike(polarization).at(depth).intensity).toBeCloseTo(1, 13);
        expect(Math.abs(alike(polarization).at(depth).absorptionPerNm)).toBe(0);
      }
  });

  it('takes nothing from what does not absorb', () => {
    const clear = plainStack([480, 550], 1, [2.3, 1.46, 2.3, 1.38, 2.1, 1.46], 1.52);
    const nm = Float64Array.of(61, 90, 130, 77, 20, 55);
    for (const at of [0, 1])
      for (const value of new StackField(clear, nm, 0.6, 'p', at).absorptance()) {
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThan(1e-14);
      }
  });

  it.each([
    [
      () => new StackField(stack, Float64Array.from(thicknessNm), 0, 's', 1),
      'at: the stack has no wavelength number 1; it has 1',
    ],
    [
      () => new StackField(stack, Float64Array.from(thicknessNm), 0, 's', 0.5),
      'at: the stack has no wavelength number 0.5; it has 1',
    ],
    [
      () => new StackField(stack, Float64Array.of(1), 0, 's'),
      'thicknessNm: 1 thicknesses are given for 4 layers',
    ],
    [() => new StackField(stack, Float64Array.from(thicknessNm), 2, 's'), 'incidenceRad: 2 rad is not below'],
    [
      () =>
        new StackField(
          { ...stack, substrate: stack.layers[0]!, incident: stack.layers[0]! },
          Float64Array.from(thicknessNm),
          0,
          's',
        ),
      'incident.k[0]: 0.02 is not 0; the incident medium must not absorb',
    ],
    [() => field(0, 's').at(Number.NaN), 'depthNm: NaN is not a finite number'],
    [() => field(0, 's').at(Number.POSITIVE_INFINITY), 'depthNm: Infinity is not a finite number'],
  ] as const)('is refused where it is asked for what is not there: %#', (ask, sentence) => {
    expect(ask).toThrow(sentence);
  });
});
