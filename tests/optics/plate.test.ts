import { describe, expect, it } from 'vitest';
import { frontLight } from '../../src/optics/front-light.ts';
import { addSecondSurface, crossingSeries, internalTransmittance } from '../../src/optics/plate.ts';
import { computeSpectrum } from '../../src/optics/spectrum.ts';
import { SpectrumSolver } from '../../src/optics/spectrum-solver.ts';
import { constant, plainStack } from './support/stacks.ts';

const bare = (thicknessMm: number) => ({
  thicknessMm,
  backLayers: [],
  backThicknessNm: new Float64Array(0),
  exit: constant(1, 1),
});
const none = new Float64Array(0);

describe('a plate', () => {
  it.each([
    [1.45846, 0.9327859],
    [1.5168, 0.91908272],
    [4, 0.47058824],
  ])(
    'of bare lossless material of index %f transmits 2n / (n² + 1) = %f (textbook relation; figures from memory of it)',
    (n, expected) => {
      const stack = plainStack([550], 1, [], n);
      const [only] = computeSpectrum(stack, none, { incidenceRad: [0], plate: bare(2) });
      expect(only!.mean.T[0]).toBeCloseTo(expected, 7);
      expect(only!.mean.T[0]).toBeCloseTo((2 * n) / (n * n + 1), 14);
      expect(only!.mean.A[0]).toBeLessThan(1e-15);
    },
  );

  // Computed at 40 digits with mpmath: Airy's recursion for each surface, the complex index inside the bulk.
  it.each([
    ['s', 0.07056441340014734, 0.5602899023249269],
    ['p', 0.06083485392841446, 0.5732137822616754],
  ] as const)('that absorbs strongly under lossless layers follows the series (%s)', (one, R, T) => {
    const layers = [constant(1, 2.1), constant(1, 1.38)];
    const stack = { ...plainStack([550], 1, [], [1.52, 1e-5]), layers };
    const [only] = computeSpectrum(stack, Float64Array.of(60, 95), { incidenceRad: [0.4], plate: bare(2) });
    expect(Math.abs(only![one].R[0]! - R)).toBeLessThan(1e-10); // (k/n)² = 4e-11: how power is counted within
    expect(Math.abs(only![one].T[0]! - T)).toBeLessThan(1e-10);
  });

  it('absorbs by Lambert and Bouguer along the refracted path, summed over all crossings', () => {
    const [n, k, nm, mm, angle] = [1.5, 2e-7, 550, 3, 0.6];
    const inside = Math.asin(Math.sin(angle) / n);
    const once = Math.exp((-4 * Math.PI * k * mm * 1e6) / nm / Math.cos(inside));
    const rs = (Math.sin(angle - inside) / Math.sin(angle + inside)) ** 2;
    const stack = plainStack([nm], 1, [], [n, k]);
    const [only] = computeSpectrum(stack, none, { incidenceRad: [angle], plate: bare(mm) });
    let [T, R, ray] = [0, rs, (1 - rs) * once];
    for (let crossing = 0; crossing < 60; crossing++) {
      if (crossing % 2 === 0) T += ray * (1 - rs);
      else R += ray * (1 - rs);
      ray *= rs * once;
    }
    expect(only!.s.T[0]).toBeCloseTo(T, 7);
    expect(only!.s.R[0]).toBeCloseTo(R, 7);
  });

  it('transmits the same from either side, and is as good with its coatings exchanged', () => {
    const layers = [constant(1, 2.1), constant(1, 1.38)];
    const thicknessNm = Float64Array.of(60, 95);
    const coated = { ...plainStack([550], 1, [], 1.6), layers };
    const front = computeSpectrum(coated, thicknessNm, { incidenceRad: [0.4], plate: bare(1) })[0]!;
    const backward = computeSpectrum(plainStack([550], 1, [], 1.6), none, {
      incidenceRad: [0.4],
      plate: { ...bare(1), backLayers: layers, backThicknessNm: thicknessNm },
    })[0]!;
    for (const one of ['s', 'p'] as const) {
      expect(front[one].T[0]).toBeCloseTo(backward[one].T[0]!, 14);
      expect(front[one].R[0]).toBeCloseTo(backward[one].R[0]!, 14);
    }
  });

  it('turns back all light that cannot enter it', () => {
    const stack = plainStack([550], 1.7, [1.38], 1.5);
    const [only] = computeSpectrum(stack, Float64Array.of(100), { incidenceRad: [1.2], plate: bare(2) });
    for (const one of ['s', 'p'] as const) {
      expect(only![one].R[0]).toBeCloseTo(1, 14);
      expect(only![one].T[0]).toBe(0);
    }
  });

  it('lets out in front what a mirror let in and a total reflection at the back keeps in', () => {
    const layers = Array.from({ length: 120 }, (_, j) => (j % 2 === 0 ? 2.35 : 1.46));
    const thicknessNm = Float64Array.from(layers, (n) => 550 / 4 / n);
    const mirror = plainStack([550], 1.5, layers, 1.5);
    const [only] = computeSpectrum(mirror, thicknessNm, { incidenceRad: [1], plate: bare(2) });
    for (const one of ['s', 'p'] as const) {
      expect(only![one].R[0]).toBeCloseTo(1, 12);
      expect(only![one].T[0]).toBe(0);
    }
  });

  it('of metal reflects as its front does and transmits nothing, but is refused where light would come through', () => {
    const stack = plainStack([550], 1, [], [0.06, 3.6]);
    const [only] = computeSpectrum(stack, none, { incidenceRad: [0.5], plate: bare(1) });
    const [front] = computeSpectrum(stack, none, { incidenceRad: [0.5] });
    expect(only!.p.R[0]).toBe(front!.p.R[0]);
    expect(only!.p.T[0]).toBe(0);
    expect(() => computeSpectrum(stack, none, { incidenceRad: [0.5], plate: bare(1e-5) })).toThrow(
      'plate.thicknessMm: 0.00001 mm is too thin for a bulk with n = 0.06, k = 3.6 at 550 nm, whose two surfaces would interfere; give it as a layer',
    );
  });

  it('has derivatives that equal differences, absorbing bulk and layers included', () => {
    const stack = plainStack([520, 640], 1, [[2.1, 0.01], 1.46, [2.3, 0.001]], [1.5, 1e-6]);
    const plate = {
      thicknessMm: 2,
      backLayers: [constant(2, 2.1, 0.001)],
      backThicknessNm: Float64Array.of(95),
      exit: constant(2, 1.33),
    };
    const thicknessNm = Float64Array.of(40, 90, 70);
    const at = (thickness: Float64Array) =>
      computeSpectrum(stack, thickness, { incidenceRad: [0.5], plate, derivative: true })[0]!;
    const here = at(thicknessNm);
    for (let j = 0; j < 3; j++) {
      const [up, down] = [thicknessNm.slice(), thicknessNm.slice()];
      up[j]! += 0.01;
      down[j]! -= 0.01;
      const [above, below] = [at(up), at(down)];
      for (const one of ['s', 'p'] as const) {
        for (const quantity of ['R', 'T'] as const) {
          for (const w of [0, 1]) {
            const slope = (above[one][quantity][w]! - below[one][quantity][w]!) / 0.02;
            expect(here[one].derivative![quantity][w * 3 + j]).toBeCloseTo(slope, 8);
          }
        }
      }
    }
  });

  it('leaves the spectra of its front as they are', () => {
    const stack = plainStack([550], 1, [2.1, 1.38], 1.52);
    const nm = Float64Array.of(60, 95);
    const front = frontLight(new SpectrumSolver(stack, 0.4, 's'), nm, true);
    const before = structuredClone(front);
    const whole = addSecondSurface(front, front, stack, bare(1), 0.4, 's');
    expect(front).toEqual(before);
    expect(whole.R).not.toEqual(front.R);
    expect(whole.derivative!.R).not.toEqual(front.derivative!.R);
    const plain = addSecondSurface({ R: front.R, T: front.T }, front, stack, bare(1), 0.4, 's');
    expect(plain).toEqual({ R: whole.R, T: whole.T });
    expect(plain).not.toHaveProperty('derivative');
  });

  it('lets through its bulk what Lambert and Bouguer’s law leaves on the refracted path, all of it where nothing absorbs', () => {
    const [n, k, mm, angle] = [1.5, 2e-7, 5, 0.7];
    const stack = plainStack([500, 600], 1.2, [], [n, k]);
    const found = internalTransmittance(stack, mm, angle);
    const pathNm = (mm * 1e6) / Math.cos(Math.asin((1.2 * Math.sin(angle)) / n));
    for (const [w, nm] of [500, 600].entries())
      expect(found[w]).toBeCloseTo(Math.exp((-4 * Math.PI * k * pathNm) / nm), 12);
    expect([...internalTransmittance(plainStack([500, 600], 1.2, [], n), mm, angle)]).toEqual([1, 1]);
  });

  it('is thick enough where what would interfere in an absorbing bulk, k/n τ², is at most a thousandth', () => {
    // n = 1.5, k = 0.03: τ² = 0.05 where exp(−4πkd/λ) = √0.05, at d = 2185.5 nm of 550 nm light.
    const stack = plainStack([550], 1, [], [1.5, 0.03]);
    const at = (nm: number) => computeSpectrum(stack, none, { incidenceRad: [0], plate: bare(nm / 1e6) })[0]!;
    expect(() => at(2184)).toThrow('plate.thicknessMm: 0.002184 mm is too thin for a bulk');
    expect(at(2187).s.T[0]).toBeGreaterThan(0);
    const clear = plainStack([550], 1, [], 1.5);
    const [thin] = computeSpectrum(clear, none, { incidenceRad: [0], plate: bare(0) });
    expect(thin!.s.T[0]).toBeCloseTo(3 / 3.25, 14);
  });
});

