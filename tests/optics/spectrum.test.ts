import { describe, expect, it } from 'vitest';
import { type AverageOver, computeAveragedSpectrum, computeSpectrum } from '../../src/optics/spectrum.ts';
import { spectrum } from './support/solve.ts';
import { plainStack } from './support/stacks.ts';

const stack = plainStack([500, 600], 1, [2.3, [1.46, 0.02], 2.1], 1.52);
const nm = Float64Array.of(60, 480, 95);

describe('a spectrum', () => {
  it('has for each angle s, p, their mean, and what is neither reflected nor passed', () => {
    const angles = computeSpectrum(stack, nm, { incidenceRad: [0.2, 0.9] });
    expect(angles).toHaveLength(2);
    for (const [i, angle] of [0.2, 0.9].entries()) {
      const { s, p, mean } = angles[i]!;
      for (const [which, found] of [
        ['s', s],
        ['p', p],
      ] as const) {
        const { R, T } = spectrum(stack, [...nm], angle, which);
        expect(found.R).toEqual(R);
        expect(found.T).toEqual(T);
        expect(found.A).toEqual(R.map((value, w) => 1 - value - T[w]!));
        expect(found.derivative).toBeUndefined();
      }
      for (const of of ['R', 'T', 'A'] as const)
        mean[of].forEach((value, w) => {
          expect(value).toBe((s[of][w]! + p[of][w]!) / 2);
        });
    }
  });

  it('has derivatives only where they are asked for', () => {
    const [only] = computeSpectrum(stack, nm, { incidenceRad: [0.2], derivative: true });
    for (const one of ['s', 'p'] as const)
      for (const of of ['R', 'T'] as const) expect(only![one].derivative![of]).toHaveLength(2 * 3);
  });

  it('absorbs nothing rather than less than nothing where R + T rounds to more than 1', () => {
    const clear = plainStack(
      Array.from({ length: 200 }, (_, i) => 400 + i),
      1,
      [2.3, 1.46, 2.1],
      1.52,
    );
    const [only] = computeSpectrum(clear, nm, { incidenceRad: [0] });
    const { R, T, A } = only!.s;
    expect(R.some((value, w) => 1 - value - T[w]! < 0)).toBe(true);
    expect(A.every((value) => value >= 0 && value < 1e-14)).toBe(true);
  });

  it.each([
    // r = (n0 − n1) / (n0 + n1) (Fresnel): turned round by the denser medium, not by the rarer one.
    [1, 1.5, Math.PI],
    [1.5, 1, 0],
  ])('from index %f onto index %f comes back with the phase %f', (outside, inside, phase) => {
    const bare = plainStack([550], outside, [], inside);
    const [only] = computeSpectrum(bare, new Float64Array(0), { incidenceRad: [0] });
    expect(Math.abs(only!.s.phaseRad[0]!)).toBeCloseTo(phase, 14);
  });

  it('totally reflected comes back with Fresnel’s phase for s, tan (φ/2) = √(sin² θ − 1/n²) / cos θ', () => {
    // Born & Wolf, Principles of Optics, sec. 1.5.4; the sign is that of the time factor exp(+iωt).
    const bare = plainStack([550], 1.5, [], 1);
    const [only] = computeSpectrum(bare, new Float64Array(0), { incidenceRad: [1] });
    const half = Math.atan(Math.sqrt(Math.sin(1) ** 2 - 1 / 1.5 ** 2) / Math.cos(1));
    expect(only!.s.phaseRad[0]).toBeCloseTo(2 * half, 13);
  });
});

