import type { Batch } from '../document.ts';
import { coatedSides } from '../sides.ts';
import { aimFactor } from './aim.ts';
import { IndexBook } from './index-of.ts';
import { LensJudge } from './lens-judge.ts';
import { lensPlaces, type PlacedPlan, placeFilms } from './place-films.ts';
import { computePlan } from './plan.ts';
import { allSides, shareOfLenses } from './share-of-lenses.ts';
import { aTurn, virtualFilms, type YieldContext } from './virtual-films.ts';

/** Aims that are tried: to this many percent on both sides, first in coarse steps, then in fine ones. */
const AIM_REACH_PERCENT = 8;
const AIM_COARSE_PERCENT = 0.5;
const AIM_FINE_PERCENT = 0.1;
/** Virtual runs whose errors every aim is tried with. */
const AIM_RUNS = 25;
/** Aims whose good lenses differ by less than this part are best alike: what so few runs cannot tell apart. */
const ALIKE_PART = 0.002;

export interface BestAim {
  /** Thickness aim over the stack, percent. */
  readonly percent: number;
  /** Good lenses expected of a full load with that aim; a mean over the runs. */
  readonly goodPerLoad: number;
  /** The same with the batch's own aim. */
  readonly ownGoodPerLoad: number;
  /** Good lenses for every aim tried, for a chart. */
  readonly percents: Float64Array;
  readonly good: Float64Array;
}

/**
 * The thickness aim with which most lenses of a load are good at centre and edge, under the errors that the batch's monitoring
 * makes: of the aims that are best alike the middle one of the widest row, which leaves most room on both sides. Every
 * aim meets the same errors, as parts of the thickness, so that only the aim makes the difference.
 * @throws InputError where the chain or the monitor has no answer.
 */
export async function bestAim(
  document: Batch,
  context: YieldContext = {},
  plan: PlacedPlan = computePlan(document),
): Promise<BestAim> {
  const book = new IndexBook(document.materials);
  const own = aimFactor(document);
  const places = lensPlaces(plan.load);
  const coated = coatedSides(document);
  const sides: { readonly judge: LensJudge; readonly runs: readonly Float64Array[] }[] = [];
  for (const [index, films] of placeFilms(document, plan).entries()) {
    const { thicknessNm } = await virtualFilms(document, coated[index]!, book, AIM_RUNS, {
      ...(context.signal === undefined ? {} : { signal: context.signal }),
    });
    sides.push({ judge: new LensJudge(films, places), runs: thicknessNm });
  }
  const goodAt = (percent: number): number => {
    const factor = (1 + percent / 100) / own;
    const shares = sides.map(({ judge, runs }) =>
      shareOfLenses(
        runs.map((thicknessNm) => judge.good(thicknessNm.map((nm) => factor * nm))),
        places.length,
      ),
    );
    return plan.load.racks * allSides(shares).reduce((sum, share) => sum + share, 0);
  };
  const tried = new Map<number, number>();
  const tryAim = async (percent: number): Promise<number> => {
    const rounded = Number(percent.toFixed(2));
    const known = tried.get(rounded);
    if (known !== undefined) return known;
    const good = goodAt(rounded);
    tried.set(rounded, good);
    context.progress?.(Math.min(0.99, tried.size / 60), 'thickness aims');
    await aTurn(context);
    return good;
  };
  const coarse = Math.round(AIM_REACH_PERCENT / AIM_COARSE_PERCENT);
  for (let step = -coarse; step <= coarse; step++) await tryAim(step * AIM_COARSE_PERCENT);
  const most = Math.max(...tried.values());
  const ends = [...tried].filter(([, good]) => isBest(good, most)).map(([percent]) => percent);
  for (const end of [Math.min(...ends), Math.max(...ends)])
    for (let percent = -AIM_COARSE_PERCENT; percent <= AIM_COARSE_PERCENT; percent += AIM_FINE_PERCENT)
      await tryAim(end + percent);
  const percent = widestRow([...tried].sort(([first], [second]) => first - second));
  const goodPerLoad = await tryAim(percent);
  const ownGoodPerLoad = goodAt(100 * (own - 1));
  const inOrder = [...tried].sort(([first], [second]) => first - second);
  return {
    percent,
    goodPerLoad,
    ownGoodPerLoad,
    percents: Float64Array.from(inOrder, ([aim]) => aim),
    good: Float64Array.from(inOrder, ([, good]) => good),
  };
}

function isBest(good: number, most: number): boolean {
  return good >= most * (1 - ALIKE_PART);
}

/** The middle of the widest row of neighbouring aims that are all best. */
function widestRow(inOrder: readonly (readonly [number, number])[]): number {
  const most = Math.max(...inOrder.map(([, good]) => good));
  let best: readonly [number, number] = [0, -1];
  let from: number | undefined;
  for (const [percent, good] of inOrder) {
    if (!isBest(good, most)) {
      from = undefined;
      continue;
    }
    from ??= percent;
    if (percent - from > best[1] - best[0] || best[1] < best[0]) best = [from, percent];
  }
  return Number(((best[0] + best[1]) / 2).toFixed(1));
}
