import * as v from 'valibot';
import { list, quantity } from '../../base/schema.ts';

const number = quantity('', {});
const upTo = (max: number) => list(number, { min: 1, max });

/** n − 1 = c₁ + Σ c₂ᵢ/(c₂ᵢ₊₁ − λ⁻²), λ in µm: the dispersion of gases, as metrology writes it. */
export const gasForm = v.strictObject({ form: v.literal('gas'), coefficients: upTo(17) });

/**
 * n = c₁ + c₂L + c₃L² + c₄λ² + c₅λ⁴ + c₆λ⁶ with L = 1/(λ² − 0.028), λ in µm.
 * M. Herzberger, Opt. Acta 6, 197-215 (1959).
 */
export const herzbergerForm = v.strictObject({ form: v.literal('herzberger'), coefficients: upTo(6) });

/** (n² − 1)/(n² + 2) = c₁ + c₂λ²/(λ² − c₃) + c₄λ², λ in µm: used for crystals of the halides of silver. */
export const refractivityForm = v.strictObject({ form: v.literal('refractivity'), coefficients: upTo(4) });

/** n² = c₁ + c₂/(λ² − c₃) + c₄(λ − c₅)/((λ − c₅)² + c₆), λ in µm: used for organic crystals. */
export const damperForm = v.strictObject({ form: v.literal('damped-resonance'), coefficients: upTo(6) });

type Coefficients = readonly number[];

/** n of a gas at a wavelength in µm. */
export function gasIndex([constant = 0, ...pairs]: Coefficients, um: number): number {
  let n = 1 + constant;
  for (let i = 0; i + 1 < pairs.length; i += 2) n += pairs[i]! / (pairs[i + 1]! - 1 / (um * um));
  return n;
}

/** n by Herzberger's formula at a wavelength in µm. */
export function herzbergerIndex([c1 = 0, c2 = 0, c3 = 0, c4 = 0, c5 = 0, c6 = 0]: Coefficients, um: number) {
  const square = um * um;
  const l = 1 / (square - 0.028);
  return c1 + c2 * l + c3 * l * l + c4 * square + c5 * square ** 2 + c6 * square ** 3;
}

/** n² from the specific refractivity at a wavelength in µm. */
export function refractivitySquare([c1 = 0, c2 = 0, c3 = 0, c4 = 0]: Coefficients, um: number): number {
  const square = um * um;
  const refractivity = c1 + (c2 * square) / (square - c3) + c4 * square;
  return (1 + 2 * refractivity) / (1 - refractivity);
}

/** n² with a damped resonance at a wavelength in µm. */
export function dampedSquare([c1 = 0, c2 = 0, c3 = 0, c4 = 0, c5 = 0, c6 = 0]: Coefficients, um: number) {
  const away = um - c5;
  return c1 + (c2 === 0 ? 0 : c2 / (um * um - c3)) + (c4 === 0 ? 0 : (c4 * away) / (away * away + c6));
}
