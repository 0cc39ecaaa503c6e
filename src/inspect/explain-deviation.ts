import type { MaterialGroup } from './as-built-fit.ts';
import type { Deviation, MeasuredCoating } from './as-built-model.ts';
import { type FittedDeviations, fitDeviations } from './fit-deviations.ts';

/** One story of how the coating came out, fitted to the measurement. */
export interface Explanation {
  readonly kind:
    | 'as-planned'
    | 'all-scaled'
    | 'one-material'
    | 'one-layer'
    | 'index'
    | 'graded'
    | 'each-material';
  /** What the story says, with the fitted figures. */
  readonly sentence: string;
  readonly deviations: readonly Deviation[];
  readonly x: Float64Array;
  readonly sigma: Float64Array;
  readonly residualRms: number;
  /** Probability among the stories that were tried, 0 to 1. */
  readonly probability: number;
}

/** The stories, the likeliest first, and the verdict in a sentence. */
export interface Comparison {
  readonly explanations: readonly Explanation[];
  readonly verdict: string;
  /** False where another kind of story is nearly as likely. */
  readonly isDecided: boolean;
}

interface Story extends Pick<Explanation, 'kind' | 'deviations'> {
  readonly tell: (x: Float64Array, sigma: Float64Array) => string;
}

/** A story counts as decided where it has this share against all stories that contradict it. */
const DECIDED = 0.95;

/**
 * Compares stories of what went wrong: nothing, all layers scaled alike, one material or one layer off, the index
 * of one material off or graded through its layers, each material off by itself. Each is fitted; their
 * probabilities follow from the Bayesian information criterion (G. Schwarz, Ann. Stat. 6, 461, 1978), every
 * kind of story being as likely beforehand as the others, shared among its members.
 */
export function explainDeviation(coating: MeasuredCoating, groups: readonly MaterialGroup[]): Comparison {
  const stories = storiesOf(coating, groups);
  const fits = stories.map((story) => fitDeviations(coating, story.deviations));
  const criteria = stories.map((story, i) => criterion(coating, story, fits[i]!, stories));
  const least = Math.min(...criteria);
  const weights = criteria.map((value) => Math.exp(-(value - least) / 2));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const explanations = stories
    .map(({ kind, deviations, tell }, i): Explanation => {
      const { x, sigma, residualRms } = fits[i]!;
      const probability = weights[i]! / total;
      return { kind, deviations, x, sigma, residualRms, probability, sentence: tell(x, sigma) };
    })
    .sort((a, b) => b.probability - a.probability);
  const [first, ...others] = explanations as [Explanation, ...Explanation[]];
  const rivals = others.filter((other) => !includes(other, first));
  const against = rivals.reduce((sum, { probability }) => sum + probability, 0);
  const isDecided = first.probability / (first.probability + against) >= DECIDED;
  return { explanations, isDecided, verdict: verdictOn(first, rivals[0]!, isDecided) };
}

function criterion(
  { values }: MeasuredCoating,
  { kind, deviations }: Story,
  { sumOfSquares }: FittedDeviations,
  all: readonly Story[],
): number {
  const points = values.length;
  const members = all.filter((story) => story.kind === kind).length;
  const meanSquare = Math.max(sumOfSquares / points, 1e-16);
  return points * Math.log(meanSquare) + deviations.length * Math.log(points) + 2 * Math.log(members);
}

function storiesOf({ stack }: MeasuredCoating, groups: readonly MaterialGroup[]): Story[] {
  const everyLayer = stack.layers.map((_, layer) => layer);
  const nameOf = (layer: number) => groups.find(({ layers }) => layers.includes(layer))!.name;
  const one = (
    kind: Story['kind'],
    deviation: Deviation,
    what: string,
    says: (value: number) => string,
  ): Story => ({
    kind,
    deviations: [deviation],
    tell: (x, sigma) => `${what} ${says(x[0]!)} (± ${percent(sigma[0]!)} %)`,
  });
  const thickness = (kind: Story['kind'], layers: readonly number[], what: string) =>
    one(kind, { kind: 'thickness', layers }, what, (factor) => offBy(factor, 'thicker', 'thinner'));

  const stories: Story[] = [
    { kind: 'as-planned', deviations: [], tell: () => 'the coating is as planned' },
    thickness('all-scaled', everyLayer, 'all layers alike are'),
  ];
  if (groups.length > 1) {
    for (const { name, layers } of groups)
      if (layers.length > 1) stories.push(thickness('one-material', layers, `all layers of ${name} are`));
    stories.push({
      kind: 'each-material',
      deviations: groups.map(({ layers }) => ({ kind: 'thickness', layers })),
      tell: (x, sigma) =>
        groups
          .map(
            ({ name }, i) => `${name} is ${offBy(x[i]!, 'thicker', 'thinner')} (± ${percent(sigma[i]!)} %)`,
          )
          .join(' and '),
    });
  }
  if (everyLayer.length > 1)
    for (const layer of everyLayer)
      stories.push(thickness('one-layer', [layer], `layer ${layer + 1} (${nameOf(layer)}) alone is`));
  for (const { name, layers } of groups) {
    stories.push(
      one('index', { kind: 'index', layers }, `the index of ${name} is`, (factor) =>
        offBy(factor, 'higher', 'lower'),
      ),
      one(
        'graded',
        { kind: 'grading', layers },
        `the index of ${name}`,
        (grading) =>
          `${grading < 0 ? 'falls' : 'rises'} by ${percent(Math.abs(grading))} % from the inner to the outer side of each layer`,
      ),
    );
  }
  return stories;
}

function offBy(factor: number, more: string, less: string): string {
  return `${percent(Math.abs(factor - 1))} % ${factor < 1 ? less : more} than planned`;
}

function percent(fraction: number): string {
  return (100 * fraction).toFixed(2);
}

/** Every material by itself says nothing against a simpler story of thicknesses, which it contains. */
function includes(other: Explanation, { kind }: Explanation): boolean {
  const isSimpler =
    kind === 'as-planned' || kind === 'all-scaled' || kind === 'one-material' || kind === 'one-layer';
  return other.kind === 'each-material' && isSimpler;
}

function verdictOn(first: Explanation, second: Explanation, isDecided: boolean): string {
  const residual = `what is left is ${percent(first.residualRms)} % rms`;
  if (first.kind === 'as-planned') return `The measurement agrees with the plan; ${residual}.`;
  if (isDecided) return `Most likely ${first.sentence}; ${residual}.`;
  return (
    `The measurement does not settle it: perhaps ${first.sentence} (${Math.round(100 * first.probability)} %), ` +
    `perhaps ${second.sentence} (${Math.round(100 * second.probability)} %); ${residual}.`
  );
}
