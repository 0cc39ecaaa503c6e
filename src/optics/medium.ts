import { InputError, requireEachWithin } from '../base/errors.ts';

/**
 * A medium on a grid of wavelengths, one value a wavelength: the complex index is N = n − ik with the time
 * factor exp(+iωt), so that k > 0 absorbs. Legal are n >= 0 and k >= 0, not both zero.
 */
export interface Medium {
  readonly n: Float64Array;
  readonly k: Float64Array;
  /**
   * Where a layer is graded: factors on N, above 0, of the equally thick sublayers that stand for it, first on the
   * substrate's side. Absent: the layer is the same throughout. Incident medium and substrate have none.
   */
  readonly profile?: Float64Array;
}

/**
 * Throws where a medium is not legal on a grid of `count` wavelengths.
 * @throws InputError whose path is `path` followed by `.n[i]`, `.k[i]` or `.profile[i]`.
 */
export function requireMedium(path: string, medium: Medium, count: number): void {
  const { n, k } = medium;
  if (n.length !== count || k.length !== count)
    throw new InputError(
      path,
      `the medium has ${n.length} values of n and ${k.length} of k for ${count} wavelengths`,
    );
  requireEachWithin(`${path}.n`, n, '', { min: 0 });
  requireEachWithin(`${path}.k`, k, '', { min: 0 });
  for (let i = 0; i < count; i++)
    if (n[i] === 0 && k[i] === 0)
      throw new InputError(`${path}.n[${i}]`, '0 is not above 0 (where k is 0 as well)');
  const { profile } = medium;
  if (profile === undefined) return;
  if (profile.length === 0) throw new InputError(`${path}.profile`, 'the profile has no sublayer');
  requireEachWithin(`${path}.profile`, profile, '', { above: 0 });
}