describe('an averaged spectrum', () => {
  // A film like both of its sides, so that nothing changes with the wavelength and one refinement is enough.
  const even = (grid: Float64Array) => plainStack([...grid], 1.5, [1.5, 1.5], 1.5);
  const filmsNm = Float64Array.of(20_000, 30_000);
  function asked(averageOver: AverageOver, incidenceRad = [0], grid = [600, 500, 550]): number {
    let calls = 0;
    computeAveragedSpectrum(
      (nm) => {
        calls++;
        return { stack: even(nm) };
      },
      Float64Array.from(grid),
      filmsNm,
      { incidenceRad, averageOver },
    );
    return calls;
  }

  it('over a band begins with two points for each fringe of the whole stack at its shortest wavelength, and eight', () => {
    // 2 Σ n d Δλ / λ² = 150 000 nm · 10 nm / (500 nm)² = 6 fringes; then twice as many points; for s and for p.
    expect(asked({ bandwidthNm: 10 })).toBe(1 + 2 * (20 + 40));
    expect(asked({ bandwidthNm: 10, bandShape: 'gaussian' })).toBe(1 + 2 * 3 * (8 + 2 * 36));
  });

  it('over a cone takes six rays at first, each of which is averaged over the band', () => {
    expect(asked({ coneHalfAngleRad: 0.1 })).toBe(1 + 2 * (6 + 12));
    expect(asked({ coneHalfAngleRad: 0.1, bandwidthNm: 1 })).toBe(1 + 2 * (6 + 12) * (10 + 20));
  });

  it('over nothing is the spectrum itself', () => {
    const grid = Float64Array.of(500, 600);
    const { angles, warnings } = computeAveragedSpectrum(() => ({ stack }), grid, nm, {
      incidenceRad: [0.2, 0.9],
      averageOver: {},
      derivative: true,
    });
    expect(warnings).toEqual([]);
    expect(angles).toEqual(computeSpectrum(stack, nm, { incidenceRad: [0.2, 0.9], derivative: true }));
  });

  it('keeps the phase of the angle and the wavelength themselves', () => {
    const at = (grid: Float64Array) => ({ stack: plainStack([...grid], 1, [2.3, 1.46], 1.52) });
    const [grid, films] = [Float64Array.of(500, 600), Float64Array.of(70, 90)];
    const { angles } = computeAveragedSpectrum(at, grid, films, {
      incidenceRad: [0.4],
      averageOver: { bandwidthNm: 20 },
    });
    const [sharp] = computeSpectrum(at(grid).stack, films, { incidenceRad: [0.4] });
    for (const one of ['s', 'p'] as const) {
      expect(angles[0]![one].phaseRad).toEqual(sharp![one].phaseRad);
      expect(angles[0]![one]).not.toHaveProperty('derivative');
    }
  });

  it('reaches 6.5 standard deviations where its band is Gaussian, half a band where it is rectangular', () => {
    // 6.5 / (2 √(2 ln 2)) = 2.760284: 181.14 nm reach 500 nm.
    const gaussian = (bandwidthNm: number) => () =>
      asked({ bandwidthNm, bandShape: 'gaussian' }, [0], [600, 500]);
    expect(gaussian(181.2)).toThrow(
      /^averageOver.bandwidthNm: the band reaches 500\.16\d* nm to either side of 500 nm, down to no light at all$/,
    );
    expect(() => asked({ bandwidthNm: 1000 })).toThrow('the band reaches 500 nm to either side of 500 nm');
  });

  it('is refused where its cone reaches along the surface', () => {
    expect(() => asked({ coneHalfAngleRad: 0.5 }, [1.2, 0])).toThrow(
      'averageOver.coneHalfAngleRad: the cone reaches 1.7 rad from the normal, which is not below 1.5707963267948966 rad',
    );
    expect(() => asked({ coneHalfAngleRad: Math.PI / 2 })).toThrow('the cone reaches 1.57');
    expect(() => asked({ coneHalfAngleRad: Number.NaN })).toThrow(
      'averageOver.coneHalfAngleRad: NaN is not a finite number',
    );
    expect(() => asked({ bandwidthNm: Number.NaN })).toThrow(
      'averageOver.bandwidthNm: NaN is not a finite number',
    );
    expect(() => asked({ bandwidthNm: 10 }, [])).toThrow('incidenceRad: no angle of incidence is given');
  });
});
