import { counted } from '../../../base/format.ts';
import type { LoadPlan, LotPlan } from '../../../batch/plan/plan-types.ts';

/** How the last load stands, in words: racks full, racks part full with their dummies, racks of dummies alone. */
export function lastLoadWords({ racks }: LoadPlan, { rows }: LotPlan): string {
  const last = rows.at(-1)?.racks ?? [];
  const full = last.filter(({ lenses, dummies }) => lenses > 0 && dummies === 0).length;
  if (full === racks) return 'Every load is full: no dummies.';
  const idle = last.filter(({ lenses }) => lenses === 0).length;
  const parts = [
    ...(full === 0 ? [] : [`${counted(full, 'rack')} full`]),
    ...last
      .filter(({ lenses, dummies }) => lenses > 0 && dummies > 0)
      .map(
        ({ lenses, dummies }) =>
          `one with ${counted(lenses, 'lens', 'lenses')} and ${counted(dummies, 'dummy', 'dummies')}`,
      ),
    ...(idle === 0 ? [] : [`${counted(idle, 'rack')} of dummies alone, free for another lot`]),
  ];
  return `The last load: ${parts.join(', ')}. Dummies keep the racks balanced and let no vapour pass.`;
}
