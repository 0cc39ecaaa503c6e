import * as v from 'valibot';
import { choice, hasKey, list, quantity } from '../../base/schema.ts';

const number = quantity('', {});

const bySquare = v.strictObject({
  strength: number,
  resonanceUm2: quantity('µm²', { min: -1e6, max: 1e10 }),
});
const byWavelength = v.strictObject({ strength: number, resonanceUm: quantity('µm', { min: 0, max: 1e5 }) });

const term = choice<typeof bySquare | typeof byWavelength>([bySquare, byWavelength], (input) =>
  hasKey(input, 'resonanceUm') ? byWavelength : bySquare,
);

/**
 * n² − 1 = c₀ + Σ B·λ²/(λ² − C), λ in µm; C given as the square of the resonance wavelength
 * (`resonanceUm2`) or as the wavelength itself (`resonanceUm`), whichever the paper prints.
 * W. Sellmeier, Ann. Phys. 219, 272-282 (1871).
 */
export const sellmeierForm = v.strictObject({
  form: v.literal('sellmeier'),
  constant: v.optional(number, 0),
  terms: list(term, { min: 1, max: 12 }),
});

/**
 * n² = c₀ + Σ B·λ^a/(λ² − C^b) + Σ c·λ^p, λ in µm: the general form of the open refractive-index
 * dataset's formula 4, which papers on crystals need.
 */
export const generalSellmeierForm = v.strictObject({
  form: v.literal('general-sellmeier'),
  constant: number,
  resonances: list(
    v.strictObject({
      strength: number,
      power: quantity('', { min: -12, max: 12 }),
      resonanceUm: quantity('µm', { min: -1e5, max: 1e5 }),
      resonancePower: quantity('', { min: -12, max: 12 }),
    }),
    { min: 1, max: 12 },
  ),
  terms: v.optional(
    list(v.strictObject({ coefficient: number, power: quantity('', { min: -12, max: 12 }) }), { max: 12 }),
    [],
  ),
});

/** n² of a Sellmeier form at a wavelength in µm. */
export function sellmeierSquare(
  { constant, terms }: v.InferOutput<typeof sellmeierForm>,
  wavelengthUm: number,
): number {
  const square = wavelengthUm * wavelengthUm;
  return terms.reduce((sum, term) => {
    const resonance = 'resonanceUm2' in term ? term.resonanceUm2 : term.resonanceUm * term.resonanceUm;
    return sum + (term.strength * square) / (square - resonance);
  }, 1 + constant);
}

/** n² of a general Sellmeier form at a wavelength in µm. */
export function generalSellmeierSquare(
  { constant, resonances, terms }: v.InferOutput<typeof generalSellmeierForm>,
  wavelengthUm: number,
): number {
  const square = wavelengthUm * wavelengthUm;
  let sum = constant;
  for (const { strength, power, resonanceUm, resonancePower } of resonances)
    sum += (strength * wavelengthUm ** power) / (square - resonanceUm ** resonancePower);
  for (const { coefficient, power } of terms) sum += coefficient * wavelengthUm ** power;
  return sum;
}
