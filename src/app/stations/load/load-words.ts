import { counted } from '../../../base/format.ts';
import type { LoadPlan, LotPlan } from '../../../batch/plan/plan-types.ts';
import { fillRuns } from '../../../chamber/fill-load.ts';

/** How the last load stands, in words: racks full, a rack part full with its dummies, racks of dummies alone. */
export function lastLoadWords(
  { places, witnessesPerLoad, racks, lensesPerRack }: LoadPlan,
  lot: LotPlan,
): string {
  const [run] = fillRuns(
    [{ lot: 'own', lenses: lot.lensesInLastLoad, places, witnessesPerRack: witnessesPerLoad / racks }],
    racks,
  );
  if (run === undefined) return '';
  const full = run.racks.filter((rack) => rack.lot !== '' && rack.dummies === 0).length;
  const part = run.racks.find(({ dummies }) => dummies > 0);
  const idle = run.racks.filter((rack) => rack.lot === '').length;
  if (full === racks) return 'Every load is full: no dummies.';
  const parts = [
    ...(full === 0 ? [] : [`${counted(full, 'rack')} full`]),
    ...(part === undefined
      ? []
      : [
          `one with ${counted(part.lenses, 'lens', 'lenses')} and ${counted(part.dummies, 'dummy', 'dummies')}`,
        ]),
    ...(idle === 0
      ? []
      : [`${counted(idle, 'rack')} of ${lensesPerRack} dummies each, free for another lot`]),
  ];
  return `The last load: ${parts.join(', ')}. Dummies keep the racks balanced and let no vapour pass.`;
}
