import { assert } from '../base/assert.ts';

/** Work that takes `durationS` and can begin when everything that it waits for is done. */
export interface Work {
  readonly id: string;
  readonly durationS: number;
  readonly waitsFor: readonly string[];
}

/** When a piece of work is done, and what decides that. */
export interface Timing {
  readonly startS: number;
  readonly endS: number;
  /** The work that ends last of all that this one waits for: `undefined` where it waits for nothing. */
  readonly limitedBy: string | undefined;
  /** How much longer the work may take before the whole takes longer. */
  readonly slackS: number;
}

/**
 * Times of all the work, each piece begun as soon as it can be, by the critical-path method (J. E. Kelley &
 * M. R. Walker, Proc. Eastern Joint Computer Conf., 160-173, 1959): forward for the earliest start, backward
 * for the slack. `works` stand in an order in which nothing waits for something later.
 */
export function timeNetwork(works: readonly Work[]): ReadonlyMap<string, Timing> {
  const end = new Map<string, number>();
  const forward = works.map((work) => {
    let startS = 0;
    let limitedBy: string | undefined;
    for (const id of work.waitsFor) {
      const endS = end.get(id);
      assert(endS !== undefined, `${work.id} waits for ${id}, which stands before it`);
      if (limitedBy === undefined || endS > startS) limitedBy = id;
      startS = Math.max(startS, endS);
    }
    end.set(work.id, startS + work.durationS);
    return { work, startS, endS: startS + work.durationS, limitedBy };
  });
  const totalS = Math.max(0, ...end.values());
  const latestEnd = new Map<string, number>();
  const timings = new Map<string, Timing>();
  for (const { work, startS, endS, limitedBy } of forward.toReversed()) {
    const latestS = latestEnd.get(work.id) ?? totalS;
    timings.set(work.id, { startS, endS, limitedBy, slackS: Math.max(0, latestS - endS) });
    for (const id of work.waitsFor)
      latestEnd.set(id, Math.min(latestEnd.get(id) ?? totalS, latestS - work.durationS));
  }
  return timings;
}
