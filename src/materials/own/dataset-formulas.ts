import { InputError } from '../../base/errors.ts';
import { shown } from '../../base/schema.ts';
import type { Dispersion } from '../dispersion.ts';

/**
 * The nine formulas of the open refractive-index dataset, by its published description of the format;
 * λ in µm, c₁ the first coefficient.
 * @param formula 1..9.
 * @throws InputError where the coefficients do not suit the formula.
 */
export function datasetFormula(formula: number, coefficients: readonly number[]): Dispersion {
  const [constant = 0, ...rest] = coefficients;
  const powers = () => pairs(rest, formula).map(([coefficient, power]) => ({ coefficient, power }));
  switch (formula) {
    case 1:
      return {
        form: 'sellmeier',
        constant,
        terms: pairs(rest, formula).map(([strength, resonanceUm]) => ({
          strength,
          resonanceUm: Math.abs(resonanceUm),
        })),
      };
    case 2:
      return {
        form: 'sellmeier',
        constant,
        terms: pairs(rest, formula).map(([strength, resonanceUm2]) => ({ strength, resonanceUm2 })),
      };
    case 3:
      return { form: 'polynomial', constant, terms: powers() };
    case 4:
      return general(constant, rest);
    case 5:
      return { form: 'cauchy', constant, terms: powers() };
    case 6:
      pairs(rest, formula);
      return { form: 'gas', coefficients: [...coefficients] };
    case 7:
      return { form: 'herzberger', coefficients: atMost(6, coefficients, formula) };
    case 8:
      return { form: 'refractivity', coefficients: atMost(4, coefficients, formula) };
    case 9:
      return { form: 'damped-resonance', coefficients: atMost(6, coefficients, formula) };
    default:
      throw new InputError('DATA', `formula ${formula} is not one of formula 1 to formula 9`);
  }
}

/** Two resonances of four coefficients each, then pairs of coefficient and power. */
function general(constant: number, rest: readonly number[]): Dispersion {
  const resonances = [rest.slice(0, 4), rest.slice(4, 8)]
    .filter((four) => four.length > 0)
    .map((four) => {
      if (four.length < 4) throw wrongCount(4, rest.length + 1);
      const [strength = 0, power = 0, resonanceUm = 0, resonancePower = 0] = four;
      return { strength, power, resonanceUm, resonancePower };
    })
    .filter(({ strength }) => strength !== 0);
  const terms = pairs(rest.slice(8), 4).map(([coefficient, power]) => ({ coefficient, power }));
  if (resonances.length === 0) return { form: 'polynomial', constant, terms };
  return { form: 'general-sellmeier', constant, resonances, terms };
}

function pairs(list: readonly number[], formula: number): (readonly [number, number])[] {
  if (list.length % 2 !== 0) throw wrongCount(formula, list.length + 1);
  return Array.from({ length: list.length / 2 }, (_, i) => [list[2 * i]!, list[2 * i + 1]!] as const);
}

function atMost(most: number, coefficients: readonly number[], formula: number): number[] {
  if (coefficients.length > most || coefficients.length === 0) throw wrongCount(formula, coefficients.length);
  return [...coefficients];
}

function wrongCount(formula: number, count: number): InputError {
  return new InputError('DATA', `${count} coefficients do not suit formula ${shown(formula)}`);
}
