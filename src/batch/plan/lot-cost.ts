import { fixed, percent } from '../../base/format.ts';
import { type LotCost, type LotEffort, lotCost, type Prices } from '../../chamber/cost.ts';
import type { Batch } from '../document.ts';
import type { LotPlan, RunPlan } from './plan-types.ts';
import { within } from './within.ts';

/** What the cost of a lot follows from, but for the share of lenses that come out good. */
export interface LotCosting {
  readonly effort: Omit<LotEffort, 'goodLenses' | 'lostLenses'>;
  readonly prices: Prices;
  readonly orderedLenses: number;
  readonly startedLenses: number;
}

/** The cost of a lot with the share of good lenses that it was reckoned with. */
export interface CostedLot {
  readonly cost: LotCost;
  /** Whether the lenses lost are those that the virtual runs expect or those that the order holds in reserve. */
  readonly by: 'yield' | 'reserve';
  /** Good lenses that can be delivered: those expected, but no more than were ordered. */
  readonly deliveredLenses: number;
  readonly lostLenses: number;
  /** Lenses by which the lot is expected to fall short of the order; 0 where the reserve is enough. */
  readonly shortLenses: number;
}

/** Machine and attended labour by the hour, material by the gram, crystals, and the prices of them all; of a shared carrier the order's part. */
export function lotCosting(
  { money, process, order, chamber }: Batch,
  lot: Pick<LotPlan, 'totalS' | 'loads' | 'lensesToStart' | 'crystals' | 'orderShare'>,
  runs: readonly RunPlan[],
): LotCosting | undefined {
  if (money === undefined) return undefined;
  const materialG: Record<string, number> = {};
  for (const { material, massG } of runs.flatMap(({ charge }) => charge))
    materialG[material] = (materialG[material] ?? 0) + lot.orderShare * lot.loads * massG;
  return {
    effort: {
      machineS: lot.orderShare * lot.totalS,
      labourS: (lot.orderShare * lot.totalS * money.attendedPercent) / 100,
      materialG,
      crystals: lot.orderShare * lot.crystals,
    },
    prices: {
      machinePerHour: money.machinePerHour,
      labourPerHour: money.labourPerHour,
      materialPerG: Object.fromEntries(
        Object.keys(materialG).map((id) => [id, process.materials[id]?.pricePerG ?? 0]),
      ),
      perCrystal: chamber.crystals.price ?? 0,
      perLens: money.lensValue,
    },
    orderedLenses: order.quantity,
    startedLenses: lot.lensesToStart,
  };
}

/**
 * The cost of the lot. Of the lenses that are started the share `goodShare` comes out good; where it is not known yet, the
 * order's own reserve is taken as what is lost. The lot's hours and material are those of the planned loads either way;
 * good lenses beyond the order earn nothing.
 * @returns undefined where no good lens is expected.
 */
export function costLot(
  { effort, prices, orderedLenses, startedLenses }: LotCosting,
  goodShare?: number,
): CostedLot | undefined {
  const share = goodShare ?? orderedLenses / startedLenses;
  const good = share * startedLenses;
  if (good < 1e-9) return undefined;
  const deliveredLenses = Math.min(orderedLenses, good);
  const lostLenses = startedLenses - good;
  return {
    cost: within('money', () => lotCost({ ...effort, goodLenses: deliveredLenses, lostLenses }, prices)),
    by: goodShare === undefined ? 'reserve' : 'yield',
    deliveredLenses,
    lostLenses,
    shortLenses: orderedLenses - deliveredLenses,
  };
}

/** In words: how many good lenses are expected of those started, whether that is enough, and what would be. */
export function goodLensWords({ orderedLenses, startedLenses }: LotCosting, goodShare: number): string {
  const good = Math.floor(goodShare * startedLenses + 1e-9);
  const expected = `Of ${startedLenses} lenses started ${good} are expected to be good, by the computed yield of ${percent(goodShare, 1)}`;
  if (good >= orderedLenses) return `${expected}: enough for the ${orderedLenses} ordered.`;
  if (goodShare < 0.01) return `${expected}: ${orderedLenses - good} too few. No reserve makes up for that.`;
  const needed = Math.ceil(orderedLenses / goodShare - 1e-9);
  const reserve = Math.ceil(1000 * (needed / orderedLenses - 1) - 1e-9) / 10;
  return `${expected}: ${orderedLenses - good} too few for the ${orderedLenses} ordered. ${needed} would have to be started, a reserve of ${fixed(reserve, 1)} %.`;
}
