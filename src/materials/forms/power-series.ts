import * as v from 'valibot';
import { list, quantity } from '../../base/schema.ts';

const number = quantity('', {});

/** One term c·λ^p of a series in the wavelength λ in µm. */
const powerTerm = v.strictObject({ coefficient: number, power: quantity('', { min: -12, max: 12 }) });
const powerTerms = list(powerTerm, { max: 12 });

/** n = c₀ + Σ c·λ^p, λ in µm (A. L. Cauchy 1836 with even negative powers; any powers here). */
export const cauchyForm = v.strictObject({ form: v.literal('cauchy'), constant: number, terms: powerTerms });

/** n² = c₀ + Σ c·λ^p, λ in µm: the series that glass catalogues use besides Sellmeier's. */
export const polynomialForm = v.strictObject({
  form: v.literal('polynomial'),
  constant: number,
  terms: powerTerms,
});

export interface PowerTerm {
  readonly coefficient: number;
  readonly power: number;
}

/** c₀ + Σ c·λ^p at a wavelength in µm. */
export function powerSeries(constant: number, terms: readonly PowerTerm[], wavelengthUm: number): number {
  return terms.reduce((sum, { coefficient, power }) => sum + coefficient * wavelengthUm ** power, constant);
}
