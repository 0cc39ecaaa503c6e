/** Times of one contestant, ns a unit of work. */
export interface Timing {
  readonly medianNs: number;
  readonly leastNs: number;
  /** Half the distance between the quartiles. */
  readonly spreadNs: number;
}

/** Whatever is computed is added here and printed, so that no compiler can leave it out. */
export const sink = { sum: 0 };

/**
 * Processor time is counted, not the clock on the wall, so that other programs disturb as little as they can.
 * Repeats `run` in `rounds` batches of at least `batchMs` after a warm-up of the same length, and returns the median
 * over batches of the time of one run over `units`. `run` returns a number that depends on its result.
 */
export function measure(units: number, run: (round: number) => number, batchMs = 40, rounds = 15): Timing {
  let count = 1;
  for (;;) {
    const ms = batch(run, count);
    if (ms > batchMs) break;
    count = Math.ceil(count * Math.min(10, Math.max(1.5, (1.2 * batchMs) / Math.max(ms, 0.01))));
  }
  const times = Array.from({ length: rounds }, () => (batch(run, count) * 1e6) / (count * units));
  return timing(times);
}

export function timing(timesNs: readonly number[]): Timing {
  const sorted = [...timesNs].sort((a, b) => a - b);
  const at = (fraction: number) => sorted[Math.round(fraction * (sorted.length - 1))]!;
  return { medianNs: at(0.5), leastNs: at(0), spreadNs: (at(0.75) - at(0.25)) / 2 };
}

function batch(run: (round: number) => number, count: number): number {
  const start = process.cpuUsage();
  for (let i = 0; i < count; i++) sink.sum += run(i);
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}
