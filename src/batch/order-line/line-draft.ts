import type { Requirement } from '../../design/requirement.ts';
import type { OrderFacts, OrderPiece } from './order-line.ts';

/** A requirement whose parts come one by one. */
export interface GoalDraft {
  limit?: Pick<Requirement, 'quantity' | 'statistic' | 'sense'> & { readonly limit: number };
  bandNm?: readonly [number, number];
  incidenceDeg?: readonly number[];
  polarization?: Requirement['polarization'];
}

/** What has been read of an order line so far. */
export class LineDraft {
  readonly facts: Partial<OrderFacts> = {};
  readonly goals: GoalDraft[] = [];
  readonly pieces: OrderPiece[] = [];
  readonly faults: string[] = [];

  /** Notes a fact; a second one that differs is a fault. `value` is how the fact reads. */
  note<Name extends keyof OrderFacts>(
    name: Name,
    fact: OrderFacts[Name],
    piece: { readonly text: string; readonly what: string; readonly value: string },
  ): void {
    const before = this.facts[name];
    if (before !== undefined && before !== fact) {
      const first = this.pieces.find(({ what }) => what === piece.what)?.value ?? String(before);
      this.faults.push(`${piece.what} is given twice: ${first} and ${piece.value}.`);
      return;
    }
    this.facts[name] = fact;
    this.pieces.push(piece);
  }

  /** The requirement that a part belongs to: the last one, or a new one where the last has such a part already. */
  goalWithout(part: keyof GoalDraft): GoalDraft {
    const last = this.goals.at(-1);
    if (last !== undefined && last[part] === undefined) return last;
    const next: GoalDraft = {};
    this.goals.push(next);
    return next;
  }
}
