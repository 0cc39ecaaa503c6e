import { InputError, requireWithin } from '../../base/errors.ts';
import { INDEX_LIMITS } from './quarter-wave.ts';

/** A symmetrical period a-b-a: `outerNm` is the thickness of each of the two outer layers. */
export interface SymmetricalPeriod {
  readonly outerNm: number;
  readonly middleNm: number;
}

/** What the period stands for and what it is made of; indices real. */
export interface EquivalentPeriodInput {
  readonly outerIndex: number;
  readonly middleIndex: number;
  /** The index wanted, between the two or equal to one of them. */
  readonly targetIndex: number;
  readonly wavelengthNm: number;
  /** Optical thickness wanted, in quarter waves, above 0 and below 2. */
  readonly quarters?: number;
}

/**
 * All symmetrical periods a-b-a (each phase positive and least) which at `wavelengthNm` and normal incidence act
 * exactly as one layer of the wanted index and thickness (A. Herpin, C. R. Acad. Sci. 225, 182, 1947;
 * L. I. Epstein, J. Opt. Soc. Am. 42, 806, 1952). With the period's matrix elements
 * M12 = (i/na)(X + Q) = i sin γ / E and M21 = i na (X - Q) = i E sin γ, where Q = sin δb (na/nb - nb/na)/2,
 *
 *   sin δb = sin γ (na/E - E/na) / (na/nb - nb/na),
 *
 * and cos γ = cos 2δa cos δb - p sin 2δa sin δb, X = sin 2δa cos δb + p cos 2δa sin δb,
 * p = (na/nb + nb/na)/2, are two linear equations for cos 2δa and sin 2δa.
 *
 * @throws InputError where the wanted index does not lie between the two, or they are equal.
 */
export function equivalentPeriods(input: EquivalentPeriodInput): SymmetricalPeriod[] {
  const { outerIndex: na, middleIndex: nb, targetIndex: target, wavelengthNm, quarters = 1 } = input;
  requireWithin('outerIndex', na, '', INDEX_LIMITS);
  requireWithin('middleIndex', nb, '', INDEX_LIMITS);
  requireWithin('wavelengthNm', wavelengthNm, 'nm', { above: 0 });
  requireWithin('quarters', quarters, '', { above: 0, below: 2 });
  if (na === nb) throw new InputError('middleIndex', `${nb} equals the outer index`);
  requireWithin('targetIndex', target, '', { min: Math.min(na, nb), max: Math.max(na, nb) });

  const gamma = (quarters * Math.PI) / 2;
  const sinB = (Math.sin(gamma) * (na / target - target / na)) / (na / nb - nb / na);
  const p = (na / nb + nb / na) / 2;
  const x = (Math.sin(gamma) * (target / na + na / target)) / 2;
  const found: SymmetricalPeriod[] = [];
  for (const phaseB of new Set([Math.asin(sinB), Math.PI - Math.asin(sinB)])) {
    const [even, odd] = [Math.cos(phaseB), p * Math.sin(phaseB)];
    const twiceA = Math.atan2(even * x - odd * Math.cos(gamma), even * Math.cos(gamma) + odd * x);
    const positive = twiceA < 0 ? twiceA + 2 * Math.PI : twiceA;
    found.push({
      outerNm: ((positive / 2) * wavelengthNm) / (2 * Math.PI * na),
      middleNm: (phaseB * wavelengthNm) / (2 * Math.PI * nb),
    });
  }
  return found.sort((one, other) => totalNm(one) - totalNm(other));
}

function totalNm(period: SymmetricalPeriod): number {
  return 2 * period.outerNm + period.middleNm;
}
