import type { Batch, RunRecord } from '../batch/document.ts';
import { coatingOf } from '../batch/run-planned.ts';
import { type JudgedRow, judgedRows } from './judged-rows.ts';

/** What a run's spectra say together; `open` where they pass as far as they go, or there are none. */
export interface RunVerdict {
  readonly kind: 'pass' | 'fail' | 'too-close' | 'no-uncertainty' | 'open';
  readonly sentence: string;
}

/** The worst first: the first of these that a row has is the run's. */
const BY_WEIGHT = [
  ['fail', 'fail', 'missed'],
  ['too-close', 'too-close', 'too close to call'],
  [
    'no-uncertainty',
    'no-uncertainty',
    'within the limit as read, but no pass while no uncertainty of a reading is stated',
  ],
  ['not-measured', 'open', 'not measured'],
] as const;

/**
 * The verdict on a run by the requirements of today: it fails where one place fails, is too close where one is, cannot be
 * stated without an uncertainty, and passes only where every requirement was measured at each of its angles. Screen, run log
 * and certificate take theirs from here.
 */
export function judgeRun(batch: Batch, run: RunRecord): RunVerdict {
  return verdictOf(judgedRows(coatingOf(batch, run.side).requirements, run), run.spectra.length);
}

/** The verdict that the rows of `judgedRows` amount to. @param spectra how many the run has. */
export function verdictOf(rows: readonly JudgedRow[], spectra: number): RunVerdict {
  if (rows.length === 0) return { kind: 'open', sentence: 'there is no requirement to judge by' };
  if (spectra === 0) return { kind: 'open', sentence: 'nothing is measured yet' };
  const found = BY_WEIGHT.flatMap(([of, kind, words]) => {
    const held = rows.filter(({ verdict }) => verdict === of);
    return held.length === 0 ? [] : [{ kind, sentence: `${words}: ${held.map(rowText).join('; ')}` }];
  });
  const [worst] = found;
  if (worst === undefined)
    return {
      kind: 'pass',
      sentence: `every requirement is met at ${[...new Set(rows.map(({ place }) => place))].join('; ')}`,
    };
  return { kind: worst.kind, sentence: found.map(({ sentence }) => sentence).join('. Also ') };
}

function rowText({ requirement, place }: JudgedRow): string {
  return place === undefined ? requirement : `${requirement} at ${place}`;
}
