import { NM_PER_UM } from '../base/constants.ts';
import { InputError } from '../base/errors.ts';
import { shown } from '../base/schema.ts';
import { columnCurve } from './forms/table.ts';
import type { IndexSpec, IndexVariant, PlainIndexSpec } from './index-spec.ts';
import { findMaterial } from './library.ts';
import { materialCurves } from './material-curves.ts';
import type { MaterialRecord } from './record.ts';
import { variantCaution, variantCurves, variantWords } from './variant.ts';

/** An index as functions of the wavelength in nm, with what is known about them. */
export interface SpecCurves {
  readonly n: (wavelengthNm: number) => number;
  readonly k: (wavelengthNm: number) => number;
  readonly rangeNm?: readonly [number, number];
  readonly source: string;
  readonly label: string;
  readonly caution?: string;
}

/**
 * Makes a spec's curves; beyond `rangeNm` they hold the nearer end's value.
 * @throws InputError where the material is unknown or a table is out of order; a curve throws where a
 * formula has no index.
 */
export function specCurves(spec: IndexSpec, own: readonly MaterialRecord[]): SpecCurves {
  return typeof spec === 'object' && 'variantOf' in spec
    ? curvesOfVariant(spec, own)
    : plainCurves(spec, own);
}

function plainCurves(spec: PlainIndexSpec, own: readonly MaterialRecord[]): SpecCurves {
  if (typeof spec === 'string') return materialCurvesOf(spec, own);
  if (typeof spec === 'number') return { n: () => spec, k: () => 0, source: 'constant', label: String(spec) };
  if ('cauchy' in spec) return cauchyCurves(spec.cauchy);
  if ('wavelengthNm' in spec) return tableCurves(spec);
  const label = spec.k === 0 ? String(spec.n) : `${spec.n} − ${spec.k}i`;
  return { n: () => spec.n, k: () => spec.k, source: 'constant', label };
}

function materialCurvesOf(id: string, own: readonly MaterialRecord[]): SpecCurves {
  const record = findMaterial(id, own);
  if (record === undefined) {
    const near = findMaterial(id.trim().toLowerCase(), own);
    const hint = near === undefined ? '' : `; ${shown(near.id)} is`;
    throw new InputError('', `${shown(id)} is not a known material${hint}`);
  }
  return {
    ...materialCurves(record),
    rangeNm: record.rangeNm,
    source: citation(record),
    label: record.name,
    ...(record.caution === undefined ? {} : { caution: record.caution }),
  };
}

function cauchyCurves([a = 0, b = 0, c = 0]: readonly number[]): SpecCurves {
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

function tableCurves({ wavelengthNm, n, k }: Extract<PlainIndexSpec, { wavelengthNm: unknown }>): SpecCurves {
  return {
    n: columnCurve(wavelengthNm, n, 'n', 'monotone-cubic'),
    k: k === undefined ? () => 0 : columnCurve(wavelengthNm, k, 'k', 'monotone-cubic'),
    rangeNm: [wavelengthNm[0]!, wavelengthNm.at(-1)!],
    source: 'table of the request',
    label: 'table',
  };
}

function curvesOfVariant(spec: IndexVariant, own: readonly MaterialRecord[]): SpecCurves {
  const base = plainCurves(spec.variantOf, own);
  const cautions = [base.caution, variantCaution(spec)].filter((caution) => caution !== undefined);
  return {
    ...base,
    ...variantCurves(base, spec),
    label: [base.label, ...variantWords(spec)].join(', '),
    ...(cautions.length === 0 ? {} : { caution: cautions.join('; ') }),
  };
}

/** The source of a record in one line. */
export function citation({ source }: MaterialRecord): string {
  return source.provenance === 'dataset' ? source.cites : `${source.cites} (${source.provenance})`;
}
