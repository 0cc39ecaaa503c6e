import { afterEach, describe, expect, inject, it } from 'vitest';
import { answerJson } from '../../src/compute/answer-json.ts';
import { TaskClient } from '../../src/compute/task-client.ts';
import { exampleRequests, SHARED_REHEARSAL, sharedRequests } from '../fixtures/shared-request.ts';

/**
 * The two engines' sines, exponentials and logarithms differ in the last bit (seen in V8 11.3 and 15.3), which a run
 * of thousands of steps carries on; this bound is stated in DEVELOPERS.
 */
const BETWEEN_ENGINES = 1e-9;

const PATIENCE_MS = 90_000;

const client = new TaskClient(
  () => new Worker(new URL('../../src/compute/worker.ts', import.meta.url), { type: 'module' }),
);
afterEach(() => client.close());

const ask = (change: object, options = {}) =>
  client.ask<{ warnings: string[] }>('rehearse', { ...SHARED_REHEARSAL, ...change }, options);

/** Every place of an answer with its number or word. */
function leaves(value: unknown, path = ''): [string, unknown][] {
  if (typeof value !== 'object' || value === null) return [[path, value]];
  return Object.entries(value).flatMap(([key, inner]) => leaves(inner, `${path}/${key}`));
}

/** Holds an answer of the browser to Node's: the same words at the same places, numbers within the bound for two engines. */
function expectAsInNode(name: string, answer: unknown): void {
  const ours = leaves(JSON.parse(answerJson(answer)));
  const nodes = leaves(JSON.parse(inject('nodeAnswers')[name]!));
  expect(ours.map(([path]) => path)).toEqual(nodes.map(([path]) => path));
  for (const [at, [path, value]] of ours.entries()) {
    const other = nodes[at]![1];
    if (typeof value !== 'number' || typeof other !== 'number') expect(value, path).toBe(other);
    else
      expect(Math.abs(value - other), path).toBeLessThanOrEqual(
        BETWEEN_ENGINES * Math.max(1, Math.abs(other)),
      );
  }
}

describe('what several workers share', { timeout: PATIENCE_MS }, () => {
  it.each(Object.entries(sharedRequests()))(
    'is answered as Node does it on one thread, within the bound for two engines: %s',
    async (name, request) => {
      const fractions: number[] = [];
      const answer = await client.ask(name, request, {
        progress: (fraction: number) => fractions.push(fraction),
      });
      expectAsInNode(name, answer);
      expect(fractions.length).toBeGreaterThan(0);
    },
  );
});

describe('every other task', { timeout: PATIENCE_MS }, () => {
  it('is answered as Node does it, within the bound for two engines', async () => {
    for (const [name, request] of Object.entries(await exampleRequests()))
      expectAsInNode(name, await client.ask(name, request));
  });
});

describe('virtual runs in the browser', { timeout: PATIENCE_MS }, () => {
  it('stop at once when cancelled, and the next question is answered', async () => {
    const stop = new AbortController();
    const endless = ask(
      { runs: 500_000 },
      { signal: stop.signal, progress: (fraction: number) => fraction > 0 && stop.abort() },
    );
    await expect(endless).rejects.toMatchObject({ name: 'AbortError' });
    const answer = await ask({ runs: 2, strategies: [] });
    expect(answer.warnings.join()).toContain('turning point');
  });
});
