import * as v from 'valibot';
import { NM_PER_UM } from '../base/constants.ts';
import { atPath, InputError } from '../base/errors.ts';
import { choice, hasKey, list, quantity, shown, text } from '../base/schema.ts';
import { columnCurve, tableColumns } from './forms/table.ts';
import { findMaterial } from './library.ts';
import { isInRange, materialCurves } from './material-curves.ts';
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
    '{"wavelengthNm", "n", "k"} or {"cauchy"}',
);

type SpecSchema =
  | typeof idSpec
  | typeof numberSpec
  | typeof complexSpec
  | typeof tableSpec
  | typeof cauchySpec
  | typeof noSpec;

/** CONTRACT's INDEX: a refractive index in any of the ways that a request may give it. */
export const indexSpec = choice<SpecSchema>(
  [idSpec, numberSpec, complexSpec, tableSpec, cauchySpec],
  (input) => {
    if (typeof input === 'string') return idSpec;
    if (typeof input === 'number') return numberSpec;
    if (hasKey(input, 'cauchy')) return cauchySpec;
    if (hasKey(input, 'wavelengthNm')) return tableSpec;
    return hasKey(input, 'n') || hasKey(input, 'k') ? complexSpec : noSpec;
  },
  'refractive index: a material id, a number, {"n", "k"}, a table or {"cauchy": [A, B, C]}',
);

export type IndexSpec = v.InferOutput<Exclude<SpecSchema, typeof noSpec>>;

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
    return resolve(spec, wavelengthNm, own);
  } catch (error) {
    throw error instanceof InputError ? atPath(path, error) : error;
  }
}

function resolve(spec: IndexSpec, wavelengthNm: Float64Array, own: readonly MaterialRecord[]): ResolvedIndex {
  if (typeof spec === 'string') return ofMaterial(spec, wavelengthNm, own);
  if (typeof spec === 'number')
    return everywhere(
      wavelengthNm,
      () => spec,
      () => 0,
      'constant',
      String(spec),
    );
  if ('cauchy' in spec) {
    const [a = 0, b = 0, c = 0] = spec.cauchy;
    const n = (nm: number) => {
      const squareUm = (nm / NM_PER_UM) ** 2;
      const value = a + b / squareUm + c / squareUm ** 2;
      if (value > 0) return value;
      throw new InputError('cauchy', `the series gives n = ${value} at ${nm} nm; n must be above 0`);
    };
    return everywhere(wavelengthNm, n, () => 0, 'Cauchy coefficients of the request', 'Cauchy');
  }
  if ('wavelengthNm' in spec) return ofTable(spec, wavelengthNm);
  const label = spec.k === 0 ? String(spec.n) : `${spec.n} − ${spec.k}i`;
  return everywhere(
    wavelengthNm,
    () => spec.n,
    () => spec.k,
    'constant',
    label,
  );
}

function ofMaterial(id: string, wavelengthNm: Float64Array, own: readonly MaterialRecord[]): ResolvedIndex {
  const record = findMaterial(id, own);
  if (record === undefined) throw new InputError('', `${shown(id)} is not a known material`);
  const { n, k } = materialCurves(record);
  return {
    n: wavelengthNm.map(n),
    k: wavelengthNm.map(k),
    inRange: Array.from(wavelengthNm, (nm) => isInRange(record, nm)),
    source: citation(record),
    label: record.name,
  };
}

function ofTable(
  { wavelengthNm: x, n, k }: v.InferOutput<typeof tableSpec>,
  wavelengthNm: Float64Array,
): ResolvedIndex {
  const curveN = columnCurve(x, n, 'n', 'monotone-cubic');
  const curveK = k === undefined ? () => 0 : columnCurve(x, k, 'k', 'monotone-cubic');
  const [from, to] = [x[0]!, x.at(-1)!];
  return {
    n: wavelengthNm.map(curveN),
    k: wavelengthNm.map(curveK),
    inRange: Array.from(wavelengthNm, (nm) => nm >= from && nm <= to),
    source: 'table of the request',
    label: 'table',
  };
}

function everywhere(
  wavelengthNm: Float64Array,
  n: (nm: number) => number,
  k: (nm: number) => number,
  source: string,
  label: string,
): ResolvedIndex {
  return {
    n: wavelengthNm.map(n),
    k: wavelengthNm.map(k),
    inRange: Array.from(wavelengthNm, () => true),
    source,
    label,
  };
}

/** The source of a record in one line. */
export function citation({ source }: MaterialRecord): string {
  return source.provenance === 'dataset' ? source.cites : `${source.cites} (${source.provenance})`;
}
