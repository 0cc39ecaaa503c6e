import type { Batch, Side } from '../../../batch/document.ts';
import { IndexBook } from '../../../batch/plan/index-of.ts';
import { FORM_NAMES, missingForms } from '../../../design/missing-forms.ts';
import { type StartingStack, startingStacks } from '../../../design/starting-stacks.ts';
import { surfaceOf } from '../order/requirement-edits.ts';
import { type Candidate, candidatesFrom, shortfall, sketchPlan } from './candidate.ts';

/** Shown at most, and of each kind. */
const MOST = 6;
const MOST_OF_A_KIND = 2;

/** Shown at most where one kind is asked for. */
const MOST_OF_ONE_KIND = 12;

/** Which closed forms: the best of each kind, or all solutions of one. */
export type FormChoice = 'each' | StartingStack['kind'];

export interface ClosedFormsFound {
  readonly candidates: Candidate[];
  /** Sentences about the kinds asked for that these materials don't give, or that are too many to show. */
  readonly remarks: string[];
}

/**
 * Stacks that closed forms give from the materials at hand, held against the side's requirements, best first.
 * `referenceNm` is where the quarter waves are counted. Of one kind all solutions are shown, of each kind the best two.
 */
export function closedFormStacks(
  batch: Batch,
  side: Side,
  pool: readonly string[],
  referenceNm: number,
  choice: FormChoice = 'each',
): ClosedFormsFound {
  const surface = surfaceOf(batch, side) ?? batch.surfaces.front;
  const book = new IndexBook(batch.materials);
  const films = pool.map((id) => ({ id, index: book.of(id) }));
  const place = {
    incidentIndex: book.indexAt(surface.incident, referenceNm),
    substrateIndex: book.indexAt(batch.order.lens.substrate, referenceNm),
    wavelengthNm: referenceNm,
  };
  const stacks = startingStacks(films, place);
  const isAsked = ({ kind }: Pick<StartingStack, 'kind'>) => choice === 'each' || kind === choice;
  const remarks = missingForms(stacks, films, place)
    .filter(isAsked)
    .map(({ name, needs }) => `${name}: not with these materials, since it takes ${needs}.`);
  const rated = stacks
    .filter(isAsked)
    .map((stack) => ({ stack, missing: shortfall(sketchPlan(batch, side, stack, book)) }))
    .sort((one, other) => one.missing - other.missing);
  const seen = new Map<string, number>();
  const best = rated.filter(({ stack: { kind } }) => {
    const count = (seen.get(kind) ?? 0) + 1;
    seen.set(kind, count);
    return choice !== 'each' || count <= MOST_OF_A_KIND;
  });
  const most = choice === 'each' ? MOST : MOST_OF_ONE_KIND;
  if (choice !== 'each' && best.length > most)
    remarks.push(`The best ${most} of ${best.length} are shown; fewer materials leave fewer.`);
  const candidates = candidatesFrom(
    batch,
    side,
    best.slice(0, most).map(({ stack: { kind, source, solution, layers } }) => ({
      form: { kind: [FORM_NAMES[kind], solution].filter(Boolean).join(', '), source },
      layers,
    })),
  );
  return { candidates, remarks };
}
