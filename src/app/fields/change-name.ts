import { significant } from '../../base/format.ts';
import { convertKnownUnit } from '../../base/known-units.ts';

/** The name of an edit of a number, such as "Lens diameter 32 → 34 mm", in the unit that the reader prefers. */
export function changeName(
  label: string,
  before: number | undefined,
  after: number | undefined,
  unit: string,
  displayUnit = unit,
): string {
  const shown = convertKnownUnit(1, unit, displayUnit) === undefined ? unit : displayUnit;
  const write = (value: number | undefined) =>
    value === undefined
      ? 'empty'
      : significant(convertKnownUnit(value, unit, shown) ?? value, 5)
          .replace(/(\.\d*?)0+$/, '$1')
          .replace(/\.$/, '');
  return `${label} ${write(before)} → ${write(after)} ${shown}`.trim();
}
