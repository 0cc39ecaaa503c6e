import { InputError } from '../base/errors.ts';
import { describeRequirement, type Requirement } from './requirement.ts';

/**
 * Throws where requirements exclude one another whatever the stack: what one wants on a part of the spectrum
 * leaves no room for the other, at a shared angle and polarization, or R, T and A together can't be all of the light.
 * Only what is certain is refused: a limit that no stack of these materials reaches is a matter of the search.
 * @throws InputError at the last of them.
 */
export function refuseContradictions(requirements: readonly Requirement[]): void {
  requirements.forEach((later, place) => {
    requirements.slice(0, place).forEach((earlier, other) => {
      if (!shareLight([earlier, later])) return;
      const reason = contradiction(earlier, later) ?? contradiction(later, earlier);
      if (reason === undefined) return;
      throw new InputError(
        `requirements[${place}]`,
        `"${describeRequirement(later)}" contradicts requirements[${other}], "${describeRequirement(earlier)}": ${reason}`,
      );
    });
    refuseTriples(requirements, place);
  });
}

/** Whether there is an angle at which all of them speak of the same light. */
function shareLight([one, ...others]: readonly [Requirement, ...Requirement[]]): boolean {
  return one.incidenceDeg.some(
    (angle) =>
      others.every(({ incidenceDeg }) => incidenceDeg.includes(angle)) &&
      (angle === 0 || others.every(({ polarization }) => polarization === one.polarization)),
  );
}

/** Refuses the requirement at `last` where two earlier ones on the other quantities leave the light no way to go. */
function refuseTriples(requirements: readonly Requirement[], last: number): void {
  const third = requirements[last]!;
  for (let second = 1; second < last; second++)
    for (let first = 0; first < second; first++) {
      const triple = [requirements[first]!, requirements[second]!, third] as const;
      if (new Set(triple.map(({ quantity }) => quantity)).size < 3 || !shareLight(triple)) continue;
      if (!triple.every(holdsEverywhere) || triple.some(({ sense }) => sense !== third.sense)) continue;
      const from = Math.max(...triple.map(({ bandNm }) => bandNm[0]));
      const to = Math.min(...triple.map(({ bandNm }) => bandNm[1]));
      const sum = triple.reduce((total, { limit }) => total + limit, 0);
      if (from > to || (third.sense === 'below' ? sum >= 100 : sum <= 100)) continue;
      const bound = third.sense === 'below' ? 'at most' : 'at least';
      throw new InputError(
        `requirements[${last}]`,
        `"${describeRequirement(third)}" contradicts requirements[${first}] and requirements[${second}] together: R, T and A are all of the light, and these limits make ${bound} ${sum} % of it`,
      );
    }
}

/** Whether every point of the band keeps the limit. */
function holdsEverywhere({ statistic, sense }: Requirement): boolean {
  return statistic === (sense === 'below' ? 'max' : 'min');
}

/** Why `one` and `other` can't both hold; each is read as what it says of a set of wavelengths. */
function contradiction(one: Requirement, other: Requirement): string | undefined {
  const inside = one.bandNm[0] >= other.bandNm[0] && one.bandNm[1] <= other.bandNm[1];
  const same = inside && one.bandNm[0] === other.bandNm[0] && one.bandNm[1] === other.bandNm[1];
  const overlap = one.bandNm[0] <= other.bandNm[1] && other.bandNm[0] <= one.bandNm[1];
  const areMeans = one.statistic === 'mean' && other.statistic === 'mean';
  // Every point of `other` keeps its limit; `one` then is bounded on the shared points.
  const comparable =
    (holdsEverywhere(other) && inside) ||
    (holdsEverywhere(one) && holdsEverywhere(other) && overlap) ||
    (same && areMeans);
  if (inside && !same && areMeans) return partAgainstWhole(one, other);
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

/** Why a mean over a part of a band and that over the whole band can't both hold, if they can't. */
function partAgainstWhole(part: Requirement, whole: Requirement): string | undefined {
  if (part.quantity !== whole.quantity || part.sense === whole.sense) return undefined;
  const share = (part.bandNm[1] - part.bandNm[0]) / (whole.bandNm[1] - whole.bandNm[0]);
  const reached = share * part.limit + (part.sense === 'above' ? 0 : 100 * (1 - share));
  if (part.sense === 'above' ? reached <= whole.limit : reached >= whole.limit) return undefined;
  const bound = part.sense === 'above' ? 'at least' : 'at most';
  return `the part alone makes the mean over the whole band ${bound} ${Number(reached.toPrecision(3))} %`;
}
