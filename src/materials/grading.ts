import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { count, quantity } from '../base/schema.ts';

/** The most sublayers that may stand for one layer. */
const MOST_SUBLAYERS = 1000;
/**
 * What R and T may be off by where the number of sublayers is left to the program: at normal incidence and for s, and
 * for p at any angle, where the slope of 1/ε is followed with the second power of their number only.
 */
export const GRADING_ACCURACY = { s: 1e-6, p: 1e-5 } as const;

/**
 * A monitor sees a layer while it grows, so that the slope of its signal counts and not only the whole; with so many
 * times the sublayers its turning points lie right to some hundredths of a nm.
 */
export const FINER_FOR_GROWTH = 4;

/** A layer whose index changes linearly from its first nanometre to its last; its mean is that of the material. */
export const layerGrading = v.strictObject({
  indexChangePercent: quantity(
    '%',
    { min: -50, max: 50 },
    'index on the outer side less that on the side of the substrate, over the mean',
  ),
  sublayers: v.exactOptional(
    v.pipe(
      count(
        { min: 2, max: MOST_SUBLAYERS },
        'even; left out: as many as R and T right to 1e-6 take (p at a slant: 1e-5)',
      ),
      v.check(
        (value: number) => value % 2 === 0,
        (issue) => `${issue.input} sublayers are not an even number`,
      ),
    ),
  ),
});

export type LayerGrading = v.InferOutput<typeof layerGrading>;

/**
 * Factors on the index of equally thick sublayers that stand for a linear change by `change` (0.1 is 10 %) across a
 * layer, first on the substrate's side.
 *
 * Two sublayers make one step of the commutator-free integrator of fourth order (S. Blanes & P. C. Moan, Appl. Numer. Math.
 * 56, 1519, 2006): with the permittivities ε1, ε2 at the step's two Gauss points they have 2 (a ε1 + b ε2) and
 * 2 (b ε1 + a ε2), a = 1/4 + √3/6, b = 1/4 − √3/6. The error of R and T falls with the fourth power of their number, with
 * the second where each sublayer simply took the index at its middle.
 * @param change from -0.5 to 0.5. @param sublayers an even number from 2.
 */
export function gradingProfile(change: number, sublayers: number): Float64Array {
  return Float64Array.from(
    gaussMeans(sublayers, (depth) => (1 + change * depth) ** 2),
    (mean) => Math.sqrt(2 * mean),
  );
}

/** How each factor of `gradingProfile` changes with `change`, exactly. Parameters as there. */
export function gradingSlope(change: number, sublayers: number): Float64Array {
  const factor = gradingProfile(change, sublayers);
  const slope = gaussMeans(sublayers, (depth) => 2 * depth * (1 + change * depth));
  return factor.map((value, i) => slope[i]! / value);
}

/** a v1 + b v2 and b v1 + a v2 of each step, for the values v at its Gauss points; depth from −1/2 to 1/2. */
function gaussMeans(sublayers: number, valueAt: (depth: number) => number): number[] {
  const steps = sublayers / 2;
  const gauss = Math.sqrt(3) / 6;
  const [near, far] = [1 / 4 + gauss, 1 / 4 - gauss];
  return Array.from({ length: sublayers }, (_, i) => {
    const middle = Math.floor(i / 2) + 0.5;
    const one = valueAt((middle - gauss) / steps - 0.5);
    const other = valueAt((middle + gauss) / steps - 0.5);
    return i % 2 === 0 ? near * one + far * other : far * one + near * other;
  });
}

/**
 * How many sublayers bring R and T to GRADING_ACCURACY. For a layer of w waves of optical thickness the error stays below
 * 1e-3 |change| (6 w / steps)^4, for p also below 0.14 w (change / steps)²: the factors bound what some hundred
 * stacks were off by from an integration of the wave equation, as `tests/optics/graded-stack.test.ts` does it.
 * @param waves optical thickness over the shortest wavelength.
 */
export function sublayersFor(change: number, waves: number): number {
  const forS = 6 * waves * ((1e-3 * Math.abs(change)) / GRADING_ACCURACY.s) ** (1 / 4);
  const forP = Math.abs(change) * Math.sqrt((0.14 * waves) / GRADING_ACCURACY.p);
  return 2 * Math.max(1, Math.ceil(Math.max(forS, forP)));
}

/**
 * The profile of a layer; undefined where its index does not change.
 * @param thicknessNm of the layer, or the greatest that it may come to.
 * @param shortestNm of the wavelengths for which it will be used.
 * @param finer so many times more sublayers than `sublayersFor` says, where these are left to the program.
 * @throws InputError at `path` where it takes more than 1000 sublayers.
 */
export function layerProfile(
  index: (wavelengthNm: Float64Array) => { readonly n: Float64Array },
  grading: LayerGrading | undefined,
  thicknessNm: number,
  shortestNm: number,
  path: string,
  finer = 1,
): Float64Array | undefined {
  if (grading === undefined || grading.indexChangePercent === 0) return undefined;
  const change = grading.indexChangePercent / 100;
  const waves = (index(Float64Array.of(shortestNm)).n[0]! * thicknessNm) / shortestNm;
  const sublayers = grading.sublayers ?? sublayersFor(change, waves);
  if (sublayers > MOST_SUBLAYERS)
    throw new InputError(
      path,
      `${thicknessNm} nm take ${sublayers} sublayers at ${shortestNm} nm, more than ${MOST_SUBLAYERS}; give "sublayers" for less accuracy`,
    );
  const room = grading.sublayers === undefined ? Math.min(finer * sublayers, MOST_SUBLAYERS) : sublayers;
  return gradingProfile(change, room);
}

/**
 * The index of a graded layer: that of its material, with the profile across the layer. The complex index changes as
 * a whole, so that a denser part absorbs more. Without grading the index as it is.
 * Parameters and errors as `layerProfile`.
 */
export function gradedIndex<Index extends { readonly n: Float64Array }>(
  index: (wavelengthNm: Float64Array) => Index,
  grading: LayerGrading | undefined,
  thicknessNm: number,
  shortestNm: number,
  path = 'grading',
): (wavelengthNm: Float64Array) => Index & { readonly profile?: Float64Array } {
  const profile = layerProfile(index, grading, thicknessNm, shortestNm, path);
  if (profile === undefined) return index;
  const known = new WeakMap<Index, Index & { readonly profile: Float64Array }>();
  return (wavelengthNm) => {
    const plain = index(wavelengthNm);
    const found = known.get(plain) ?? { ...plain, profile };
    known.set(plain, found);
    return found;
  };
}
