import { describe, expect, it } from 'vitest';
import { computeSpectrum } from '../../src/optics/spectrum.ts';
import { spectrum } from './support/solve.ts';
import { plainStack } from './support/stacks.ts';

/*
 * Checks against the outside. "Textbook relation" is one that every textbook of optics or thin films has
 * (Fresnel's formulas: Born & Wolf, Principles of Optics, sec. 1.5; films: sec. 1.6); relations and figures
 * were written down from memory of it and computed from the stated closed form, not by this program.
 */

const RAD = Math.PI / 180;
const NM = 550;
const reflected = (layers: readonly number[], quarters: readonly number[], glass: number, nm = NM) => {
  const thicknessNm = layers.map((n, j) => (quarters[j]! * NM) / 4 / n);
  return spectrum(plainStack([nm], 1, layers, glass), thicknessNm).R[0]!;
};
const bare = (n: number, angle: number, polarization: 's' | 'p', incident = 1) =>
  spectrum(plainStack([NM], incident, [], n), [], angle, polarization).R[0]!;

describe('a bare surface', () => {
  it.each([
    [1.45846, 0.03477576],
    [1.5168, 0.04216456],
    [1.52, 0.04257999],
    [1.7, 0.06721536],
    [2, 0.11111111],
    [4, 0.36],
  ])('of index %f reflects ((n − 1) / (n + 1))² = %f (textbook relation: Fresnel)', (n, expected) => {
    expect(bare(n, 0, 's')).toBeCloseTo(expected, 7);
    expect(bare(n, 0, 'p')).toBeCloseTo(expected, 7);
  });

  it.each([
    [30, 0.05779611, 0.02524915],
    [45, 0.09201336, 0.00846646],
    [60, 0.17657149, 0.00180194],
  ])('of index 1.5 at %i° reflects s %f and p %f (textbook relation: Fresnel)', (deg, s, p) => {
    expect(bare(1.5, deg * RAD, 's')).toBeCloseTo(s, 7);
    expect(bare(1.5, deg * RAD, 'p')).toBeCloseTo(p, 7);
  });

  it('reflects at 45° p as the square of s, whatever its index (textbook relation)', () => {
    for (const n of [1.3, 1.5, 2.35, 4]) {
      expect(bare(n, Math.PI / 4, 'p')).toBeCloseTo(bare(n, Math.PI / 4, 's') ** 2, 14);
    }
  });

  it.each([
    [1.45846, 55.56333],
    [1.5, 56.30993],
    [1.5168, 56.60383],
    [2.35, 66.9487],
  ])('of index %f reflects no p at %f° (textbook relation: Brewster, atan n)', (n, deg) => {
    expect(bare(n, Math.atan(n), 'p')).toBeLessThan(1e-30);
    expect(bare(n, deg * RAD, 'p')).toBeLessThan(1e-13);
    expect(bare(n, (deg + 0.01) * RAD, 'p')).toBeGreaterThan(1e-10);
  });

  it.each([
    [1.45846, 43.28712],
    [1.5, 41.81031],
    [1.5168, 41.24519],
    [2.35, 25.18434],
  ])(
    'seen from within index %f turns everything back from %f° on (textbook relation: asin 1/n)',
    (n, deg) => {
      for (const polarization of ['s', 'p'] as const) {
        expect(bare(1, (deg + 1e-4) * RAD, polarization, n)).toBeCloseTo(1, 14);
        expect(bare(1, (deg - 1e-4) * RAD, polarization, n)).toBeLessThan(0.999);
      }
    },
  );

  it('of aluminium, n 1.015, k 6.627 at 550 nm, reflects 91.5 % (index: A. D. Rakić, Appl. Opt. 34, 4755 (1995), interpolated)', () => {
    const { R } = spectrum(plainStack([NM], 1, [], [1.015, 6.627]), []);
    expect(R[0]).toBeCloseTo(0.91538, 4);
  });
});

