import { convertKnownUnit } from '../../base/known-units.ts';
import type { LineDraft } from './line-draft.ts';

/** One way in which something is said in an order line. */
export interface OrderWord {
  /** Sticky and without regard to case; tried where the line has been read to. */
  readonly pattern: RegExp;
  readonly take: (match: RegExpExecArray, line: LineDraft) => void;
}

/** Parts of patterns: a number with decimal point or comma, and what may stand between a name and its value. */
export const NUMBER = String.raw`(\d+(?:[.,]\d+)?|[.,]\d+)`;
export const SIGNED = String.raw`([+-]?\s?\d+(?:[.,]\d+)?)`;
export const IS = String.raw`\.?\s*[=:]?\s*`;

/** A word that no letter or digit follows at once, nor a decimal. */
export function word(pattern: string, take: OrderWord['take']): OrderWord {
  return { pattern: new RegExp(String.raw`(?:${pattern})(?![a-z0-9]|[.,]\d)`, 'iy'), take };
}

/** A number as it was typed. */
export function typedNumber(text: string | undefined): number {
  return Number((text ?? '').replace(/\s/g, '').replace(',', '.'));
}

/** A typed number in `to`; a bare one counts in `usual`. */
export function typedLength(
  number: string | undefined,
  unit: string | undefined,
  usual: string,
  to: string,
): number {
  const from = (unit ?? usual).toLowerCase().replace(/^(inch|")$/, 'in');
  return convertKnownUnit(typedNumber(number), from, to) ?? typedNumber(number);
}