describe('the sum over all rounds of light between two surfaces', () => {
  it.each([
    [0.96, 0.04, 0.9, 0.1, 1],
    [0.5, 0.4, 0.2, 0.7, 0.6],
    [0.02, 0.99, 0.03, 0.98, 0.9],
  ])(
    'of T1 %f, R1 %f, T2 %f, R2 %f and one crossing %f is 1 / (1 − τ² R1 R2)',
    (t1, r1, t2, r2, crossing) => {
      expect(crossingSeries(t1, r1, t2, r2, crossing) * (1 - crossing ** 2 * r1 * r2)).toBeCloseTo(1, 13);
    },
  );

  it('counts by what passes where both surfaces reflect all but that', () => {
    expect(crossingSeries(1e-18, 1, 3e-18, 1, 1)).toBeCloseTo(1 / 4e-18, -6);
    // A reflectance that has kept its digits counts by itself: from 1 − R = 0.001 on.
    expect(crossingSeries(2e-3, 1 - 1.1e-3, 0, 1, 1) * 1.1e-3).toBeCloseTo(1, 10);
    expect(crossingSeries(2e-3, 1 - 0.9e-3, 0, 1, 1) * 2e-3).toBeCloseTo(1, 10);
    expect(crossingSeries(0.2e-3, 1 - 0.9e-3, 0, 1, 1) * 0.9e-3).toBeCloseTo(1, 10);
  });
});
