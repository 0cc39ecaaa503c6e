import { convertKnownUnit } from './known-units.ts';
import { type QuantityFault, readQuantity } from './quantity.ts';

/**
 * Reads what was typed into `unit`. A number without a unit counts in `unitWhenBare`. Answers at once where
 * the unit is an everyday one, else with a promise, because the library of all units is fetched then.
 */
export function readInUnit(
  text: string,
  unit: string,
  unitWhenBare: string = unit,
): number | QuantityFault | Promise<number | QuantityFault> {
  const typed = readQuantity(text);
  if ('fault' in typed) return typed;
  const from = typed.unit === '' ? unitWhenBare : typed.unit;
  const known = convertKnownUnit(typed.number, from, unit);
  if (known !== undefined) return known;
  if (unit === '' || unit === '%')
    return {
      fault: `"${from}" is not expected here: ${unit === '' ? 'a plain number is' : 'per cent are'} asked for`,
    };
  return import('./any-unit.ts').then(({ convertAnyUnit }) => convertAnyUnit(typed.number, from, unit));
}
