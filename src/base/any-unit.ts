import { create, unitDependencies } from 'mathjs';
import { tidy, unitSpelling } from './known-units.ts';
import type { QuantityFault } from './quantity.ts';

const { unit: quantity } = create({ unitDependencies: unitDependencies! });

/**
 * `value` from any unit that mathjs knows to another. Import this file only when such a unit turns up
 * (`await import('./any-unit.ts')`): it brings about 65 kB.
 */
export function convertAnyUnit(value: number, from: string, to: string): number | QuantityFault {
  const target = spelled(to);
  if (target === undefined) return { fault: `"${to}" is not a unit` };
  const source = spelled(from);
  if (source === undefined) return { fault: `"${from}" is not a unit` };
  if (!source.equalBase(target)) return { fault: `"${from}" does not measure what ${to} measures` };
  return tidy(quantity(value, unitSpelling(from)).toNumber(unitSpelling(to)));
}

function spelled(unit: string) {
  try {
    return quantity(1, unitSpelling(unit));
  } catch {
    return undefined;
  }
}
