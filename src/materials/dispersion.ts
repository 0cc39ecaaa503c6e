import * as v from 'valibot';
import { unreachable } from '../base/assert.ts';
import { NM_PER_UM } from '../base/constants.ts';
import { InputError } from '../base/errors.ts';
import { choice, shown } from '../base/schema.ts';
import {
  taucLorentzForm,
  taucLorentzPermittivity,
  urbachExtinction,
  urbachTail,
} from './forms/absorption-edge.ts';
import { compileExpression, expressionForm, extinctionExpression } from './forms/expression.ts';
import {
  dampedSquare,
  damperForm,
  gasForm,
  gasIndex,
  herzbergerForm,
  herzbergerIndex,
  refractivityForm,
  refractivitySquare,
} from './forms/less-common.ts';
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
  gas: gasForm,
  herzberger: herzbergerForm,
  refractivity: refractivityForm,
  'damped-resonance': damperForm,
  'tauc-lorentz': taucLorentzForm,
  expression: expressionForm,
  table: tableForm,
} as const;

const EXTINCTION_FORMS = {
  table: extinctionTable,
  urbach: urbachTail,
  expression: extinctionExpression,
} as const;

/** How the index depends on the wavelength. A fault speaks of the form that was named. */
export const dispersion = formChoice(FORMS, 'how n depends on the wavelength: a formula or a table');

/** How the extinction k depends on the wavelength where the dispersion does not say it. */
export const extinction = formChoice(EXTINCTION_FORMS, 'how k depends on the wavelength');

export type Dispersion = v.InferOutput<(typeof FORMS)[keyof typeof FORMS]>;
export type Extinction = v.InferOutput<(typeof EXTINCTION_FORMS)[keyof typeof EXTINCTION_FORMS]>;

/** A number at a wavelength in nm. */
export type Curve = (wavelengthNm: number) => number;

/** n and k of a material as functions of the wavelength. */
export interface IndexCurves {
  readonly n: Curve;
  readonly k: Curve;
}

/**
 * Makes the curves of a dispersion. They hold no range: the caller keeps the wavelength within it. Where a
 * Tauc–Lorentz form comes with an extinction of its own, that one counts below the gap.
 * @throws InputError where a table is out of order; a curve throws where a formula has no index.
 */
export function indexCurves(given: Dispersion, ownExtinction?: Extinction): IndexCurves {
  const own = ownExtinction === undefined ? undefined : extinctionCurve(ownExtinction);
  if (given.form === 'tauc-lorentz') return taucLorentzCurves(given, own);
  const n = refractiveCurve(given);
  if (own !== undefined) return { n, k: own };
  if (given.form !== 'table' || given.k === undefined) return { n, k: () => 0 };
  return { n, k: columnCurve(given.wavelengthNm, given.k, 'k', given.interpolation) };
}

function refractiveCurve(given: Exclude<Dispersion, { form: 'tauc-lorentz' }>): Curve {
  switch (given.form) {
    case 'sellmeier':
      return rooted((um) => sellmeierSquare(given, um));
    case 'general-sellmeier':
      return rooted((um) => generalSellmeierSquare(given, um));
    case 'polynomial':
      return rooted((um) => powerSeries(given.constant, given.terms, um));
    case 'refractivity':
      return rooted((um) => refractivitySquare(given.coefficients, um));
    case 'damped-resonance':
      return rooted((um) => dampedSquare(given.coefficients, um));
    case 'cauchy':
      return positive((um) => powerSeries(given.constant, given.terms, um));
    case 'gas':
      return positive((um) => gasIndex(given.coefficients, um));
    case 'herzberger':
      return positive((um) => herzbergerIndex(given.coefficients, um));
    case 'expression':
      return positive(compileExpression(given.n, 'n'));
    case 'table':
      return columnCurve(given.wavelengthNm, given.n, 'n', given.interpolation);
    default:
      return unreachable(given);
  }
}

function extinctionCurve(given: Extinction): Curve {
  switch (given.form) {
    case 'table':
      return columnCurve(given.wavelengthNm, given.k, 'k', given.interpolation);
    case 'urbach':
      return (nm) => urbachExtinction(given, nm / NM_PER_UM);
    case 'expression': {
      const formula = compileExpression(given.k, 'k');
      return (nm) => {
        const k = formula(nm / NM_PER_UM);
        if (k >= 0 && k < Infinity) return k;
        throw new InputError(
          '',
          `the extinction gives k = ${k} at ${nm} nm; k must be finite and not below 0`,
        );
      };
    }
    default:
      return unreachable(given);
  }
}

/** N² = ε with N = n − ik: the root with n > 0, k >= 0. */
function taucLorentzCurves(
  given: Extract<Dispersion, { form: 'tauc-lorentz' }>,
  belowGap: Curve | undefined,
): IndexCurves {
  const values = (nm: number) => {
    const { real, imaginary } = taucLorentzPermittivity(given, nm / NM_PER_UM);
    const size = Math.hypot(real, imaginary);
    const n = Math.sqrt((size + real) / 2);
    if (!(n > 0 && n < Infinity)) throw noIndex(nm, `n = ${n}`);
    return { n, k: imaginary / (2 * n) };
  };
  return {
    n: (nm) => values(nm).n,
    k: (nm) => {
      const { k } = values(nm);
      return k > 0 || belowGap === undefined ? k : belowGap(nm);
    },
  };
}

/** A curve in nm from a formula for n in µm. */
function positive(formula: (wavelengthUm: number) => number): Curve {
  return (nm) => {
    const n = formula(nm / NM_PER_UM);
    if (!(n > 0 && n < Infinity)) throw noIndex(nm, `n = ${n}`);
    return n;
  };
}

/** A curve in nm from a formula for n² in µm. */
function rooted(formula: (wavelengthUm: number) => number): Curve {
  return (nm) => {
    const square = formula(nm / NM_PER_UM);
    if (!(square > 0 && square < Infinity)) throw noIndex(nm, `n² = ${square}`);
    return Math.sqrt(square);
  };
}

function noIndex(nm: number, got: string): InputError {
  return new InputError('', `the dispersion gives ${got} at ${nm} nm; n must be finite and above 0`);
}

/** A choice by the field "form". */
function formChoice<Forms extends Readonly<Record<string, v.GenericSchema>>>(forms: Forms, note: string) {
  const names = Object.keys(forms).map((name) => `"${name}"`);
  const unknownForm = v.never(
    (issue) => `${shown(issue.input)} has no known "form"; it is one of ${names.join(', ')}`,
  );
  return choice<Forms[keyof Forms] | typeof unknownForm>(
    Object.values(forms) as Forms[keyof Forms][],
    (input) => {
      const form = typeof input === 'object' && input !== null && 'form' in input ? input.form : undefined;
      if (typeof form !== 'string' || !Object.hasOwn(forms, form)) return unknownForm;
      return forms[form] as Forms[keyof Forms];
    },
    note,
  );
}
