import { describe, expect, it } from 'vitest';
import { answerRequest } from '../../src/compute/answer-request.ts';
import { TASKS } from '../../src/compute/tasks.ts';
import { ThreadPool } from '../../src/compute/thread-pool.ts';
import { sharedRequests } from '../fixtures/shared-request.ts';
import { Threads } from './threads.ts';

// That of virtual runs is held in tasks/rehearse.test.ts.
describe('the same request and seed', () => {
  it.each(Object.entries(sharedRequests()).filter(([name]) => name !== 'rehearse'))(
    'give the same answer to the last bit whatever the number of threads: %s',
    async (name, request) => {
      const task = await TASKS[name]!();
      const alone = await answerRequest(task, request, false);
      expect(alone.kind).toBe('answer');
      for (const size of [1, 3]) {
        const { spread } = new ThreadPool(new Threads().start, size);
        expect(await answerRequest(task, request, false, { spread })).toEqual(alone);
      }
    },
  );
});
