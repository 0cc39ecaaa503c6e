import { type DesignProblem, surfaceOf } from './design-problem.ts';
import { evaluateRequirements, type RequirementResult } from './evaluate.ts';
import { Merit } from './merit.ts';
import type { MeritGrid } from './merit-grid.ts';
import type { Draft } from './search/search-problem.ts';
import { isLike, type Sketch } from './search/tidy.ts';
import type { StartingStack } from './starting-stacks.ts';

/** A layer of a found stack: `place` is that of its material in the pool and then the other materials. */
export interface DesignLayer {
  readonly place: number;
  readonly material: string;
  readonly thicknessNm: number;
}

export interface FoundStack {
  readonly layers: readonly DesignLayer[];
  /**
   * Weighted mean of value over limit, excess counted ten times more; the lower the better, below 1 with margin. A mean
   * is that of 61 even readings here.
   */
  readonly merit: number;
  readonly achieved: readonly RequirementResult[];
  /** Share of virtual coatings with the errors given that meet everything; absent where none are given. */
  readonly yield?: number;
  /** The closed form that it is, where it is one. */
  readonly form?: StartingStack;
}

export interface DesignResult {
  /** Best first; the others differ from it and from one another. */
  readonly stacks: readonly FoundStack[];
  /** Local searches begun. */
  readonly starts: number;
  readonly warnings: readonly string[];
}

/** The powers of the power means at which a found stack is finished. */
export const FINISH: readonly number[] = [16, 64, 256];

/** A stack with its merit on a grid and how it stands. */
export function stackFrom(problem: DesignProblem, grid: MeritGrid, sketch: Sketch): FoundStack {
  const palette = [...problem.pool, ...(problem.others ?? [])];
  return {
    layers: sketch.materials.map((place, layer) => ({
      place,
      material: palette[place]!.id,
      thicknessNm: sketch.thicknessNm[layer]!,
    })),
    merit: new Merit(grid, sketch.materials).exact(sketch.thicknessNm),
    achieved: evaluateRequirements(problem.requirements, surfaceOf(problem, sketch)),
  };
}

/** A found stack as the search handles it. */
export function draftOf({ layers, merit }: FoundStack): Draft {
  return {
    materials: layers.map(({ place }) => place),
    thicknessNm: Float64Array.from(layers, ({ thicknessNm }) => thicknessNm),
    merit,
  };
}

/** Two stacks are the same to a coater where layers thinner than this are all that tells them apart. */
const NEGLIGIBLE_NM = 8;

/** Leaves out stacks whose thicker layers are those of a better one, in the same order and within 5 %. */
export function distinct(drafts: readonly Draft[]): Draft[] {
  const kept: Draft[] = [];
  for (const draft of drafts)
    if (!kept.some((other) => isLike(draft, other, NEGLIGIBLE_NM))) kept.push(draft);
  return kept;
}
