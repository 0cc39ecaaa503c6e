import * as v from 'valibot';
import { NM_PER_UM } from '../base/constants.ts';
import { atPath, InputError } from '../base/errors.ts';
import { choice, hasKey, list, quantity, shown, text } from '../base/schema.ts';
import { columnCurve, tableColumns } from './forms/table.ts';
import { findMaterial } from './library.ts';
import { materialCurves } from './material-curves.ts';
import { packedIndex, packing, WATER_MODEL_END_NM } from './packing.ts';
import type { MaterialRecord } from './record.ts';

const anyIndex = { above: 0, max: 1000 } as const;

const idSpec = text(80, 'the id of a material');
const numberSpec = quantity('', anyIndex, 'the same index at every wavelength');
const complexSpec = v.strictObject({
  n: quantity('', anyIndex),
  k: v.optional(quantity('', { min: 0, max: 1000 }, 'extinction: N = n − ik'), 0),
});
const tableSpec = v.strictObject(tableColumns);
const cauchySpec = v.strictObject({
  cauchy: list(quantity('', {}), { min: 1, max: 3 }, 'A, B, C in n = A + B/λ² + C/λ⁴, λ in µm'),
});
const noSpec = v.never(
  (issue) =>
    `${shown(issue.input)} is not an index; it is a material id, a number, {"n", "k"}, ` +
    '{"wavelengthNm", "n", "k"}, {"cauchy"} or {"variantOf"}',
);

type PlainSchema =
  | typeof idSpec
  | typeof numberSpec
  | typeof complexSpec
  | typeof tableSpec
  | typeof cauchySpec
  | typeof noSpec;

const plainShapes = [idSpec, numberSpec, complexSpec, tableSpec, cauchySpec] as const;

function pickPlain(input: unknown): PlainSchema {
  if (typeof input === 'string') return idSpec;
  if (typeof input === 'number') return numberSpec;
  if (hasKey(input, 'cauchy')) return cauchySpec;
  if (hasKey(input, 'wavelengthNm')) return tableSpec;
  return hasKey(input, 'n') || hasKey(input, 'k') ? complexSpec : noSpec;
}

/** An index as the shop's chamber makes it: porous, a little higher or lower, with losses of its own. */
const variantSpec = v.strictObject({
  variantOf: choice<PlainSchema>(plainShapes, pickPlain, 'the index of the dense, clean material'),
  packing: v.exactOptional(packing),
  indexScale: v.optional(quantity('', { min: 0.5, max: 2 }, 'factor on n, after the packing'), 1),
  addedK: v.optional(quantity('', { min: 0, max: 10 }, 'added to k at every wavelength'), 0),
});

/** CONTRACT's INDEX: a refractive index in any of the ways that a request may give it. */
export const indexSpec = choice<PlainSchema | typeof variantSpec>(
  [...plainShapes, variantSpec],
  (input) => (hasKey(input, 'variantOf') ? variantSpec : pickPlain(input)),
  'refractive index: a material id, a number, {"n", "k"}, a table, {"cauchy": [A, B, C]} or a variant',
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
    const curves =
      typeof spec === 'object' && 'variantOf' in spec ? variantCurves(spec, own) : plainCurves(spec, own);
    return onGrid(curves, wavelengthNm);
  } catch (error) {
    throw error instanceof InputError ? atPath(path, error) : error;
  }
}

/** An index as functions of the wavelength in nm, with what is known about them. */
interface Curves {
  readonly n: (wavelengthNm: number) => number;
  readonly k: (wavelengthNm: number) => number;
  readonly rangeNm?: readonly [number, number];
  readonly source: string;
  readonly label: string;
  readonly caution?: string;
}

function onGrid({ n, k, rangeNm, ...rest }: Curves, wavelengthNm: Float64Array): ResolvedIndex {
  const [from, to] = rangeNm ?? [0, Infinity];
  const inRange = Array.from(wavelengthNm, (nm) => nm >= from && nm <= to);
  const outside = wavelengthNm.filter((_, i) => !inRange[i]);
  return {
    n: wavelengthNm.map(n),
    k: wavelengthNm.map(k),
    inRange,
    warnings: outside.length === 0 ? [] : [rangeWarning(rest.label, outside, from, to)],
    ...rest,
  };
}

