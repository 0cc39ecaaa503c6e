import { InputError } from '../base/errors.ts';
import { describeRequirement, type Requirement } from './requirement.ts';

/**
 * Throws where two requirements exclude one another whatever the stack: what one wants on a part of the spectrum
 * leaves no room for the other, at a shared angle and polarization. Only what is certain is refused: a limit
 * that no stack of these materials reaches is a matter of the search.
 * @throws InputError at the second of the two.
 */
export function refuseContradictions(requirements: readonly Requirement[]): void {
  requirements.forEach((later, place) => {
    requirements.slice(0, place).forEach((earlier, other) => {
      if (!sharesLight(earlier, later)) return;
      const reason = contradiction(earlier, later) ?? contradiction(later, earlier);
      if (reason === undefined) return;
      throw new InputError(
        `requirements[${place}]`,
        `"${describeRequirement(later)}" contradicts requirements[${other}], "${describeRequirement(earlier)}": ${reason}`,
      );
    });
  });
}

function sharesLight(one: Requirement, other: Requirement): boolean {
  const angles = one.incidenceDeg.filter((angle) => other.incidenceDeg.includes(angle));
  return angles.some((angle) => angle === 0 || one.polarization === other.polarization);
}

/** Why `one` and `other` can't both hold; each is read as what it says of a set of wavelengths. */
function contradiction(one: Requirement, other: Requirement): string | undefined {
  const inside = one.bandNm[0] >= other.bandNm[0] && one.bandNm[1] <= other.bandNm[1];
  const same = inside && one.bandNm[0] === other.bandNm[0] && one.bandNm[1] === other.bandNm[1];
  const overlap = one.bandNm[0] <= other.bandNm[1] && other.bandNm[0] <= one.bandNm[1];
  // Every point of `other` keeps its limit (max below, min above); `one` then is bounded on the shared points.
  const everywhere = (other.statistic === 'max') === (other.sense === 'below') && other.statistic !== 'mean';
  const bothEverywhere =
    everywhere && (one.statistic === 'max') === (one.sense === 'below') && one.statistic !== 'mean';
  const comparable =
    (everywhere && inside) ||
    (bothEverywhere && overlap) ||
    (same && one.statistic === 'mean' && other.statistic === 'mean');
  if (!comparable) return undefined;
  if (one.quantity === other.quantity) {
    if (one.sense === other.sense) return undefined;
    const [least, most] = one.sense === 'above' ? [one.limit, other.limit] : [other.limit, one.limit];
    if (least > most) return `the same light can't be at least ${least} % and at most ${most} %`;
    return undefined;
  }
  if (one.sense === 'above' && other.sense === 'above' && one.limit + other.limit > 100)
    return `${one.quantity} and ${other.quantity} together can't exceed 100 %`;
  return undefined;
}