describe('an antireflection coating', () => {
  it.each([
    [1.45846, 0.01758471],
    [1.5168, 0.01283544],
    [1.52, 0.01260079],
    [1.785, 0.00104736],
    [4, 0.12596945],
  ])(
    'of a quarter wave of 1.38 on %f reflects %f (textbook relation: ((n0 ns − n1²) / (n0 ns + n1²))²)',
    (glass, expected) => {
      expect(reflected([1.38], [1], glass)).toBeCloseTo(expected, 7);
    },
  );

  it('of one quarter wave reflects nothing where its index is √(n0 ns) = 1.232883 on 1.52 (textbook relation)', () => {
    expect(reflected([1.232883], [1], 1.52)).toBeLessThan(1e-12);
    expect(reflected([Math.sqrt(1.52)], [1], 1.52)).toBeLessThan(1e-30);
  });

  it('of two quarter waves reflects nothing where n2 / n1 = √(ns / n0): 1.701378 under 1.38 on 1.52 (textbook relation)', () => {
    expect(reflected([1.701378, 1.38], [1, 1], 1.52)).toBeLessThan(1e-12);
  });

  it('of three quarter waves reflects nothing where n1 n3 = n2 √(n0 ns) (textbook relation)', () => {
    const [outer, middle, glass] = [1.38, 2.05, 1.52];
    const inner = (middle * Math.sqrt(glass)) / outer;
    expect(reflected([inner, middle, outer], [1, 1, 1], glass)).toBeLessThan(1e-29);
  });

  it.each([
    [1.38, 2.3, 1.52, 0.70655821, 1.79010532],
    [1.38, 2.3, 1.52, 1.29344179, 0.20989468],
    [1.46, 2.35, 1.52, 0.67455799, 1.73693573],
    [1.46, 2.35, 1.52, 1.32544201, 0.26306427],
    [1.38, 2.1, 1.5168, 0.72812011, 1.73187196],
    [1.38, 2.1, 1.5168, 1.27187989, 0.26812804],
  ])(
    'of %f over %f on %f reflects nothing with %f and %f quarter waves (textbook relation: two-layer zero)',
    (outer, inner, glass, first, second) => {
      expect(reflected([inner, outer], [second, first], glass)).toBeLessThan(1e-14);
    },
  );

  it('of quarter, half, quarter (1.63, 2.05, 1.38 on 1.52) reflects 0.1834617 % in the middle (closed form)', () => {
    expect(reflected([1.63, 2.05, 1.38], [1, 2, 1], 1.52)).toBeCloseTo(0.001834617, 8);
  });
});

describe('a quarter-wave mirror', () => {
  const mirror = (count: number) => Array.from({ length: count }, (_, j) => (j % 2 === 0 ? 2.35 : 1.46));
  const ones = (count: number) => Array.from({ length: count }, () => 1);

  it.each([
    [1, 0.323004795],
    [3, 0.652750933],
    [5, 0.848643412],
    [7, 0.93864673],
    [11, 0.990612023],
    [17, 0.999457737],
    [21, 0.999919193],
  ])(
    'of %i layers 2.35 and 1.46 on 1.52 reflects %f (textbook relation: Y = (nH/nL)^2p nH²/ns)',
    (count, expected) => {
      expect(reflected(mirror(count), ones(count), 1.52)).toBeCloseTo(expected, 8);
    },
  );

  it.each([
    [2.35, 1.46, 0.15009849],
    [2.35, 1.38, 0.16748049],
    [2.1, 1.46, 0.11507412],
    [4, 2.2, 0.18752522],
  ])(
    'of %f and %f reflects all but nothing within ± %f of its wave number, and not outside (textbook relation: (2/π) asin((nH − nL)/(nH + nL)))',
    (high, low, half) => {
      const layers = Array.from({ length: 400 }, (_, j) => (j % 2 === 0 ? high : low));
      const at = (g: number) => reflected(layers, ones(400), 1.52, NM / g);
      for (const side of [-1, 1]) {
        expect(at(1 + side * half * 0.99)).toBeGreaterThan(0.999999);
        const beyond = Array.from({ length: 60 }, (_, i) => at(1 + side * (half * 1.01 + i * 1e-3)));
        expect(Math.min(...beyond)).toBeLessThan(0.9);
      }
    },
  );

  it('has stop bands at odd orders only (textbook relation)', () => {
    const at = (g: number) => reflected(mirror(41), ones(41), 1.52, NM / g);
    for (const g of [1, 3, 5]) expect(at(g)).toBeGreaterThan(0.9999999);
    for (const g of [2, 4]) expect(at(g)).toBeCloseTo(bare(1.52, 0, 's'), 10);
  });

  it('that begins with the high index turns the electric field round: phase π', () => {
    // An admittance that grows without limit gives r = −1, phase π (Y >> n0; textbook relation).
    const stack = plainStack([NM], 1, mirror(21), 1.52);
    const thicknessNm = Float64Array.from(mirror(21), (n) => NM / 4 / n);
    const [only] = computeSpectrum(stack, thicknessNm, { incidenceRad: [0] });
    expect(Math.abs(only!.s.phaseRad[0]!)).toBeCloseTo(Math.PI, 10);
    expect(only!.p.phaseRad[0]).toBe(only!.s.phaseRad[0]);
  });
});

describe('a film at an angle', () => {
  it.each([
    [30, 0.95576922],
    [45, 0.9093897],
  ])(
    'of index 1.7 turns at %i° where the wavelength is %f of the normal one (textbook relation: √(1 − (sin θ / n)²))',
    (deg, ratio) => {
      // The half-wave point: the film is absent there for s and p.
      const thickness = NM / 2 / 1.7;
      for (const polarization of ['s', 'p'] as const) {
        const { R } = spectrum(
          plainStack([NM * ratio], 1, [1.7], 1.52),
          [thickness],
          deg * RAD,
          polarization,
        );
        expect(R[0]).toBeCloseTo(bare(1.52, deg * RAD, polarization), 12);
      }
    },
  );
});