function rangeWarning(label: string, outside: Float64Array, from: number, to: number): string {
  const [least, most] = [outside.reduce((a, b) => Math.min(a, b)), outside.reduce((a, b) => Math.max(a, b))];
  const where = least === most ? `${least} nm lies` : `wavelengths between ${least} and ${most} nm lie`;
  return `${label}: ${where} outside its data (${from} to ${to} nm); the value at the nearer end is used.`;
}

function plainCurves(spec: PlainIndexSpec, own: readonly MaterialRecord[]): Curves {
  if (typeof spec === 'string') return materialCurvesOf(spec, own);
  if (typeof spec === 'number') return { n: () => spec, k: () => 0, source: 'constant', label: String(spec) };
  if ('cauchy' in spec) return cauchyCurves(spec.cauchy);
  if ('wavelengthNm' in spec) return tableCurves(spec);
  const label = spec.k === 0 ? String(spec.n) : `${spec.n} − ${spec.k}i`;
  return { n: () => spec.n, k: () => spec.k, source: 'constant', label };
}

function materialCurvesOf(id: string, own: readonly MaterialRecord[]): Curves {
  const record = findMaterial(id, own);
  if (record === undefined) throw new InputError('', `${shown(id)} is not a known material`);
  return {
    ...materialCurves(record),
    rangeNm: record.rangeNm,
    source: citation(record),
    label: record.name,
    ...(record.caution === undefined ? {} : { caution: record.caution }),
  };
}

function cauchyCurves([a = 0, b = 0, c = 0]: readonly number[]): Curves {
  return {
    n: (nm) => {
      const squareUm = (nm / NM_PER_UM) ** 2;
      const n = a + b / squareUm + c / squareUm ** 2;
      if (n > 0 && n < Infinity) return n;
      throw new InputError('cauchy', `the series gives n = ${n} at ${nm} nm; n must be finite and above 0`);
    },
    k: () => 0,
    source: 'Cauchy coefficients of the request',
    label: 'Cauchy',
  };
}

function tableCurves({ wavelengthNm, n, k }: v.InferOutput<typeof tableSpec>): Curves {
  return {
    n: columnCurve(wavelengthNm, n, 'n', 'monotone-cubic'),
    k: k === undefined ? () => 0 : columnCurve(wavelengthNm, k, 'k', 'monotone-cubic'),
    rangeNm: [wavelengthNm[0]!, wavelengthNm.at(-1)!],
    source: 'table of the request',
    label: 'table',
  };
}

function variantCurves(spec: IndexVariant, own: readonly MaterialRecord[]): Curves {
  const base = plainCurves(spec.variantOf, own);
  const { packing: given, indexScale, addedK } = spec;
  const value = (nm: number) => {
    const solid = { n: base.n(nm), k: base.k(nm) };
    return given === undefined ? solid : packedIndex(solid, given);
  };
  const cautions = [
    base.caution,
    given?.voids === 'water' && given.density < 1
      ? `absorption of the water in the voids is left out, which matters beyond ${WATER_MODEL_END_NM} nm`
      : undefined,
  ].filter((caution) => caution !== undefined);
  return {
    ...base,
    n: (nm) => value(nm).n * indexScale,
    k: (nm) => value(nm).k + addedK,
    label: [base.label, ...changesOf(spec)].join(', '),
    ...(cautions.length === 0 ? {} : { caution: cautions.join('; ') }),
  };
}

function changesOf({ packing: given, indexScale, addedK }: IndexVariant): string[] {
  return [
    given === undefined || given.density === 1
      ? ''
      : `packing ${given.density} with ${given.voids === 'water' ? 'water' : 'empty voids'}`,
    indexScale === 1 ? '' : `n × ${indexScale}`,
    addedK === 0 ? '' : `k + ${addedK}`,
  ].filter((change) => change !== '');
}

/** The source of a record in one line. */
export function citation({ source }: MaterialRecord): string {
  return source.provenance === 'dataset' ? source.cites : `${source.cites} (${source.provenance})`;
}
