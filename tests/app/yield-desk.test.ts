import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { YieldDesk } from '../../src/app/yield-desk.ts';
import { newBatch } from '../../src/batch/new-batch.ts';
import type { YieldPlan } from '../../src/batch/plan/plan-types.ts';
import { WorkerFault } from '../../src/compute/task-client.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const answer = (share: number): YieldPlan => ({ surfaces: [], yield: share, yield95: [share, share] });

/** A desk whose questions are answered by hand. */
function desk() {
  const questions: {
    id: string;
    signal: AbortSignal;
    give: (plan: YieldPlan) => void;
    fail: (error: Error) => void;
  }[] = [];
  const told = vi.fn();
  const asked = new YieldDesk(told);
  asked.connect(
    (batch, signal) =>
      new Promise<YieldPlan>((give, fail) => {
        questions.push({ id: batch.id, signal, give, fail });
      }),
  );
  return { asked, questions, told };
}

describe('the desk for yields', () => {
  it('asks once for edits that follow each other, for the newest batch', async () => {
    const { asked, questions } = desk();
    asked.ask(newBatch('a'));
    asked.ask(newBatch('b'));
    await vi.advanceTimersByTimeAsync(500);
    expect(questions.map(({ id }) => id)).toEqual(['b']);
    expect(asked.state.isUpdating).toBe(true);
  });

  it('keeps the old answer, marked, until the new one is there', async () => {
    const { asked, questions, told } = desk();
    asked.ask(newBatch('a'));
    await vi.advanceTimersByTimeAsync(500);
    questions[0]?.give(answer(0.9));
    await vi.advanceTimersByTimeAsync(1);
    expect(asked.state).toMatchObject({ isUpdating: false, answer: { yield: 0.9 } });
    asked.ask(newBatch('b'));
    expect(asked.state).toMatchObject({ isUpdating: true, answer: { yield: 0.9 } });
    await vi.advanceTimersByTimeAsync(500);
    questions[1]?.give(answer(0.8));
    await vi.advanceTimersByTimeAsync(1);
    expect(asked.state).toMatchObject({ isUpdating: false, answer: { yield: 0.8 }, before: { yield: 0.9 } });
    expect(told).toHaveBeenCalledTimes(2);
  });

  it('drops an answer that a newer edit has overtaken', async () => {
    const { asked, questions } = desk();
    asked.ask(newBatch('a'));
    await vi.advanceTimersByTimeAsync(500);
    asked.ask(newBatch('b'));
    expect(questions[0]?.signal.aborted).toBe(true);
    questions[0]?.give(answer(0.1));
    await vi.advanceTimersByTimeAsync(1);
    expect(asked.state.answer).toBeUndefined();
    expect(asked.state.isUpdating).toBe(true);
  });

  it('asks again for a batch that is edited there and back, and not for one that is planned alike', async () => {
    const { asked, questions } = desk();
    const [whole, more] = [newBatch('a'), newBatch('a')];
    more.order.quantity += 1;
    for (const batch of [whole, more, whole, { ...whole, runs: [] }]) {
      asked.follow(batch);
      await vi.advanceTimersByTimeAsync(500);
    }
    expect(questions).toHaveLength(3);
  });

  it('says why where there is no answer, and shows no old one', async () => {
    const { asked, questions } = desk();
    asked.ask(newBatch('a'));
    await vi.advanceTimersByTimeAsync(500);
    questions[0]?.fail(new Error('no requirement'));
    await vi.advanceTimersByTimeAsync(1);
    expect(asked.state).toMatchObject({
      isUpdating: false,
      answer: undefined,
      fault: 'no requirement',
      isBroken: false,
    });
    asked.ask(newBatch('b'));
    await vi.advanceTimersByTimeAsync(500);
    questions[1]?.fail(new WorkerFault('the calculation broke down'));
    await vi.advanceTimersByTimeAsync(1);
    expect(asked.state).toMatchObject({ fault: 'the calculation broke down', isBroken: true });
  });
});
