import { S_PER_H, S_PER_MIN } from './constants.ts';

/** The true minus sign, as printed figures have it. */
const MINUS = '\u2212';

/**
 * A number with a fixed count of decimals, a true minus sign and no "-0". `decimals` 0 to 20.
 * A value that is not finite gives "–": it should never get here, and must not look like a figure.
 */
export function fixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return '–';
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? MINUS + text : text;
}

/** A number with about `digits` significant digits and never an exponent between 1e-4 and 1e7. */
export function significant(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return '–';
  if (value === 0) return '0';
  const size = Math.floor(Math.log10(Math.abs(value)));
  if (size < -4 || size > 6) {
    const text = Math.abs(value).toExponential(digits - 1);
    return value < 0 ? MINUS + text : text;
  }
  return fixed(value, Math.max(0, digits - 1 - size));
}

/** A fraction as percent: 0.00412 → "0.41 %". */
export function percent(fraction: number, decimals = 2): string {
  return `${fixed(100 * fraction, decimals)} %`;
}

/** A duration in the units that a chamber's log uses: "2 h 51 min", "12 min 30 s", "45 s". */
export function duration(seconds: number): string {
  if (!Number.isFinite(seconds)) return '–';
  if (seconds < 0) return MINUS + duration(-seconds);
  const whole = Math.round(seconds);
  if (whole >= S_PER_H) {
    const minutes = Math.round(seconds / S_PER_MIN);
    return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
  }
  if (whole >= 10 * S_PER_MIN) return `${Math.round(seconds / S_PER_MIN)} min`;
  if (whole >= S_PER_MIN) {
    const rest = whole % S_PER_MIN;
    return `${Math.floor(whole / S_PER_MIN)} min${rest === 0 ? '' : ` ${String(rest).padStart(2, '0')} s`}`;
  }
  return seconds > 0 && seconds < 9.95 ? `${significant(seconds, 2)} s` : `${whole} s`;
}

/** A moment within a run as h:mm:ss from its start. */
export function clock(seconds: number): string {
  if (!Number.isFinite(seconds)) return '–';
  const whole = Math.round(seconds);
  const two = (value: number) => String(value).padStart(2, '0');
  return `${Math.floor(whole / S_PER_H)}:${two(Math.floor((whole % S_PER_H) / 60))}:${two(whole % 60)}`;
}

/** A list as a sentence has it: "a", "a and b", "a, b and c". */
export function listed(items: readonly string[]): string {
  if (items.length < 2) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

/** "1 lens", "2 lenses". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** A chemical formula with its numbers set low: "Ta2O5" → "Ta₂O₅". */
export function formula(text: string): string {
  return text.replace(/(?<=[A-Za-z)\]])\d+/g, (digits) =>
    [...digits].map((digit) => String.fromCodePoint(0x2080 + Number(digit))).join(''),
  );
}

/** The sentence with a capital at its head. */
export function capital(sentence: string): string {
  return sentence.slice(0, 1).toUpperCase() + sentence.slice(1);
}
