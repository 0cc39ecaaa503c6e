import { describe, expect, it } from 'vitest';
import { ChannelLight } from '../../src/design/light-channel.ts';
import { GRADING_ACCURACY, gradingProfile, sublayersFor } from '../../src/materials/grading.ts';
import { Random } from '../../src/math/random.ts';
import { layOutGraded, turnRound } from '../../src/optics/graded-stack.ts';
import { GrowingLayer } from '../../src/optics/growing-layer.ts';
import { indexDerivatives } from '../../src/optics/index-derivatives.ts';
import type { Medium } from '../../src/optics/medium.ts';
import { polarizedLight } from '../../src/optics/polarized-light.ts';
import { SpectrumSolver } from '../../src/optics/spectrum-solver.ts';
import { StackField } from '../../src/optics/stack-field.ts';
import type { StackOnGrid } from '../../src/optics/stack-on-grid.ts';
import { integrateGraded } from './support/integrate-graded.ts';
import { solve, spectrum } from './support/solve.ts';
import { constant, span } from './support/stacks.ts';

const wavelengthNm = Float64Array.from(span(420, 700, 8));
const COUNT = wavelengthNm.length;

/** A graded medium without dispersion. */
const graded = (n: number, k: number, change: number, sublayers: number): Medium => ({
  ...constant(COUNT, n, k),
  profile: gradingProfile(change, sublayers),
});

/** Invented: a graded layer between two plain ones, and another graded one that absorbs. */
const mixed: StackOnGrid = {
  wavelengthNm,
  incident: constant(COUNT, 1),
  layers: [
    constant(COUNT, 1.46),
    graded(2.05, 0, -0.07, 8),
    constant(COUNT, 1.38),
    graded(1.9, 0.02, 0.12, 6),
  ],
  substrate: constant(COUNT, 1.52),
};
const mixedNm = [90, 130, 70, 45];
/** The same laid out by hand: every sublayer a layer of its own. */
const byHand: StackOnGrid = {
  ...mixed,
  layers: mixed.layers.flatMap(({ n, k, profile = Float64Array.of(1) }) =>
    Array.from(profile, (factor) => constant(COUNT, n[0]! * factor, k[0]! * factor)),
  ),
};
const byHandNm = mixed.layers.flatMap(({ profile }, j) => {
  const count = profile?.length ?? 1;
  return Array.from({ length: count }, () => mixedNm[j]! / count);
});
const largest = (one: ArrayLike<number>, other: ArrayLike<number>) =>
  Math.max(...Array.from(one, (value, i) => Math.abs(value - other[i]!)));

describe('a graded layer against an integration of the wave equation', () => {
  const random = new Random(7);
  const between = (from: number, to: number) => from + (to - from) * random.uniform();
  const cases = Array.from({ length: 40 }, (_, place) => ({
    place,
    thicknessNm: between(20, 900),
    change: between(-0.5, 0.5),
    n: between(1.35, 2.4),
    k: place % 3 === 0 ? between(0, 0.1) : 0,
    other: between(1.35, 2.4),
    otherNm: between(0, 200),
    incidenceRad: place % 4 === 0 ? 0 : between(0, 1.3),
    polarization: place % 4 > 1 ? ('p' as const) : ('s' as const),
  }));

  it.each(cases)('is right to the accuracy that its sublayers are chosen for, case $place', (one) => {
    const { thicknessNm, change, n, k, other, otherNm, incidenceRad, polarization } = one;
    const waves = (n * thicknessNm) / wavelengthNm[0]!;
    const stack = {
      ...mixed,
      layers: [constant(COUNT, other), graded(n, k, change, sublayersFor(change, waves))],
    };
    const { R, T } = spectrum(stack, [otherNm, thicknessNm], incidenceRad, polarization);
    for (const w of [0, 3, 7]) {
      const exact = integrateGraded(
        1,
        [
          { index: [other, 0], change: 0, thicknessNm: otherNm },
          { index: [n, k], change, thicknessNm },
        ],
        1.52,
        wavelengthNm[w]!,
        incidenceRad,
        polarization,
      );
      expect(Math.abs(R[w]! - exact.R)).toBeLessThan(GRADING_ACCURACY[polarization]);
      expect(Math.abs(T[w]! - exact.T)).toBeLessThan(GRADING_ACCURACY[polarization]);
    }
  });

  it.each([
    ['at normal incidence', 0, 's', 3.7],
    ['at 50° for s', 0.87, 's', 3.7],
  ] as const)('comes to it with the fourth power of the number of sublayers %s', (_, angle, which, power) => {
    const layer = { index: [2.05, 0], change: -0.1, thicknessNm: 270 } as const;
    const exact = integrateGraded(1, [layer], 1.52, 420, angle, which);
    const error = (sublayers: number) => {
      const stack = { ...mixed, layers: [graded(2.05, 0, -0.1, sublayers)] };
      return Math.abs(spectrum(stack, [270], angle, which).R[0]! - exact.R);
    };
    expect(Math.log2(error(16) / error(32))).toBeGreaterThan(power);
  });
});

