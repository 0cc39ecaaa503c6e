import { InputError, limitFault } from '../base/errors.ts';

/**
 * A medium on a grid of wavelengths, one value a wavelength: the complex index is N = n − ik with the time
 * factor exp(+iωt), so that k > 0 absorbs. Legal are n >= 0 and k >= 0, not both zero.
 */
export interface Medium {
  readonly n: Float64Array;
  readonly k: Float64Array;
}

/**
 * Throws where a medium is not legal on a grid of `count` wavelengths.
 * @throws InputError whose path is `path` followed by `.n[i]` or `.k[i]`.
 */
export function requireMedium(path: string, medium: Medium, count: number): void {
  const { n, k } = medium;
  if (n.length !== count || k.length !== count)
    throw new InputError(
      path,
      `the medium has ${n.length} values of n and ${k.length} of k for ${count} wavelengths`,
    );
  for (let i = 0; i < count; i++) {
    const fault = limitFault(n[i]!, '', { min: 0 });
    if (fault !== undefined) throw new InputError(`${path}.n[${i}]`, fault);
    const faultOfK = limitFault(k[i]!, '', { min: 0 });
    if (faultOfK !== undefined) throw new InputError(`${path}.k[${i}]`, faultOfK);
    if (n[i] === 0 && k[i] === 0)
      throw new InputError(`${path}.n[${i}]`, '0 is not above 0 (where k is 0 as well)');
  }
}
