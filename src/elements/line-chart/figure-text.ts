import type { ChartAxis } from './line-chart-data.ts';

/** A figure for people: `digits` significant digits, exponents only where zeros would have to be counted. */
export function figureText(value: number | undefined, digits = 4): string {
  if (value === undefined || !Number.isFinite(value)) return '–';
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size >= 1e-4 && size < 1e7) {
    const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(size)));
    return minus(value.toFixed(Math.min(decimals, 12)));
  }
  const [mantissa = '', exponent = ''] = value.toExponential(digits - 1).split('e');
  return `${minus(mantissa)}·10${raised(Number(exponent))}`;
}

/** A figure with no more digits than it needs, at most `digits` significant ones. */
export function placeText(value: number | undefined, digits = 6): string {
  if (value === undefined || !Number.isFinite(value)) return '–';
  return minus(String(Number(value.toPrecision(digits))));
}

/** A place on an axis: what it is called, else its figure with the unit. */
export function axisPlace(
  { unit, nameOf }: Pick<ChartAxis, 'unit' | 'nameOf'>,
  value: number | undefined,
): string {
  const figure = placeText(value);
  const name = value === undefined ? undefined : nameOf?.(value);
  return name ?? (unit === '' || figure === '–' ? figure : `${figure} ${unit}`);
}

/** A tick's figure: as many decimals as the step between ticks needs. */
export function tickText(value: number, step: number): string {
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size < 1e-4 || size >= 1e7) {
    const exponent = Math.floor(Math.log10(size) + 1e-9);
    const mantissa = Number((value / 10 ** exponent).toPrecision(3));
    return mantissa === 1 ? `10${raised(exponent)}` : `${minus(String(mantissa))}·10${raised(exponent)}`;
  }
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return minus(value.toFixed(Math.min(decimals, 10)));
}

const minus = (text: string) => text.replace('-', '−');
const raised = (exponent: number) =>
  [...String(exponent)].map((sign) => (sign === '-' ? '⁻' : '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(sign)])).join('');
