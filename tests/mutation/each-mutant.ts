import { appendFileSync, readFileSync } from 'node:fs';
import { afterAll, beforeEach, type RunnerTestCase, type RunnerTestSuite } from 'vitest';
import { getFn } from 'vitest/suite';
import type { MutantEvent } from './events.ts';

/**
 * Once a file's tests have passed, runs those of them again that reach a mutant, with that mutant switched on: the shortest
 * first, until one fails. All of that happens in the thread that holds the modules, so that a mutant costs no more than its tests.
 */

/** What instrumented code shares with its tests (Stryker's instrumenter). */
interface Switchboard {
  activeMutant?: string | undefined;
  currentTestId?: string | undefined;
  hitCount?: number;
  hitLimit?: number;
  mutantCoverage?: { static: Record<string, number>; perTest: Record<string, Record<string, number>> };
}

const shared = globalThis as { __stryker__?: Switchboard };
shared.__stryker__ ??= {};
const board = shared.__stryker__;
const logFile = process.env.COATWRIGHT_MUTANT_LOG!;
/** What was drawn; a place in the code may have further switches. */
const { ids: drawn } = JSON.parse(readFileSync(process.env.COATWRIGHT_MUTANT_CODE!, 'utf8')) as {
  ids: string[];
};
/** Tests that take longer wait until the short ones of all files have had their turn. */
const longestMs = Number(process.env.COATWRIGHT_MUTANT_LONGEST_MS);

/** A test in which a mutant runs so much more often than it does by itself has lost its way. */
const LIMIT_FACTOR = 100;

const tell = (event: MutantEvent) => appendFileSync(logFile, `${JSON.stringify(event)}\n`);

/** Time of the processor that each test took, ms: on a busy machine a clock tells little. */
const tookMs = new Map<string, number>();

beforeEach(({ task }) => {
  board.currentTestId = task.id;
  const before = process.cpuUsage();
  return () => {
    board.currentTestId = undefined;
    const { user, system } = process.cpuUsage(before);
    tookMs.set(task.id, Math.round((user + system) / 1000));
  };
});

// Vitest reads from the first argument what a hook needs: nothing here.
// biome-ignore lint/correctness/noEmptyPattern: see above
afterAll(async ({}, suite) => {
  if (process.env.__STRYKER_ACTIVE_MUTANT__ !== undefined) return;
  const file = suite.file.name;
  const { perTest = {}, static: atLoad = {} } = board.mutantCoverage ?? {};
  tell({ kind: 'loaded', file, ids: Object.keys(atLoad) });
  const tests = testsOf(suite)
    .filter(({ result }) => result?.state === 'pass')
    .sort((one, other) => tookMs.get(one.id)! - tookMs.get(other.id)!);
  const { found, met } = before(file);
  /** Whether no other mutant has run in this thread. */
  let clean = true;
  let left = 0;
  for (const id of drawn) {
    if (found.has(id)) continue;
    let hasRun = false;
    for (const test of tests) {
      const hits = perTest[test.id]?.[id];
      if (hits === undefined || met.has(`${id} ${test.id}`)) continue;
      const ms = tookMs.get(test.id)!;
      if (ms > longestMs) {
        left += 1;
        break;
      }
      tell({ kind: 'start', id, file, testId: test.id, test: test.name, ms, pid: process.pid });
      hasRun = true;
      if (await passes(test, id, hits)) continue;
      // A state that a mutant before has left behind could fail a test as well: then a fresh thread shall say.
      if (!(await passes(test)) && !clean) {
        tell({ kind: 'spoilt', id, file, testId: test.id });
        return;
      }
      tell({ kind: 'found', id, file, test: test.name });
      break;
    }
    clean &&= !hasRun;
  }
  tell({ kind: 'ended', file, longestMs, left });
}, 0);

/** Mutants that have been found, and which of them have met which of this file's tests. */
function before(file: string): { found: Set<string>; met: Set<string> } {
  const found = new Set<string>();
  const met = new Set<string>();
  for (const line of readFileSync(logFile, 'utf8').split('\n').filter(Boolean)) {
    const event = JSON.parse(line) as MutantEvent;
    if (event.kind === 'found') found.add(event.id);
    else if (event.file !== file) continue;
    else if (event.kind === 'start') met.add(`${event.id} ${event.testId}`);
    else if (event.kind === 'spoilt') met.delete(`${event.id} ${event.testId}`);
  }
  return { found, met };
}

function testsOf(suite: Readonly<RunnerTestSuite>): RunnerTestCase[] {
  return suite.tasks.flatMap((task) => (task.type === 'suite' ? testsOf(task) : [task]));
}

async function passes(test: RunnerTestCase, id?: string, hits = 0): Promise<boolean> {
  board.hitCount = 0;
  board.hitLimit = hits * LIMIT_FACTOR;
  board.activeMutant = id;
  try {
    await getFn(test)!();
    return true;
  } catch {
    return false;
  } finally {
    board.activeMutant = undefined;
  }
}
