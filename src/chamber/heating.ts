import { InputError, requireWithin } from '../base/errors.ts';

/** A load that follows its heater (or its cool surroundings) with one time constant. */
export interface ThermalRamp {
  readonly fromC: number;
  readonly toC: number;
  /** Where the temperature would end: that of the heated (or cool) surroundings. */
  readonly surroundingsC: number;
  readonly timeConstantS: number;
  /** Fastest change that the glass bears, K/min; left out: no limit. */
  readonly maxRateKPerMin?: number;
}

/**
 * Time in s from one temperature to the other: dT/dt = (T∞ − T) / τ (Newton's law of cooling), held back to the
 * fastest allowed change as long as it would be faster. While held, the time is the temperature step over the
 * rate; after that, τ ln of the ratio of the distances to T∞.
 * @throws InputError for a value outside its range and for a temperature that is never reached.
 */
export function rampDurationS(ramp: ThermalRamp): number {
  const { fromC, toC, surroundingsC, timeConstantS, maxRateKPerMin } = ramp;
  requireWithin('fromC', fromC, '°C', { min: -200, max: 2000 });
  requireWithin('toC', toC, '°C', { min: -200, max: 2000 });
  requireWithin('surroundingsC', surroundingsC, '°C', { min: -200, max: 2000 });
  requireWithin('timeConstantS', timeConstantS, 's', { above: 0, max: 1e6 });
  requireWithin('maxRateKPerMin', maxRateKPerMin ?? 1, 'K/min', { above: 0, max: 1e4 });
  if (toC === fromC) return 0;
  const start = Math.abs(surroundingsC - fromC);
  const end = Math.abs(surroundingsC - toC);
  const between = Math.sign(surroundingsC - toC) === Math.sign(toC - fromC);
  if (!between)
    throw new InputError(
      'toC',
      `${toC} °C is never reached from ${fromC} °C: the surroundings are at ${surroundingsC} °C`,
    );
  const heldUntil =
    maxRateKPerMin === undefined ? start : Math.min(start, (maxRateKPerMin / 60) * timeConstantS);
  const handOver = Math.max(end, heldUntil);
  const heldS = maxRateKPerMin === undefined ? 0 : (start - handOver) / (maxRateKPerMin / 60);
  const freeS = timeConstantS * Math.log(handOver / end);
  return heldS + freeS;
}

/** What the stress in a heated plate depends on. */
export interface PlateInHeat {
  readonly thicknessMm: number;
  readonly youngGPa: number;
  readonly poisson: number;
  readonly expansionPerK: number;
  readonly conductivityWPerMK: number;
  readonly densityGPerCm3: number;
  readonly heatJPerGK: number;
  /** Tension that the surface is allowed, MPa; glass shops stay below about 10 (common practice, no source). */
  readonly allowedMPa: number;
}

/**
 * Fastest steady change of temperature, K/min, that a plate of this thickness bears when both its faces follow
 * the surroundings. At a steady rate r the faces run ahead of the middle by a parabola of height
 * r (b/2)² / 2a (a = conductivity / (density · heat)), and the stress at the faces is 2/3 of that height times
 * E α / (1 − ν) (S. P. Timoshenko & J. N. Goodier, Theory of Elasticity, 3rd ed., sec. 149-150, from memory).
 * @throws InputError for a value outside its range.
 */
export function safeRateKPerMin(plate: PlateInHeat): number {
  requireWithin('thicknessMm', plate.thicknessMm, 'mm', { above: 0, max: 1000 });
  requireWithin('youngGPa', plate.youngGPa, 'GPa', { above: 0, max: 2000 });
  requireWithin('poisson', plate.poisson, '', { min: 0, below: 0.5 });
  requireWithin('expansionPerK', plate.expansionPerK, 'per K', { above: 0, max: 1e-3 });
  requireWithin('conductivityWPerMK', plate.conductivityWPerMK, 'W/(m K)', { above: 0, max: 5000 });
  requireWithin('densityGPerCm3', plate.densityGPerCm3, 'g/cm3', { above: 0, max: 30 });
  requireWithin('heatJPerGK', plate.heatJPerGK, 'J/(g K)', { above: 0, max: 20 });
  requireWithin('allowedMPa', plate.allowedMPa, 'MPa', { above: 0, max: 1000 });
  // W/(m K) over (g/cm3 · J/(g K)) is 1e-6 m²/s, that is mm²/s.
  const diffusivityMm2PerS = plate.conductivityWPerMK / (plate.densityGPerCm3 * plate.heatJPerGK);
  const differenceK =
    (1.5 * plate.allowedMPa * (1 - plate.poisson)) / (plate.youngGPa * 1000 * plate.expansionPerK);
  return (60 * differenceK * 2 * diffusivityMm2PerS) / (plate.thicknessMm / 2) ** 2;
}
