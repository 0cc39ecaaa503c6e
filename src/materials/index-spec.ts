import * as v from 'valibot';
import { parseComplexIndex } from '../base/complex-text.ts';
import { atPath, InputError } from '../base/errors.ts';
import { choice, hasKey, list, quantity, shown, text } from '../base/schema.ts';
import { tableColumns } from './forms/table.ts';
import type { MaterialRecord } from './record.ts';
import { type SpecCurves, specCurves } from './spec-curves.ts';
import { variantFields } from './variant.ts';

const anyIndex = { above: 0, max: 1000 } as const;

const idSpec = text(80, 'the id of a material');
const numberSpec = quantity('', anyIndex, 'the same index at every wavelength');
const complexSpec = v.strictObject({
  n: quantity('', anyIndex),
  k: v.optional(quantity('', { min: 0, max: 1000 }, 'extinction: N = n − ik'), 0),
});
const complexTextSpec = v.pipe(
  text(80, 'N = n − ik as text, such as "1.38-0.01i"'),
  v.check(
    (written: string) => faultOfComplex(written) === undefined,
    (issue) => faultOfComplex(issue.input) ?? '',
  ),
  v.transform((written): { n: number; k: number } => parseComplexIndex(written)),
);
const tableSpec = v.strictObject(tableColumns);
const cauchySpec = v.strictObject({
  cauchy: list(quantity('', {}), { min: 1, max: 3 }, 'A, B, C in n = A + B/λ² + C/λ⁴, λ in µm'),
});
const noSpec = v.never(
  (issue) =>
    `${shown(issue.input)} is not an index; it is a material id, a number, "n-ki", {"n", "k"}, ` +
    '{"wavelengthNm", "n", "k"}, {"cauchy"} or {"variantOf"}',
);

type PlainSchema =
  | typeof idSpec
  | typeof complexTextSpec
  | typeof numberSpec
  | typeof complexSpec
  | typeof tableSpec
  | typeof cauchySpec
  | typeof noSpec;

const plainShapes = [idSpec, complexTextSpec, numberSpec, complexSpec, tableSpec, cauchySpec] as const;

function pickPlain(input: unknown): PlainSchema {
  if (typeof input === 'string') return looksComplex(input) ? complexTextSpec : idSpec;
  if (typeof input === 'number') return numberSpec;
  if (hasKey(input, 'cauchy')) return cauchySpec;
  if (hasKey(input, 'wavelengthNm')) return tableSpec;
  return hasKey(input, 'n') || hasKey(input, 'k') ? complexSpec : noSpec;
}

/** Ids begin with a letter or are a glass's digits, so that a number ending in i can only be a complex one. */
function looksComplex(written: string): boolean {
  return /^\s*[\d.+\-−].*i\s*$/.test(written);
}

function faultOfComplex(written: string): string | undefined {
  try {
    const { n } = parseComplexIndex(written);
    return n > 0 && n <= anyIndex.max
      ? undefined
      : `${shown(written)} has n = ${n}, which is not above 0 and up to ${anyIndex.max}`;
  } catch (error) {
    if (error instanceof InputError) return error.reason;
    throw error;
  }
}

/** An index as the shop's chamber makes it: porous, a little higher or lower, with losses of its own. */
const variantSpec = v.strictObject({
  variantOf: choice<PlainSchema>(plainShapes, pickPlain, 'the index of the dense, clean material'),
  ...variantFields,
});

/** CONTRACT's INDEX: a refractive index in any of the ways that a request may give it. */
export const indexSpec = choice<PlainSchema | typeof variantSpec>(
  [...plainShapes, variantSpec],
  (input) => (hasKey(input, 'variantOf') ? variantSpec : pickPlain(input)),
  'refractive index: a material id, a number, "1.38-0.01i", {"n", "k"}, a table, {"cauchy": [A, B, C]} or a variant',
);

/** An index without the shop's changes to it. */
export type PlainIndexSpec = v.InferOutput<Exclude<PlainSchema, typeof noSpec>>;
export type IndexVariant = v.InferOutput<typeof variantSpec>;
export type IndexSpec = PlainIndexSpec | IndexVariant;

/** An index on a grid of wavelengths; N = n − ik. */
export interface ResolvedIndex {
  readonly n: Float64Array;
  readonly k: Float64Array;
  /** For each wavelength whether the data reach there; outside, the nearer end's value is held. */
  readonly inRange: boolean[];
  /** Where the numbers come from, as one would cite it. */
  readonly source: string;
  /** A short name for charts and warnings. */
  readonly label: string;
  /** A sentence where the data are used outside their range. */
  readonly warnings: readonly string[];
  /** What the data are not good for, where the record says so. */
  readonly caution?: string;
}

/**
 * Looks up an index on a grid of wavelengths.
 * @param wavelengthNm vacuum wavelengths, above 0, in any order.
 * @param own the shop's own materials; they go before the library's of the same id.
 * @param path where the spec stands, for errors.
 * @throws InputError where the material is unknown, a table is out of order or n is not above 0.
 */
export function resolveIndex(
  spec: IndexSpec,
  wavelengthNm: Float64Array,
  own: readonly MaterialRecord[] = [],
  path = '',
): ResolvedIndex {
  try {
    return curvesOnGrid(specCurves(spec, own), wavelengthNm);
  } catch (error) {
    throw error instanceof InputError ? atPath(path, error) : error;
  }
}

/**
 * The index that curves give on a grid of wavelengths, for callers that look the same spec up on many grids.
 * @throws InputError where a formula has no index.
 */
export function curvesOnGrid(
  { n, k, rangeNm, ...rest }: SpecCurves,
  wavelengthNm: Float64Array,
): ResolvedIndex {
  const [from, to] = rangeNm ?? [0, Infinity];
  const inRange: boolean[] = new Array(wavelengthNm.length);
  let reaches = true;
  for (let i = 0; i < wavelengthNm.length; i++) {
    const isInside = wavelengthNm[i]! >= from && wavelengthNm[i]! <= to;
    inRange[i] = isInside;
    reaches &&= isInside;
  }
  const outside = () => wavelengthNm.filter((_, i) => !inRange[i]);
  return {
    n: wavelengthNm.map(n),
    k: wavelengthNm.map(k),
    inRange,
    warnings: reaches ? [] : [rangeWarning(rest.label, outside(), from, to)],
    ...rest,
  };
}

function rangeWarning(label: string, outside: Float64Array, from: number, to: number): string {
  const [least, most] = [
    outside.reduce((a, b) => Math.min(a, b)),
    outside.reduce((a, b) => Math.max(a, b)),
  ].map((nm) => Number(nm.toPrecision(6)));
  const where = least === most ? `${least} nm lies` : `wavelengths between ${least} and ${most} nm lie`;
  return `${label}: ${where} outside its data (${from} to ${to} nm); the value at the nearer end is used.`;
}
