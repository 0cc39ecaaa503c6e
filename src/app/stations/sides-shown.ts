import { html, nothing, type TemplateResult } from 'lit';
import type { Side, Surface } from '../../batch/document.ts';
import type { RunPlan, SurfacePlan } from '../../batch/plan/plan-types.ts';
import { coatedSides } from '../../batch/sides.ts';
import type { BenchState } from '../bench-state.ts';
import type { Desk } from '../fields/fields.ts';

/** Name of a side as headings have it. */
export const SIDE_NAMES: Readonly<Record<Side, string>> = { front: 'Front', back: 'Back' };

/** The side whose own coating is shown: the one picked where it has one, else the front. */
export function shownSide({ batch, side }: BenchState): Side {
  return side === 'back' && typeof batch.surfaces.back === 'object' ? 'back' : 'front';
}

/** The surface of the side that is shown. */
export function shownSurface(state: BenchState): Surface {
  const { front, back } = state.batch.surfaces;
  return shownSide(state) === 'back' && typeof back === 'object' ? back : front;
}

/** Plan of the surface that is shown, now or before the last edit. */
export function shownSurfacePlan(state: BenchState, when: 'now' | 'before' = 'now'): SurfacePlan | undefined {
  const plan = when === 'now' ? state.plan : state.planBefore;
  return plan?.surfaces.find(({ side }) => side === shownSide(state));
}

/** Plan of the run of the side that is shown, now or before the last edit. */
export function shownRun(state: BenchState, when: 'now' | 'before' = 'now'): RunPlan | undefined {
  const plan = when === 'now' ? state.plan : state.planBefore;
  return plan?.runs.find(({ side }) => side === shownSide(state));
}

/** Lets the reader pick the side where both have coatings of their own, and says how the back stands elsewhere. */
export function sidePicker({ bench, state }: Desk): TemplateResult {
  const sides = coatedSides(state.batch);
  const [, back] = sides;
  if (back === undefined) return html`<span class="small soft">front only, the back stays bare</span>`;
  if (!back.own) return html`<span class="small soft">the back is coated as the front</span>`;
  const shown = shownSide(state);
  return html`<span role="group" aria-label="Side of the lens">
    ${sides.map(
      ({ side }) =>
        html`<button aria-pressed=${side === shown} @click=${() => bench.showSide(side)}>${SIDE_NAMES[side]}</button>`,
    )}
  </span>`;
}

/** A sentence where there is no plan at all to show. */
export function withoutPlan({ outcome }: BenchState): TemplateResult | typeof nothing {
  if (outcome.plan !== undefined) return nothing;
  return html`<p class="empty">There is no plan to show yet: ${outcome.fault?.message ?? 'it is being computed'}.</p>`;
}
