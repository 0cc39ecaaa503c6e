import { describe, expect, it } from 'vitest';
import {
  conductanceM3PerS,
  effectiveSpeedM3PerS,
  exposureFactor,
  molecularConductanceM3PerS,
} from '../../src/chamber/conductance.ts';
import { impingementPerM2S, meanFreePathM, meanSpeedMPerS, unscatteredPart } from '../../src/chamber/gas.ts';

describe('a thin gas', () => {
  it.each([
    [0.001, 6.47807],
    [0.01, 0.64781],
    [0.02, 0.3239],
    [0.1, 0.06478],
  ])('of nitrogen at %d Pa and 20 °C has a mean free path of %d m', (pressurePa, pathM) => {
    // k T/(sqrt2 pi d^2 p), CODATA k, d = 0.375 nm; computed outside this program.
    expect(meanFreePathM(pressurePa) / pathM).toBeCloseTo(1, 4);
  });

  it("keeps the handbooks' rule of 6.6 mm at 1 Pa", () => {
    // Common vacuum handbooks, from memory; ± 0.3.
    expect(Math.abs(meanFreePathM(1) * 1000 - 6.6)).toBeLessThan(0.3);
  });

  it('strikes each cm² 2.9075e14 times a second at 1e-4 Pa', () => {
    // p/sqrt(2 pi m k T), computed outside this program.
    expect(impingementPerM2S(1e-4) / 1e4 / 2.9075e14).toBeCloseTo(1, 3);
    // p/sqrt(2 pi m k T) is n v/4 with n = p/kT.
    const density = 1e-4 / (1.380649e-23 * 293.15);
    expect(impingementPerM2S(1e-4) / ((density * meanSpeedMPerS()) / 4)).toBeCloseTo(1, 12);
  });

  it('lets 90.48 % through over a tenth of its mean free path', () => {
    expect(unscatteredPart(meanFreePathM(0.02) * 100, 0.02)).toBeCloseTo(0.90483742, 8);
  });

  it('of no pressure has no mean free path to tell', () => {
    expect(() => meanFreePathM(0)).toThrow('pressurePa: 0 Pa is not above 0 Pa');
    expect(() => meanFreePathM(1, -300)).toThrow('temperatureC: -300 °C is not above -273.15 °C');
  });
});

describe('a pipe', () => {
  it('of no length conducts as an opening: 11.6 l/s for each cm² of air-like gas', () => {
    // A v/4 at 20 °C: 11.8 for nitrogen, 11.6 for air (vacuum handbooks, from memory).
    const area = Math.PI * 5 ** 2;
    const perCm2 = (1000 * molecularConductanceM3PerS({ diameterMm: 100, lengthMm: 0 })) / area;
    expect(perCm2).toBeCloseTo(11.77, 1);
  });

  it("passes molecules with Clausing's probabilities to 0.2 %", () => {
    // P. Clausing, Ann. Phys. 12 (1932) 961-989, from memory: L/r = 1, 2, 4, 10, 20.
    const opening = molecularConductanceM3PerS({ diameterMm: 100, lengthMm: 0 });
    for (const [lengths, probability] of [
      [1, 0.672],
      [2, 0.5142],
      [4, 0.3566],
      [10, 0.1909],
      [20, 0.1094],
    ] as const) {
      const passed = molecularConductanceM3PerS({ diameterMm: 100, lengthMm: 50 * lengths }) / opening;
      expect(Math.abs(passed / probability - 1)).toBeLessThan(0.002);
    }
  });

  it('conducts more at higher pressure, and throttles the pump in series', () => {
    const pipe = { diameterMm: 40, lengthMm: 1500 };
    expect(conductanceM3PerS(pipe, 100)).toBeGreaterThan(10 * conductanceM3PerS(pipe, 0.01));
    expect(effectiveSpeedM3PerS(2, [2])).toBeCloseTo(1, 12);
    expect(effectiveSpeedM3PerS(1, [1, 1])).toBeCloseTo(1 / 3, 12);
    expect(() => effectiveSpeedM3PerS(0, [])).toThrow('pumpM3PerS: 0 m3/s is not above 0 m3/s');
  });

  it('follows walls that stood four times as long in air with twice the gas', () => {
    expect(exposureFactor(120)).toBeCloseTo(2, 12);
  });
});
