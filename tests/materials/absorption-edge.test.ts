import { describe, expect, it } from 'vitest';
import { indexCurves } from '../../src/materials/dispersion.ts';
import {
  EV_UM,
  taucLorentzPermittivity,
  urbachExtinction,
} from '../../src/materials/forms/absorption-edge.ts';

const oscillator = { amplitudeEv: 122, peakEv: 3.45, broadeningEv: 2.54, gapEv: 1.2 };
// parameters of the size found for amorphous silicon films (from memory)
const silicon = { form: 'tauc-lorentz' as const, epsilonInfinity: 1.15, oscillators: [oscillator] };

const at = (photonEv: number) => taucLorentzPermittivity(silicon, EV_UM / photonEv);

/** ε∞ + (2/π) P∫ ξ·ε₂(ξ)/(ξ² − E²) dξ by the midpoint rule, points lying evenly on both sides of the pole. */
function kramersKronig(photonEv: number): number {
  const stepEv = 0.002;
  const offset = (photonEv / stepEv) % 1;
  let sum = 0;
  for (let i = 0; i < 1_000_000; i++) {
    const ev = (i + offset + 0.5) * stepEv;
    sum += (ev * at(ev).imaginary * stepEv) / (ev * ev - photonEv * photonEv);
  }
  return silicon.epsilonInfinity + (2 / Math.PI) * sum;
}

describe('the Tauc-Lorentz form', () => {
  it.each([0.5, 1, 1.5, 3, 3.45, 5, 8])('joins its two parts by Kramers and Kronig at %d eV', (photonEv) => {
    // the integral's tail beyond 2000 eV is below 1e-6
    expect(at(photonEv).real).toBeCloseTo(kramersKronig(photonEv), 3);
  });

  it('is finite and smooth at the gap, where two terms of the published formula are infinite', () => {
    const [below, gap, above] = [at(1.2 - 1e-7), at(1.2), at(1.2 + 1e-7)];
    expect(gap.real).toBeGreaterThan(below.real - 1e-5);
    expect(gap.real).toBeCloseTo((below.real + above.real) / 2, 6);
  });

  it('absorbs above the gap only, and below it as the tail says', () => {
    const { n, k } = indexCurves(silicon);
    expect(k((EV_UM / 1.1) * 1000)).toBe(0);
    expect(k(400)).toBeGreaterThan(0.5);
    expect(n(2000)).toBeGreaterThan(2);
    const tail = { form: 'urbach', absorptionPerUm: 1, edgeEv: 1.2, widthEv: 0.05 } as const;
    const tailed = indexCurves(silicon, tail);
    expect(tailed.k(1200)).toBe(urbachExtinction(tail, 1.2));
    expect(tailed.k(400)).toBe(k(400));
  });
});

describe('the Urbach tail', () => {
  const tail = { form: 'urbach', absorptionPerUm: 2, edgeEv: 3, widthEv: 0.1 } as const;
  const absorption = (photonEv: number) =>
    (urbachExtinction(tail, EV_UM / photonEv) * 4 * Math.PI * photonEv) / EV_UM;

  it('falls by e in its width and stays at its edge value above the edge', () => {
    expect(absorption(3)).toBeCloseTo(2, 12);
    expect(absorption(2.9)).toBeCloseTo(2 / Math.E, 12);
    expect(absorption(2.8)).toBeCloseTo(2 / Math.E ** 2, 12);
    expect(absorption(4)).toBeCloseTo(2, 12);
  });
});