describe('a stack with graded layers', () => {
  it.each([
    ['s', 0],
    ['s', 0.8],
    ['p', 0.8],
  ] as const)('is the stack of its sublayers, for %s at %f rad', (which, angle) => {
    const [folded, plain] = [solve(mixed, mixedNm, angle, which), solve(byHand, byHandNm, angle, which)];
    expect(largest(folded.R, plain.R)).toBeLessThan(1e-15);
    expect(largest(folded.T, plain.T)).toBeLessThan(1e-15);
    // The second layer's derivative is the mean of those of its eight sublayers.
    const width = byHandNm.length;
    for (let w = 0; w < COUNT; w++) {
      const mean = plain.dR.subarray(w * width + 1, w * width + 9).reduce((sum, value) => sum + value, 0) / 8;
      expect(folded.dR[w * 4 + 1]).toBeCloseTo(mean, 15);
    }
  });

  it.each(['s', 'p'] as const)('has exact derivatives with respect to whole thicknesses, %s', (which) => {
    const { dR, dT } = solve(mixed, mixedNm, 0.6, which);
    const step = 1e-3;
    mixedNm.forEach((_, j) => {
      const moved = (by: number) =>
        spectrum(
          mixed,
          mixedNm.map((nm, i) => (i === j ? nm + by : nm)),
          0.6,
          which,
        );
      const [more, less] = [moved(step), moved(-step)];
      for (let w = 0; w < COUNT; w++) {
        expect(dR[w * 4 + j]).toBeCloseTo((more.R[w]! - less.R[w]!) / (2 * step), 9);
        expect(dT[w * 4 + j]).toBeCloseTo((more.T[w]! - less.T[w]!) / (2 * step), 9);
      }
    });
  });

  it('has derivatives of r that go with those of R = |r|²', () => {
    const solver = new SpectrumSolver(mixed, 0.6, 'p');
    const [count, size] = [solver.wavelengthCount, solver.wavelengthCount * solver.layerCount];
    const spectra = [count, count, size, size, 2 * size, count, count].map(
      (length) => new Float64Array(length),
    );
    const [R, T, dR, dT, dr, re, im] = spectra;
    const nm = Float64Array.from(mixedNm);
    solver.withDerivatives(nm, R!, T!, dR!, dT!, dr!);
    solver.reflectionCoefficient(nm, re!, im!);
    for (let at = 0; at < size; at++) {
      const w = Math.floor(at / solver.layerCount);
      expect(2 * (re![w]! * dr![2 * at]! + im![w]! * dr![2 * at + 1]!)).toBeCloseTo(dR![at]!, 14);
    }
  });

  it('has exact derivatives with respect to n and k of a graded layer', () => {
    const slopes = indexDerivatives(mixed, Float64Array.from(mixedNm), 0.6, 'p');
    const step = 1e-5;
    for (const by of ['n', 'k'] as const) {
      const moved = (change: number) => {
        const layers = mixed.layers.map((medium, j) =>
          j === 3 ? { ...medium, [by]: medium[by].map((value) => value + change) } : medium,
        );
        return spectrum({ ...mixed, layers }, mixedNm, 0.6, 'p');
      };
      const [more, less] = [moved(step), moved(-step)];
      for (let w = 0; w < COUNT; w++) {
        expect(slopes.R[by][w * 4 + 3]).toBeCloseTo((more.R[w]! - less.R[w]!) / (2 * step), 7);
        expect(slopes.T[by][w * 4 + 3]).toBeCloseTo((more.T[w]! - less.T[w]!) / (2 * step), 7);
      }
    }
  });

  it('loses nothing where nothing absorbs', () => {
    const stack = { ...mixed, layers: mixed.layers.slice(0, 3) };
    const { R, T } = spectrum(stack, mixedNm.slice(0, 3), 0.7, 'p');
    R.forEach((value, w) => {
      expect(value + T[w]!).toBeCloseTo(1, 13);
    });
  });

  it('absorbs in its layers what is neither reflected nor passed', () => {
    const { R, T } = spectrum(mixed, mixedNm);
    const field = new StackField(mixed, Float64Array.from(mixedNm), 0, 's', 2);
    const absorbed = field.absorptance();
    expect(absorbed).toHaveLength(4);
    expect(absorbed[3]).toBeCloseTo(1 - R[2]! - T[2]!, 14);
    expect(absorbed.slice(0, 3).every((value) => value < 1e-14)).toBe(true);
  });

  it('has the field of its sublayers at every depth, and a locus without a jump', () => {
    const field = new StackField(mixed, Float64Array.from(mixedNm), 0.4, 'p', 1);
    const plain = new StackField(byHand, Float64Array.from(byHandNm), 0.4, 'p', 1);
    expect(field.depthNm).toBeCloseTo(335, 12);
    for (const depth of [-50, 0, 10, 44, 60, 150, 200, 250, 330, 400])
      expect(field.at(depth).intensity).toBeCloseTo(plain.at(depth).intensity, 14);
    const locus = field.admittanceLocus(24);
    expect(locus.map((layer) => layer.length)).toEqual([25, 25, 25, 25]);
    for (let j = 1; j < 4; j++) {
      expect(locus[j]![0]!.re).toBeCloseTo(locus[j - 1]!.at(-1)!.re, 12);
      expect(locus[j]![0]!.im).toBeCloseTo(locus[j - 1]!.at(-1)!.im, 12);
    }
    // Three of 24 steps make one of the eight sublayers: the locus passes through their boundaries.
    const sublayers = plain.admittanceLocus(1);
    expect(locus[1]![3]!.re).toBeCloseTo(sublayers[1]!.at(-1)!.re, 12);
    expect(locus[1]![21]!.im).toBeCloseTo(sublayers[7]!.at(-1)!.im, 12);
  });

  it('turns round with its profiles where light meets it from within a plate', () => {
    const plate = {
      thicknessMm: 2,
      backLayers: [graded(2.05, 0, -0.3, 4)],
      backThicknessNm: Float64Array.of(120),
      exit: constant(COUNT, 1),
    };
    const plainBack = Array.from(plate.backLayers[0]!.profile!, (factor) => constant(COUNT, 2.05 * factor));
    const plain = { ...plate, backLayers: plainBack, backThicknessNm: new Float64Array(4).fill(30) };
    const one = polarizedLight({ stack: mixed, plate }, Float64Array.from(mixedNm), 0.5, 's', false);
    const other = polarizedLight(
      { stack: byHand, plate: plain },
      Float64Array.from(byHandNm),
      0.5,
      's',
      false,
    );
    expect(largest(one.R, other.R)).toBeLessThan(1e-15);
    expect(largest(one.T, other.T)).toBeLessThan(1e-15);
    const kept = new ChannelLight({
      ...mixed,
      plate,
      incidenceDeg: (0.5 * 180) / Math.PI,
      polarization: 's',
    });
    kept.update(Float64Array.from(mixedNm), plate.backThicknessNm);
    expect(largest(kept.R, other.R)).toBeLessThan(1e-14);
  });

  it('shares the sublayers of layers of one medium, laid out and turned round, so that they are tabulated once', () => {
    const [one, plain] = [mixed.layers[1]!, mixed.layers[0]!];
    const { stack, firstOf } = layOutGraded({ ...mixed, layers: [one, plain, one] })!;
    expect([...firstOf]).toEqual([0, 8, 9, 17]);
    expect(stack.layers).toHaveLength(17);
    for (let i = 0; i < 8; i++) expect(stack.layers[i]).toBe(stack.layers[9 + i]);
    expect(stack.layers[8]).toBe(plain);
    const turned = turnRound([one, plain, one, mixed.layers[3]!]);
    expect(turned[1]).toBe(turned[3]);
    expect(turned[2]).toBe(plain);
    expect(turned[0]!.profile).toEqual(mixed.layers[3]!.profile!.toReversed());
    expect(turned[0]!.k).toBe(mixed.layers[3]!.k);
  });

  it('that has no graded layer is not laid out', () => {
    expect(layOutGraded({ ...mixed, layers: [mixed.layers[0]!] })).toBeUndefined();
  });

  it.each([
    [Float64Array.of(1, -1), 'layers[1].profile[1]: -1 is not above 0'],
    [new Float64Array(0), 'layers[1].profile: the profile has no sublayer'],
  ])('with a profile that is not legal is refused', (profile, sentence) => {
    const layers = [mixed.layers[0]!, { ...mixed.layers[0]!, profile }];
    expect(() => spectrum({ ...mixed, layers }, [1, 2])).toThrow(sentence);
  });

  it('cannot be grown layer by layer where the growing one is graded', () => {
    const one = { n: Float64Array.of(2), k: Float64Array.of(0) };
    const stack = {
      wavelengthNm: Float64Array.of(550),
      incident: one,
      layers: [{ ...one, profile: gradingProfile(0.1, 2) }],
      substrate: one,
    };
    expect(() => new GrowingLayer(stack, new Float64Array(0))).toThrow('layers[0].profile');
  });
});
