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

/** Such as "4.31 EUR, by the computed yield, updating". */
export function costText({ costed, currency, isUpdating }: CostNow): string {
  if (costed === undefined) return 'no good lens is expected';
  const by = costed.by === 'yield' ? 'by the computed yield' : "by the order's reserve";
  return `${`${fixed(costed.cost.perGoodLens, 2)} ${currency}`.trim()}, ${by}${isUpdating ? ', updating' : ''}`;
}
