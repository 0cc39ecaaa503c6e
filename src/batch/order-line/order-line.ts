import type { Requirement } from '../../design/requirement.ts';

/** What of an order a line can say, but for its requirements. */
export interface OrderFacts {
  readonly title: string;
  readonly lot: string;
  readonly quantity: number;
  readonly rejectReservePercent: number;
  readonly substrate: string;
  readonly diameterMm: number;
  readonly clearApertureMm: number;
  readonly centreThicknessMm: number;
  /** Signed as in the batch; 0 stands for a plane face. */
  readonly frontRadiusMm: number;
  readonly backRadiusMm: number;
  readonly back: 'same' | 'uncoated';
}

/** A part of the line and how it was understood. */
export interface OrderPiece {
  readonly text: string;
  readonly what: string;
  readonly value: string;
}

/** An order line as it was read. */
export interface OrderLine {
  readonly facts: Partial<OrderFacts>;
  readonly requirements: readonly Requirement[];
  readonly pieces: readonly OrderPiece[];
  /** Words that mean nothing here, in their order. */
  readonly leftOut: readonly string[];
  /** Why the line cannot be used as it stands: sentences. */
  readonly faults: readonly string[];
}

/** The longest line that is read, in characters. */
export const LONGEST_ORDER_LINE = 2000;
