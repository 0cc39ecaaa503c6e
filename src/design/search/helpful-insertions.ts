import { Merit } from '../merit.ts';
import type { Draft, SearchProblem } from './search-problem.ts';

/** A place where a thin layer of another material would lower the merit. */
export interface Insertion {
  /** The layer that takes it, and where in it (share of its thickness from below, 0 and 1 are its faces). */
  readonly host: number;
  readonly share: number;
  readonly material: number;
  /** Change of the smooth merit per nm of the new layer; negative: it helps. */
  readonly slope: number;
}

/**
 * Where to insert (A. V. Tikhonravov, M. K. Trubetskov & G. W. DeBell, Appl. Opt. 35, 5493, 1996): the
 * derivative of the merit for the thickness of a layer that isn't there yet, for each of the given materials at
 * `sections` + 1 places of each layer. It comes out exactly from one pass over the stack with empty layers
 * at those places. Returns those that help, the most helpful first.
 */
export function helpfulInsertions(
  problem: SearchProblem,
  { materials, thicknessNm }: Pick<Draft, 'materials' | 'thicknessNm'>,
  candidates: readonly number[],
  sharpness: number,
  sections = 6,
): Insertion[] {
  const expanded: number[] = [];
  const thickness: number[] = [];
  const insertions: { host: number; share: number; material: number; place: number }[] = [];
  materials.forEach((own, host) => {
    for (let section = 0; section <= sections; section++) {
      const onTop = section === sections;
      // The face between two layers is looked at once, as the lower face of the upper one.
      if (onTop && host < materials.length - 1) continue;
      const below = section === 0 ? materials[host - 1] : own;
      for (const material of candidates) {
        if (material === own || material === below) continue;
        insertions.push({ host, share: section / sections, material, place: expanded.length });
        expanded.push(material);
        thickness.push(0);
      }
      if (onTop) continue;
      expanded.push(own);
      thickness.push(thicknessNm[host]! / sections);
    }
  });
  const gradient = new Float64Array(expanded.length);
  new Merit(problem.grid, expanded).smoothGradient(Float64Array.from(thickness), sharpness, gradient);
  return insertions
    .map(({ place, ...insertion }) => ({ ...insertion, slope: gradient[place]! }))
    .filter(({ slope }) => slope < 0)
    .sort((one, other) => one.slope - other.slope);
}
