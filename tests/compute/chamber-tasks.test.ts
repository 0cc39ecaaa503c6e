import { describe, expect, it } from 'vitest';
import { runTask } from '../../src/compute/task.ts';
import { TASKS } from '../../src/compute/tasks.ts';

describe('the tasks of the chamber', () => {
  it.each(['nest', 'deposit', 'charge', 'crystal', 'pumpdown'])(
    'answer their own example: %s',
    async (name) => {
      const task = await TASKS[name]!();
      expect(task.name).toBe(name);
      const answer = await runTask(task, task.example);
      expect(answer.warnings).toEqual([]);
      expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
      expect(JSON.stringify(answer)).not.toContain('null');
    },
  );

  it.each([
    [
      'deposit',
      { motion: { kind: 'orbital' } },
      'motion: its kind "orbital" is not one of "fixed", "rotating"',
    ],
    ['deposit', { motion: { kind: 'fixed' } }, 'motion.heightMm: is missing'],
    ['deposit', { motion: { kind: 'fixed', heightMm: -3 } }, 'motion.heightMm: -3 mm is below 1 mm'],
    ['crystal', { thicknessNm: 100 }, 'loadedFrequencyHz: give exactly one of'],
    ['pumpdown', { stages: [] }, 'stages: the list has no entries; it needs at least 1'],
    ['charge', { hightMm: 3 }, 'hightMm: unknown field "hightMm"'],
  ])('refuse with a sentence: %s %o', async (name, change, sentence) => {
    const task = await TASKS[name]!();
    const request = { ...(task.example as object), ...change };
    await expect(runTask(task, request)).rejects.toThrow(sentence);
  });
});
