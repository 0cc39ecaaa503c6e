import { BOLTZMANN_J_PER_K, CELSIUS_ZERO_K } from '../base/constants.ts';
import { requireWithin } from '../base/errors.ts';

/** A gas as kinetic theory needs it. */
export interface Gas {
  readonly molecularMassKg: number;
  /** Diameter of a molecule as a hard sphere, m. */
  readonly diameterM: number;
}

/** Nitrogen: 28.0134 u; 0.375 nm (from memory; 0.37 to 0.38 nm are in use). */
export const NITROGEN: Gas = { molecularMassKg: 28.0134 * 1.660_539_068_92e-27, diameterM: 0.375e-9 };

/**
 * Mean free path in m: k T / (√2 π d² p) (J. C. Maxwell, 1860; any textbook of kinetic theory).
 * @param pressurePa above 0; @param temperatureC above −273.15. @throws InputError for another.
 */
export function meanFreePathM(pressurePa: number, temperatureC = 20, gas = NITROGEN): number {
  const kelvin = kelvinOf(temperatureC);
  requireWithin('pressurePa', pressurePa, 'Pa', { above: 0, max: 1e7 });
  return (BOLTZMANN_J_PER_K * kelvin) / (Math.SQRT2 * Math.PI * gas.diameterM ** 2 * pressurePa);
}

/**
 * Part of the vapour that flies `distanceMm` without a collision: exp(−distance / mean free path).
 * @throws InputError for a value outside its range.
 */
export function unscatteredPart(
  distanceMm: number,
  pressurePa: number,
  temperatureC = 20,
  gas = NITROGEN,
): number {
  requireWithin('distanceMm', distanceMm, 'mm', { min: 0, max: 1e5 });
  return Math.exp(-distanceMm / 1000 / meanFreePathM(pressurePa, temperatureC, gas));
}

/**
 * Molecules that strike a surface per m² and second: p / √(2π m k T) (Hertz-Knudsen).
 * @throws InputError for a value outside its range.
 */
export function impingementPerM2S(pressurePa: number, temperatureC = 20, gas = NITROGEN): number {
  const kelvin = kelvinOf(temperatureC);
  requireWithin('pressurePa', pressurePa, 'Pa', { min: 0, max: 1e7 });
  return pressurePa / Math.sqrt(2 * Math.PI * gas.molecularMassKg * BOLTZMANN_J_PER_K * kelvin);
}

/** Mean speed of the molecules, m/s: √(8 k T / π m). */
export function meanSpeedMPerS(temperatureC = 20, gas = NITROGEN): number {
  return Math.sqrt((8 * BOLTZMANN_J_PER_K * kelvinOf(temperatureC)) / (Math.PI * gas.molecularMassKg));
}

function kelvinOf(temperatureC: number): number {
  requireWithin('temperatureC', temperatureC, '°C', { above: -CELSIUS_ZERO_K, max: 5000 });
  return temperatureC + CELSIUS_ZERO_K;
}
