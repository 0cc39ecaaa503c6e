import type { Batch } from '../document.ts';
import { type CoatedSide, coatedSides } from '../sides.ts';
import { aimedLayers } from './aim.ts';
import { bySections } from './by-sections.ts';
import { cautionsFor } from './cautions.ts';
import { planCharge } from './charge-plan.ts';
import { planDistribution } from './distribution-plan.ts';
import { type FilmFacts, filmFacts } from './film-facts.ts';
import { firingWords } from './firing-words.ts';
import { IndexBook } from './index-of.ts';
import { planLoad } from './load-plan.ts';
import { planLot } from './lot-plan.ts';
import { planCrystal, planCuts } from './monitor-plan.ts';
import type { DistributionPlan, Plan, RunPlan, SurfacePlan } from './plan-types.ts';
import { planRun, type ScheduledLayer } from './run-plan.ts';
import { runProcessOf } from './run-process.ts';
import { planSurface } from './surface-plan.ts';
import { planWarnings } from './warnings.ts';

/** What the load, and the films over it, follow from: an edit of the stack leaves both as they were. */
export const LOAD_SECTIONS = ['order', 'fixture', 'chamber', 'process', 'materials'] as const;

const loadOf = bySections(LOAD_SECTIONS, planLoad);
const distributionOf = bySections(LOAD_SECTIONS, planDistribution, (side, layers, load) => [
  side,
  load,
  ...layers.flatMap(({ material, label }) => [material, label]),
]);

/**
 * Computes the whole chain from the batch, but for the yield: stack and spectrum, load, run, material, cut
 * table, lot. Pure: the same batch gives the same plan, of which parts may be shared with a plan before.
 * @throws InputError where a part of the chain has no answer; its path names the field of the batch.
 */
export function computePlan(document: Batch): Plan {
  const book = IndexBook.lasting(document.materials);
  const facts = new Map<string, FilmFacts>();
  const factsOf = (material: string): FilmFacts => {
    const known = facts.get(material) ?? filmFacts(document, material);
    facts.set(material, known);
    return known;
  };
  const sides = coatedSides(document);
  const surfaces = mapOwn(sides, (coated) => planSurface(document, coated, book));
  const load = loadOf(document);
  const distributions = sides.map(({ side }, index) =>
    distributionOf(document, side, surfaces[index]!.layers, load),
  );
  const runs = mapOwn(sides, (coated, index) =>
    planSideRun(document, coated, surfaces[index]!, distributions[index]!, factsOf, book),
  );
  const lot = planLot(document, load, runs);
  return {
    surfaces,
    load,
    runs,
    lot,
    distributions,
    cautions: cautionsFor([...facts.values()]),
    warnings: planWarnings(document, { surfaces, load, runs, distributions, facts: [...facts.values()] }),
  };
}

/** One part of the plan for every side; a back that is coated as the front takes over the front's. */
function mapOwn<Part extends object>(
  sides: readonly CoatedSide[],
  planSide: (coated: CoatedSide, index: number) => Part,
): (Part & Pick<CoatedSide, 'side' | 'own'>)[] {
  let front: Part | undefined;
  return sides.map((coated, index) => {
    const { side, own } = coated;
    const part = own || front === undefined ? planSide(coated, index) : front;
    front ??= part;
    return { ...part, side, own };
  });
}

function planSideRun(
  document: Batch,
  { surface }: CoatedSide,
  { layers: wanted }: SurfacePlan,
  distribution: DistributionPlan,
  factsOf: (material: string) => FilmFacts,
  book: IndexBook,
): Omit<RunPlan, 'side' | 'own'> {
  const layers = aimedLayers(document, wanted);
  const crystal = planCrystal(document, layers);
  const scheduled = layers.map((layer, index): ScheduledLayer => {
    const process = runProcessOf(document, layer.material);
    return {
      ...layer,
      process,
      pocket: `${firingWords(process)}, ${layer.label}`,
      crystalChange: crystal[index]!.change,
    };
  });
  const { steps, totalS, pumps, pressure } = planRun(document, scheduled);
  return {
    steps,
    totalS,
    pumps,
    pressure,
    charge: planCharge(document, scheduled, distribution, factsOf),
    cuts: planCuts(document, scheduled, crystal, surface.incident, book),
  };
}
