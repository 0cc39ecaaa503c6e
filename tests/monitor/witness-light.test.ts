import { describe, expect, it } from 'vitest';
import type { Witness } from '../../src/monitor/witness.ts';
import { lightOfLayer, WitnessLight } from '../../src/monitor/witness-light.ts';
import { constantIndex } from './constant-index.ts';
import { byMatrixProduct } from './matrix-product.ts';
import { plainWitness as glass } from './plain-witness.ts';

const stack = [
  { n: 1.62, k: 0, thicknessNm: 84 },
  { n: 2.3, k: 0.004, thicknessNm: 130 },
  { n: 0.9, k: 3.1, thicknessNm: 6 },
  { n: 1.38, k: 0, thicknessNm: 97 },
];

function lightOn(witness: Witness, count: number, signal: 'R' | 'T', wavelengthNm = 550, bandwidthNm = 0) {
  const films = stack.slice(0, count).map(({ n, k }) => constantIndex(n, k));
  const light = new WitnessLight(witness, films, { wavelengthNm, signal, bandwidthNm });
  light.begin(stack.map(({ thicknessNm }) => thicknessNm));
  return light;
}

describe('the light of a witness', () => {
  it('agrees with the product of characteristic matrices, absorbing and metal films included', () => {
    for (let count = 1; count <= stack.length; count++)
      for (const nm of [0, 13, stack[count - 1]!.thicknessNm, 400]) {
        const layers = [...stack.slice(0, count - 1), { ...stack[count - 1]!, thicknessNm: nm }];
        const expected = byMatrixProduct(1, layers, 1.52, 550);
        expect(lightOn(glass, count, 'R').level(nm)).toBeCloseTo(expected.R, 13);
        expect(lightOn(glass, count, 'T').level(nm)).toBeCloseTo(expected.T, 13);
      }
  });

  it.each(['none', 'bare'] as const)(
    'on dark glass is that on a film of it which lets nothing through, back %s',
    (backSurface) => {
      // 3 µm of 1.6 - 0.9i pass 1e-54 of the light.
      const opaque = { n: 1.6, k: 0.9, thicknessNm: 3000 };
      for (const incidenceRad of [0, 0.7])
        for (let count = 1; count <= stack.length; count++) {
          const dark: Witness = { ...glass, substrate: constantIndex(1.6, 0.9), backSurface, incidenceRad };
          const films = [opaque, ...stack.slice(0, count)];
          const [s, p] = (['s', 'p'] as const).map(
            (one) => byMatrixProduct(1, films, 1.52, 550, incidenceRad, one).R,
          );
          const { thicknessNm } = stack[count - 1]!;
          expect(lightOn(dark, count, 'R').level(thicknessNm)).toBeCloseTo((s! + p!) / 2, 13);
        }
    },
  );

  it('of films whose indices are off their records is that of films of those indices', () => {
    const sight = { wavelengthNm: 550, signal: 'R' } as const;
    const factors = [1.5, 1.04, 0.97, 1.02];
    const layersOf = (by: readonly number[]) =>
      stack.map(({ n, k, thicknessNm }, i) => ({
        material: constantIndex(n * by[i]!, k * by[i]!),
        thicknessNm,
        newWitness: i === 1,
        ...sight,
      }));
    for (let index = 0; index < stack.length; index++)
      for (const incidenceRad of [0, 0.8]) {
        const witness = { ...glass, incidenceRad };
        const off = lightOfLayer(witness, layersOf([1, 1, 1, 1]), index, factors);
        const plain = lightOfLayer(witness, layersOf(factors), index);
        const below = stack.slice(index === 0 ? 0 : 1, index).map(({ thicknessNm }) => thicknessNm);
        for (const light of [off, plain]) light.begin(below);
        for (const nm of [0, 20, 97]) expect(off.level(nm)).toBeCloseTo(plain.level(nm), 13);
        expect(off.quarterWaveNm()).toBeCloseTo(plain.quarterWaveNm(), 9);
      }
  });

  it('tells the largest wave number of the growing film, at the shortest wavelength', () => {
    const films = [constantIndex(2.3), constantIndex(2.4), constantIndex(1.38)];
    const light = new WitnessLight(glass, films, { wavelengthNm: 550, signal: 'R', bandwidthNm: 10 });
    expect(light.largestWaveNumber()).toBeCloseTo((2 * Math.PI * 1.38) / Math.min(...light.wavelengthNm), 12);
  });

  it('is the mean of both polarizations at an angle', () => {
    const oblique = { ...glass, incidenceRad: 0.7 };
    const s = byMatrixProduct(1, stack, 1.52, 550, 0.7, 's');
    const p = byMatrixProduct(1, stack, 1.52, 550, 0.7, 'p');
    expect(lightOn(oblique, 4, 'R').level(97)).toBeCloseTo((s.R + p.R) / 2, 13);
    expect(lightOn(oblique, 4, 'T').level(97)).toBeCloseTo((s.T + p.T) / 2, 13);
  });

  it('of bare polished plate is (1 - R) / (1 + R) in transmission and 2R / (1 + R) in reflection', () => {
    // Textbook relation of a plate without absorption: the incoherent sum over all passes.
    const R = (0.52 / 2.52) ** 2;
    const bare: Witness = { ...glass, backSurface: 'bare' };
    expect(lightOn(bare, 1, 'R').level(0)).toBeCloseTo((2 * R) / (1 + R), 14);
    expect(lightOn(bare, 1, 'T').level(0)).toBeCloseTo((1 - R) / (1 + R), 14);
  });

  it('adds to one where nothing absorbs, whatever the back', () => {
    for (const backSurface of ['none', 'bare'] as const) {
      const witness: Witness = { ...glass, backSurface, incidenceRad: 0.3 };
      const films = [constantIndex(2.2), constantIndex(1.46)];
      for (const nm of [0, 40, 333]) {
        const [R, T] = (['R', 'T'] as const).map((signal) => {
          const light = new WitnessLight(witness, films, { wavelengthNm: 600, signal, bandwidthNm: 6 });
          light.begin([71]);
          return light.level(nm);
        });
        expect(R! + T!).toBeCloseTo(1, 13);
      }
    }
  });

  it('loses in the glass what the glass absorbs', () => {
    const k = 1e-6;
    const grey: Witness = {
      ...glass,
      substrate: constantIndex(1.52, k),
      thicknessMm: 5,
      backSurface: 'bare',
    };
    const R = (0.52 / 2.52) ** 2;
    const tau = Math.exp((-4 * Math.PI * k * 5e6) / 550);
    expect(lightOn(grey, 1, 'T').level(0)).toBeCloseTo(((1 - R) ** 2 * tau) / (1 - R * R * tau * tau), 10);
    expect(lightOn(grey, 1, 'R').level(0)).toBeCloseTo(
      R + ((1 - R) ** 2 * tau * tau * R) / (1 - R * R * tau * tau),
      10,
    );
  });

  it('of a plate as thin as it is dark passes both faces and the glass between, once or three times', () => {
    // Textbook relations of a plate whose N = n - ik: R = ((n - 1)² + k²) / ((n + 1)² + k²) and T = 4n / ((n + 1)² + k²) of a
    // face, tau = exp(-4πkd/λ) of the glass.
    const [n, k, d] = [1.52, 0.5, 100];
    const dark: Witness = {
      ...glass,
      substrate: constantIndex(n, k),
      thicknessMm: d / 1e6,
      backSurface: 'bare',
    };
    const R = ((n - 1) ** 2 + k * k) / ((n + 1) ** 2 + k * k);
    const T = (4 * n) / ((n + 1) ** 2 + k * k);
    const tau = Math.exp((-4 * Math.PI * k * d) / 550);
    const passes = 1 / (1 - R * R * tau * tau);
    expect(lightOn(dark, 1, 'T').level(0)).toBeCloseTo(T * T * tau * passes, 13);
    expect(lightOn(dark, 1, 'R').level(0)).toBeCloseTo(R + T * T * tau * tau * R * passes, 13);
    expect(lightOn({ ...dark, backSurface: 'none' }, 1, 'T').level(0)).toBeCloseTo(T, 13);
  });

  it.each([
    ['clear', constantIndex(1.52), 1],
    ['dark', constantIndex(1.52, 0.5), 1e-4],
  ])(
    'has the slope that differences show, for every signal, back, angle and bandwidth, on %s glass',
    (_, substrate, thicknessMm) => {
      for (const signal of ['R', 'T'] as const)
        for (const backSurface of ['none', 'bare'] as const)
          for (const incidenceRad of [0, 0.8]) {
            const witness = { ...glass, substrate, thicknessMm, backSurface, incidenceRad };
            const light = lightOn(witness, 3, signal, 520, 8);
            for (const nm of [2, 11, 40]) {
              const difference = (light.level(nm + 1e-4) - light.level(nm - 1e-4)) / 2e-4;
              expect(light.slope(nm)).toBeCloseTo(difference, 9);
            }
          }
    },
  );

  it.each([550, 1e6])('bends at its turns as the closed form says, at %d nm', (wavelengthNm) => {
    // One film: R = 1 - 4 n0 ns / ((n0 + ns)² cos² + (n0 ns / n + n)² sin²) of its phase (Macleod, Thin-Film Optical Filters); at
    // its extrema only the second derivative of sin² is left.
    const n = 2.1;
    const [a, b] = [2.52 ** 2, (1.52 / n + n) ** 2];
    const perPhase = 4 * 1.52 * 2 * (b - a);
    const light = new WitnessLight(glass, [constantIndex(n)], { wavelengthNm, signal: 'R' });
    light.begin([]);
    const phasePerNm = (2 * Math.PI * n) / wavelengthNm;
    const quarter = wavelengthNm / 4 / n;
    expect(light.quarterWaveNm() / quarter).toBeCloseTo(1, 12);
    expect(light.bend(quarter) / phasePerNm ** 2).toBeCloseTo(-perPhase / b ** 2, 5);
    expect(light.bend(2 * quarter) / phasePerNm ** 2).toBeCloseTo(perPhase / a ** 2, 5);
    expect(light.bend(0) / phasePerNm ** 2).toBeCloseTo(perPhase / a ** 2, 5);
  });

  it.each([
    ['a metal', 0.05, 3, 0],
    ['a metal that hardly loses anything', 1e-7, 3, 0],
    ['a metal that loses nothing', 0, 3, 0],
    ['a film beyond its critical angle', 0.5, 0, 0.8],
  ])('bends in %s as differences of its level show', (_, n, k, incidenceRad) => {
    const light = new WitnessLight({ ...glass, incidenceRad }, [constantIndex(n, k)], {
      wavelengthNm: 550,
      signal: 'R',
    });
    light.begin([]);
    const level = (thicknessNm: number) =>
      (['s', 'p'] as const).reduce(
        (sum, one) => sum + byMatrixProduct(1, [{ n, k, thicknessNm }], 1.52, 550, incidenceRad, one).R / 2,
        0,
      );
    for (const nm of [1, 12, 40]) {
      const difference = (level(nm + 0.05) - 2 * level(nm) + level(nm - 0.05)) / 0.05 ** 2;
      expect(light.bend(nm)).toBeCloseTo(difference, 7);
      expect(Math.abs(difference)).toBeGreaterThan(1e-6);
    }
  });

  it('stays finite under a millimetre of metal', () => {
    const films = [constantIndex(1.46), constantIndex(0.9, 6)];
    for (const signal of ['R', 'T'] as const) {
      const light = new WitnessLight({ ...glass, backSurface: 'bare' }, films, { wavelengthNm: 550, signal });
      light.begin([100]);
      expect(light.level(1e6)).toBeGreaterThanOrEqual(0);
      expect(light.slope(1e6)).toBe(0);
    }
  });

  it.each([
    ['rectangular', 24],
    ['triangular', 12],
  ] as const)('blurs over a narrow band by the second derivative of the signal: %s', (bandShape, divisor) => {
    // The mean over a band of variance v is S + S'' v / 2: v = w² / 12 for even light, w² / 6 for a triangle of
    // full width w at half height.
    const at = (nm: number) => lightOn(glass, 4, 'R', nm).level(97);
    const second = (at(552) - 2 * at(550) + at(548)) / 4;
    const films = stack.map(({ n, k }) => constantIndex(n, k));
    const light = new WitnessLight(glass, films, {
      wavelengthNm: 550,
      signal: 'R',
      bandwidthNm: 3,
      bandShape,
    });
    light.begin(stack.map(({ thicknessNm }) => thicknessNm));
    const blurred = light.level(97);
    expect(blurred - at(550)).toBeCloseTo((second * 9) / divisor, 8);
    expect(Math.abs(blurred - at(550))).toBeGreaterThan(5e-7);
  });

  it.each([3, 15, 60])('is the even mean over a band of %i nm', (bandwidthNm) => {
    const at = (nm: number) => lightOn(glass, 4, 'R', nm).level(97);
    // Midpoints of 4000 parts: off by less than 1e-9.
    let mean = 0;
    for (let i = 0; i < 4000; i++) mean += at(550 + ((i + 0.5) / 4000 - 0.5) * bandwidthNm) / 4000;
    expect(lightOn(glass, 4, 'R', 550, bandwidthNm).level(97)).toBeCloseTo(mean, 8);
  });
});
