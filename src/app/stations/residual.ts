import type { SurfacePlan } from '../../batch/plan/plan-types.ts';

/** The colour of what a coated surface still reflects. */
export interface Residual {
  readonly srgb: string;
  readonly vivid: string;
  readonly L: number;
  readonly a: number;
  readonly b: number;
}

/** The residual colour of a surface, undefined where the plan holds none. */
export function residualOf(surface: SurfacePlan | undefined): Residual | undefined {
  return (surface as { readonly residual?: Residual } | undefined)?.residual;
}
