import { requireWithin } from '../base/errors.ts';
import { molecularConductanceM3PerS, type Pipe, viscousConductanceM3PerS } from './conductance.ts';

/**
 * Speed that a pump leaves at the chamber, m3/s, when it draws through a round pipe: 1/S = 1/S_pump + 1/C (conductances
 * in series). C = a p̄ + b, viscous and molecular part added (`conductanceM3PerS`), at the mean of the pressures at both
 * ends; the one at the pump follows from the throughput, S_pump p_pump = S p, so that x = S / S_pump solves
 * (a p / 2) x² + (b + S_pump) x − (a p / 2 + b) = 0.
 * @param chamberPa pressure in the chamber, 0 to 200 000 Pa. @throws InputError for a value outside its range.
 */
export function speedThroughLineM3PerS(pumpM3PerS: number, line: Pipe, chamberPa: number): number {
  requireWithin('pumpM3PerS', pumpM3PerS, 'm3/s', { above: 0, max: 1000 });
  requireWithin('chamberPa', chamberPa, 'Pa', { min: 0, max: 2e5 });
  const molecular = molecularConductanceM3PerS(line);
  const viscous = (viscousConductanceM3PerS(line, 1) * chamberPa) / 2;
  const middle = molecular + pumpM3PerS;
  // Solved in the form that subtracts nothing.
  const x =
    (2 * (viscous + molecular)) / (middle + Math.sqrt(middle ** 2 + 4 * viscous * (viscous + molecular)));
  return x * pumpM3PerS;
}
