import * as v from 'valibot';
import { unreachable } from '../base/assert.ts';
import { NM_PER_UM } from '../base/constants.ts';
import { InputError } from '../base/errors.ts';
import { choice, shown } from '../base/schema.ts';
import { cauchyForm, polynomialForm, powerSeries } from './forms/power-series.ts';
import {
  generalSellmeierForm,
  generalSellmeierSquare,
  sellmeierForm,
  sellmeierSquare,
} from './forms/sellmeier.ts';
import { columnCurve, extinctionTable, tableForm } from './forms/table.ts';

const FORMS = {
  sellmeier: sellmeierForm,
  'general-sellmeier': generalSellmeierForm,
  cauchy: cauchyForm,
  polynomial: polynomialForm,
  table: tableForm,
} as const;

type FormSchema = (typeof FORMS)[keyof typeof FORMS];

const unknownForm = v.never((issue) => {
  const names = Object.keys(FORMS).map((name) => `"${name}"`);
  return `${shown(issue.input)} is not a dispersion; its "form" is one of ${names.join(', ')}`;
});

/** How the index depends on the wavelength. A fault speaks of the form that was named. */
export const dispersion = choice<FormSchema | typeof unknownForm>(
  Object.values(FORMS),
  (input) => {
    const form = typeof input === 'object' && input !== null && 'form' in input ? input.form : undefined;
    return typeof form === 'string' && Object.hasOwn(FORMS, form)
      ? FORMS[form as keyof typeof FORMS]
      : unknownForm;
  },
  'dispersion: a formula in the wavelength or a table',
);

/** How the extinction k depends on the wavelength where the dispersion does not say it. */
export const extinction = extinctionTable;

export type Dispersion = v.InferOutput<FormSchema>;
export type Extinction = v.InferOutput<typeof extinction>;

/** A number at a wavelength in nm. */
export type Curve = (wavelengthNm: number) => number;

/** n and k of a material as functions of the wavelength. */
export interface IndexCurves {
  readonly n: Curve;
  readonly k: Curve;
}

/**
 * Makes the curves of a dispersion. They hold no range: the caller keeps the wavelength within it.
 * @throws InputError where a table is out of order; the curve itself throws where a formula has no index.
 */
export function indexCurves(given: Dispersion, ownExtinction?: Extinction): IndexCurves {
  const k = extinctionCurve(given, ownExtinction);
  switch (given.form) {
    case 'sellmeier':
      return { n: rooted((um) => sellmeierSquare(given, um)), k };
    case 'general-sellmeier':
      return { n: rooted((um) => generalSellmeierSquare(given, um)), k };
    case 'polynomial':
      return { n: rooted((um) => powerSeries(given.constant, given.terms, um)), k };
    case 'cauchy':
      return { n: positive((um) => powerSeries(given.constant, given.terms, um)), k };
    case 'table':
      return { n: columnCurve(given.wavelengthNm, given.n, 'n', given.interpolation), k };
    default:
      return unreachable(given);
  }
}

function extinctionCurve(given: Dispersion, own: Extinction | undefined): Curve {
  if (own !== undefined) return columnCurve(own.wavelengthNm, own.k, 'k', own.interpolation);
  if (given.form === 'table' && given.k !== undefined)
    return columnCurve(given.wavelengthNm, given.k, 'k', given.interpolation);
  return () => 0;
}

/** A curve in nm from a formula for n in µm. */
export function positive(formula: (wavelengthUm: number) => number): Curve {
  return (nm) => {
    const n = formula(nm / NM_PER_UM);
    if (!(n > 0 && n < Infinity)) throw noIndex(nm, `n = ${n}`);
    return n;
  };
}

/** A curve in nm from a formula for n² in µm. */
export function rooted(formula: (wavelengthUm: number) => number): Curve {
  return (nm) => {
    const square = formula(nm / NM_PER_UM);
    if (!(square > 0 && square < Infinity)) throw noIndex(nm, `n² = ${square}`);
    return Math.sqrt(square);
  };
}

function noIndex(nm: number, got: string): InputError {
  return new InputError('', `the dispersion gives ${got} at ${nm} nm; n must be finite and above 0`);
}
