import { S_PER_H } from '../../base/constants.ts';
import { InputError } from '../../base/errors.ts';
import type { Batch } from '../document.ts';
import type { ChargePlan, LoadPlan, LotPlan, RunPlan } from './plan-types.ts';

/**
 * The whole lot: loads, runs, hours, material and, where the batch holds prices, the cost of a lens. A load
 * goes through the chamber once for each coated side; the last load may be part full, but takes a whole run.
 * @throws InputError where no place is left for a lens.
 */
export function planLot(document: Batch, load: LoadPlan, runs: readonly RunPlan[]): LotPlan {
  const { quantity, rejectReservePercent } = document.order;
  if (load.lensesPerLoad === 0)
    throw new InputError(
      'fixture.witnessesPerRack',
      'the witness pieces leave no place for a lens on the rack',
    );
  const lensesToStart = Math.ceil(quantity * (1 + rejectReservePercent / 100) - 1e-9);
  const loads = Math.ceil(lensesToStart / load.lensesPerLoad);
  const runCount = loads * runs.length;
  const cleanings = Math.floor(Math.max(0, runCount - 1) / document.process.cleanEveryRuns);
  const perLoadS = runs.reduce((sum, run) => sum + run.totalS, 0);
  const totalS = loads * perLoadS + cleanings * document.process.cleanMin * 60;
  const chargeG = loads * runs.flatMap(({ charge }) => charge).reduce((sum, { massG }) => sum + massG, 0);
  const costs = costOf(document, totalS, loads, runs);
  return {
    lensesToStart,
    loads,
    runs: runCount,
    lensesInLastLoad: lensesToStart - (loads - 1) * load.lensesPerLoad,
    totalS,
    chargeG,
    ...(costs === undefined ? {} : { costPerLens: costs.total / quantity, currency: costs.currency }),
  };
}

/** Machine and attended labour by the hour, material by the gram. */
function costOf(
  { money, process }: Batch,
  totalS: number,
  loads: number,
  runs: readonly RunPlan[],
): { total: number; currency: string } | undefined {
  if (money === undefined) return undefined;
  const hours = totalS / S_PER_H;
  const material = runs
    .flatMap(({ charge }) => charge)
    .reduce(
      (sum, item: ChargePlan) => sum + item.massG * (process.materials[item.material]?.pricePerG ?? 0),
      0,
    );
  return {
    total:
      hours * (money.machinePerHour + (money.labourPerHour * money.attendedPercent) / 100) + loads * material,
    currency: money.currency,
  };
}
