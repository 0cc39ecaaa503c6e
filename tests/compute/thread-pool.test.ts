import { describe, expect, it } from 'vitest';
import { spreadInline } from '../../src/compute/spread.ts';
import { ThreadPool } from '../../src/compute/thread-pool.ts';
import { constantIndex } from '../../src/design/coated-surface.ts';
import type { Requirement } from '../../src/design/requirement.ts';
import { trialPlan } from '../../src/design/tolerance/trial-plan.ts';
import { Threads } from './threads.ts';

const requirement: Requirement = {
  quantity: 'R',
  statistic: 'mean',
  limit: 1.5,
  sense: 'below',
  bandNm: [450, 650],
  incidenceDeg: [0],
  polarization: 'mean',
  weight: 1,
};
const plan = trialPlan(
  {
    incident: constantIndex(1),
    layers: [{ index: constantIndex(1.38), thicknessNm: 99.6 }],
    substrate: constantIndex(1.52),
  },
  [requirement],
  { relativePercent: 5, absoluteNm: 0, indexPercent: 0 },
  1,
);
const blocks = Array.from({ length: 9 }, (_, block) => ({ block, trials: 20, keepsSpectra: true }));

describe('ThreadPool', () => {
  it('answers as one thread does, in the order of the inputs, whatever its size', async () => {
    const expected = await spreadInline('tolerance-trials', plan, blocks);
    for (const size of [1, 2, 5, 20]) {
      const pool = new ThreadPool(new Threads().start, size);
      expect(await pool.spread('tolerance-trials', plan, blocks)).toEqual(expected);
    }
  });

  it('tells after each output how many there are', async () => {
    const counts: number[] = [];
    const note = (count: number) => void counts.push(count);
    await new ThreadPool(new Threads().start, 3).spread('tolerance-trials', plan, blocks, undefined, note);
    await spreadInline('tolerance-trials', plan, blocks.slice(0, 2), undefined, note);
    expect(counts).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 1, 2]);
  });

  it('starts no more threads than it may, and keeps them for the next call', async () => {
    const threads = new Threads();
    const pool = new ThreadPool(threads.start, 3);
    await pool.spread('tolerance-trials', plan, blocks);
    await pool.spread('tolerance-trials', plan, blocks);
    expect(threads.started).toBe(3);
    pool.close();
    expect(threads.ended).toBe(3);
  });

  it('replaces a thread that breaks down and gives its input out again', async () => {
    const threads = new Threads();
    let broken = 0;
    threads.breaks = () => broken === 0 && ++broken === 1;
    const pool = new ThreadPool(threads.start, 2);
    const expected = await spreadInline('tolerance-trials', plan, blocks);
    expect(await pool.spread('tolerance-trials', plan, blocks)).toEqual(expected);
    expect(threads.started).toBe(3);
  });

  it('gives up with a sentence where an input breaks every thread', async () => {
    const threads = new Threads();
    threads.breaks = () => true;
    const pool = new ThreadPool(threads.start, 2);
    await expect(pool.spread('tolerance-trials', plan, blocks)).rejects.toThrow(
      'a helping thread broke down: it was killed',
    );
  });

  it('says what a kernel threw', async () => {
    const pool = new ThreadPool(new Threads().start, 2);
    const wrong = { ...plan, seed: -1 };
    await expect(pool.spread('tolerance-trials', wrong, blocks)).rejects.toThrow('seed: -1 is below 0');
  });

  it('ends its threads at once when aborted, even where they hang', async () => {
    const threads = new Threads();
    threads.hang = true;
    const pool = new ThreadPool(threads.start, 2);
    const stopper = new AbortController();
    const running = pool.spread('tolerance-trials', plan, blocks, stopper.signal);
    setTimeout(() => stopper.abort(), 20);
    await expect(running).rejects.toThrow('aborted');
    expect(threads.ended).toBe(2);
    threads.hang = false;
    expect(await pool.spread('tolerance-trials', plan, blocks.slice(0, 1))).toHaveLength(1);
  });

  it('answers nothing with nothing', async () => {
    expect(await new ThreadPool(new Threads().start, 2).spread('tolerance-trials', plan, [])).toEqual([]);
  });
});
