import type { HeadingMeaning, ValueScale, XUnit } from './column-heading.ts';

/** A measured spectrum as it was understood: wavelengths ascending in nm, values as fractions. */
export interface MeasuredSpectrum {
  readonly wavelengthNm: Float64Array;
  readonly quantity: 'R' | 'T' | 'A';
  readonly values: Float64Array;
  /** Every column that the file has, and what was taken it for. */
  readonly columns: readonly FoundColumn[];
  /** What was found out about the file, for a preview that a person can correct. */
  readonly understood: Understanding;
  /** What a person should know: guesses, lines left out, doubles. */
  readonly warnings: readonly string[];
}

export interface FoundColumn {
  /** Counted from 1. */
  readonly number: number;
  readonly heading: string;
  readonly role: HeadingMeaning['role'];
  readonly isUsed: boolean;
}

/** How a file was read. */
export interface Understanding {
  readonly format: 'columns' | 'JCAMP-DX';
  readonly title?: string;
  readonly xUnit: XUnit;
  readonly scale: ValueScale;
  readonly encoding?: string;
  readonly delimiter?: string;
  readonly decimalMark?: string;
}

/** What a person says about a file where the guess was wrong. */
export interface ReadingChoices {
  /** Number (from 1) or heading of the column of values; for JCAMP-DX the number or title of the block. */
  readonly column?: number | string;
  readonly xUnit?: XUnit;
  readonly scale?: ValueScale;
  /** The scale where the file names none. */
  readonly usualScale?: ValueScale;
  readonly quantity?: 'R' | 'T' | 'A';
}

/** A spectrum as it stands in a file, before units are made ours. */
export interface RawSpectrum {
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** undefined, as the two below, where the file does not say it. */
  readonly xUnit: XUnit | undefined;
  readonly quantity: 'R' | 'T' | 'A' | undefined;
  readonly scale: ValueScale | undefined;
}
