import type { SurfacePlan } from '../../batch/plan/plan-types.ts';

/** The colour of what a coated surface still reflects. */
export type Residual = SurfacePlan['residual'];

/** The residual colour of a surface, undefined where there is no surface. */
export function residualOf(surface: SurfacePlan | undefined): Residual | undefined {
  return surface?.residual;
}
