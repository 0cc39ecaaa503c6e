import { InputError, requireWithin } from '../base/errors.ts';
import { type Gas, meanSpeedMPerS, NITROGEN } from './gas.ts';

/** A round pipe between pump and chamber. */
export interface Pipe {
  readonly diameterMm: number;
  readonly lengthMm: number;
}

/** Viscosity of air at 20 °C, Pa s (handbook value, from memory). */
export const AIR_VISCOSITY_PA_S = 1.82e-5;

/**
 * Conductance of a pipe in molecular flow, m3/s: that of its opening, A v̄ / 4, times the probability that a
 * molecule that enters comes out at the other end.
 * @throws InputError for a value outside its range.
 */
export function molecularConductanceM3PerS(pipe: Pipe, temperatureC = 20, gas: Gas = NITROGEN): number {
  const { radiusM, lengthM } = metres(pipe);
  const opening = (Math.PI * radiusM ** 2 * meanSpeedMPerS(temperatureC, gas)) / 4;
  return opening * passingProbability(lengthM / radiusM);
}

/**
 * The probability of passing a round pipe of length x radii: A. S. Berman, J. Appl. Phys. 36, 3356, 1965 (from
 * memory), within 0.2 % of P. Clausing's values (Ann. Phys. 12, 961-989, 1932); 1 for an opening, 8/3x for a long
 * pipe.
 */
function passingProbability(x: number): number {
  if (x < 1e-3) return 1 - x / 2;
  const root = Math.sqrt(x * x + 4);
  const above = (8 - x * x) * root + x ** 3 - 16;
  const below = 72 * x * root - 288 * Math.log((x + root) / 2);
  return 1 + (x * x) / 4 - (x / 4) * root - above ** 2 / below;
}

/**
 * Conductance of the same pipe in viscous laminar flow at the mean pressure between its ends, m3/s:
 * π r⁴ p̄ / (8 η L) (Poiseuille), the length taken longer by one diameter,
 * so that a short pipe does not exceed its own opening (textbooks' end correction, from memory).
 * @throws InputError for a value outside its range.
 */
export function viscousConductanceM3PerS(
  pipe: Pipe,
  meanPressurePa: number,
  viscosityPaS = AIR_VISCOSITY_PA_S,
): number {
  const { radiusM, lengthM } = metres(pipe);
  requireWithin('meanPressurePa', meanPressurePa, 'Pa', { min: 0, max: 2e5 });
  requireWithin('viscosityPaS', viscosityPaS, 'Pa s', { above: 0, max: 1 });
  return (Math.PI * radiusM ** 4 * meanPressurePa) / (8 * viscosityPaS * (lengthM + 2 * radiusM));
}

/**
 * Conductance over the whole range of pressure, m3/s: the viscous part and the molecular one added, which is right
 * at both ends and within about 10 % between (M. Knudsen, Ann. Phys. 28, 75-130, 1909, in its simplest form).
 */
export function conductanceM3PerS(pipe: Pipe, meanPressurePa: number): number {
  return viscousConductanceM3PerS(pipe, meanPressurePa) + molecularConductanceM3PerS(pipe);
}

/**
 * Speed that is left at the chamber, m3/s: 1/S = 1/S_pump + Σ 1/C (conductances in series).
 * @throws InputError where a speed or conductance is not above 0.
 */
export function effectiveSpeedM3PerS(pumpM3PerS: number, conductancesM3PerS: readonly number[]): number {
  requireWithin('pumpM3PerS', pumpM3PerS, 'm3/s', { above: 0, max: 1000 });
  let inverse = 1 / pumpM3PerS;
  conductancesM3PerS.forEach((conductance, index) => {
    requireWithin(`conductancesM3PerS[${index}]`, conductance, 'm3/s', { above: 0 });
    inverse += 1 / conductance;
  });
  return 1 / inverse;
}

/**
 * How much more the walls give off than after a normal load, when they stood in air of the shop for
 * `exposureMin` instead of `normalMin`: water gathers with the square root of the time, as diffusion into the
 * porous coating of the liners has it (common practice, no source).
 * @returns a factor for the outgassing rate. @throws InputError for a value outside its range.
 */
export function exposureFactor(exposureMin: number, normalMin = 30): number {
  requireWithin('exposureMin', exposureMin, 'min', { min: 0, max: 1e6 });
  requireWithin('normalMin', normalMin, 'min', { above: 0, max: 1e6 });
  return Math.sqrt(exposureMin / normalMin);
}

function metres({ diameterMm, lengthMm }: Pipe): { radiusM: number; lengthM: number } {
  requireWithin('diameterMm', diameterMm, 'mm', { above: 0, max: 5000 });
  requireWithin('lengthMm', lengthMm, 'mm', { min: 0, max: 1e5 });
  if (lengthMm > 1000 * diameterMm)
    throw new InputError('lengthMm', `${lengthMm} mm is above ${1000 * diameterMm} mm, a thousand diameters`);
  return { radiusM: diameterMm / 2000, lengthM: lengthMm / 1000 };
}
