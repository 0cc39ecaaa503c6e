import { fixed } from '../../base/format.ts';
import { type CostedLot, costLot } from '../../batch/plan/lot-cost.ts';
import type { BenchState } from '../bench-state.ts';

/** The cost of the lot as it is known now. */
export interface CostNow {
  readonly costed: CostedLot | undefined;
  readonly currency: string;
  /** The computed yield that it was reckoned with; undefined where it is the order's reserve. */
  readonly goodShare: number | undefined;
  /** The yield is being computed anew. */
  readonly isUpdating: boolean;
}

/** The cost by the computed yield where that is known, by the order's reserve otherwise; undefined without prices. */
export function costNow({ plan, yields: { answer, isUpdating } }: BenchState): CostNow | undefined {
  if (plan?.lot.costing === undefined) return undefined;
  const goodShare = answer?.yield;
  const { costing, currency = '' } = plan.lot;
  return { costed: costLot(costing, goodShare), currency, goodShare, isUpdating };
}

/** What the cost of a good lens counts as lost, such as "cost a good lens, by the computed yield (updating)". */
export function costLabel({ costed, isUpdating }: CostNow): string {
  const by = costed?.by === 'reserve' ? "by the order's reserve" : 'by the computed yield';
  return `cost a good lens, ${by}${isUpdating ? ' (updating)' : ''}`;
}

/** Such as "4.31 EUR". */
export function costText({ costed, currency }: CostNow): string {
  if (costed === undefined) return 'none: no good lens is expected';
  return `${fixed(costed.cost.perGoodLens, 2)} ${currency}`.trim();
}
