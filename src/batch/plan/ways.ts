import { S_PER_H } from '../../base/constants.ts';
import { InputError } from '../../base/errors.ts';
import type { Batch } from '../document.ts';
import { coatedSides } from '../sides.ts';
import { processOf } from './film-facts.ts';
import { computePlan } from './plan.ts';
import type { LotPlan, Plan } from './plan-types.ts';

const MS_PER_H = 1000 * S_PER_H;

/** What is tried out: factors on what the batch says, and a number of racks. */
export interface Trial {
  /** Factor on the rate of every material. */
  readonly rates?: number;
  /** Factor on the speed of every pump. */
  readonly pumps?: number;
  readonly racks?: number;
  readonly rackDiameterMm?: number;
}

export interface TrialResult {
  readonly runs: number;
  readonly perRunS: number;
  readonly totalS: number;
  /** Hours saved for the lot; negative where it takes longer. */
  readonly savedH: number;
  /** When the lot's last run is done on the shop's shifts; undefined where the batch holds none. */
  readonly ends?: string;
  /** Hours by which it is done earlier on the shop's shifts. */
  readonly endsEarlierH?: number;
  /** Sentences that the plan as it stands does not say. */
  readonly warnings: readonly string[];
}

/** The batch with the trial's changes; nothing else is touched. */
export function triedBatch(document: Batch, trial: Trial): Batch {
  const tried = structuredClone(document);
  const { rates = 1, pumps = 1 } = trial;
  if (rates !== 1)
    for (const { surface } of coatedSides(document))
      for (const { material } of surface.layers) {
        const process = processOf(document, material);
        tried.process.materials[material] = { ...process, rateNmPerS: process.rateNmPerS * rates };
      }
  if (pumps !== 1) for (const pump of tried.chamber.pumps) pump.speedM3PerS *= pumps;
  if (trial.racks !== undefined) tried.fixture.racks = trial.racks;
  if (trial.rackDiameterMm !== undefined) tried.fixture.rackDiameterMm = trial.rackDiameterMm;
  return tried;
}

/** When the lot ends on the shop's shifts, and how much earlier that is. */
function endsOf(before: LotPlan, { calendar }: LotPlan): Pick<TrialResult, 'ends' | 'endsEarlierH'> {
  const ends = calendar?.at(-1)?.ends;
  const ended = before.calendar?.at(-1)?.ends;
  if (ends === undefined || ended === undefined) return {};
  return { ends, endsEarlierH: (Date.parse(`${ended}Z`) - Date.parse(`${ends}Z`)) / MS_PER_H };
}

/**
 * What the lot takes when it is run another way, the whole chain computed anew; a sentence where that way has no plan.
 */
export function tryWay(document: Batch, plan: Plan, trial: Trial): TrialResult | string {
  try {
    const { lot, runs, warnings } = computePlan(triedBatch(document, trial));
    return {
      runs: lot.runs,
      perRunS: Math.max(0, ...runs.map(({ totalS }) => totalS)),
      totalS: lot.totalS,
      savedH: (plan.lot.totalS - lot.totalS) / S_PER_H,
      ...endsOf(plan.lot, lot),
      warnings: warnings.filter((line) => !plan.warnings.includes(line)),
    };
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}
