import type { Draft } from './search-problem.ts';

/** Keeps the best stack of each sequence of materials. */
export class Findings {
  readonly #bySequence = new Map<string, Draft>();

  add(draft: Draft): void {
    const key = draft.materials.join(' ');
    const known = this.#bySequence.get(key);
    if (known === undefined || draft.merit < known.merit) this.#bySequence.set(key, draft);
  }

  /** The best `count`, best first. Ties go by the sequence, so that the order never depends on who came first. */
  best(count: number): Draft[] {
    return [...this.#bySequence.entries()]
      .sort(([key, one], [otherKey, other]) => one.merit - other.merit || (key < otherKey ? -1 : 1))
      .slice(0, count)
      .map(([, draft]) => draft);
  }

  /** The best `count` that are unlike one another, best first. */
  unlike(count: number, areAlike: (one: Draft, other: Draft) => boolean): Draft[] {
    const kept: Draft[] = [];
    for (const draft of this.best(Number.POSITIVE_INFINITY)) {
      if (kept.length === count) break;
      if (!kept.some((other) => areAlike(draft, other))) kept.push(draft);
    }
    return kept;
  }

  /** The best of each number (of layers, of materials) below that of `than`, the greatest number first. */
  bestOfFewer(than: Draft, numberOf: (draft: Draft) => number): Draft[] {
    const most = numberOf(than);
    const byNumber = new Map<number, Draft>();
    for (const draft of this.best(Number.POSITIVE_INFINITY)) {
      const number = numberOf(draft);
      if (number < most && !byNumber.has(number)) byNumber.set(number, draft);
    }
    return [...byNumber.entries()].sort(([one], [other]) => other - one).map(([, draft]) => draft);
  }
}
