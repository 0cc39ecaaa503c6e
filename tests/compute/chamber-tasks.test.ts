import { describe, expect, it } from 'vitest';
import { runTask } from '../../src/compute/task.ts';
import { TASKS } from '../../src/compute/tasks.ts';

describe('the tasks of the chamber', () => {
  it.each(['charge', 'crystal', 'pumpdown'])('answer their own example: %s', async (name) => {
    const task = await TASKS[name]!();
    expect(task.name).toBe(name);
    const answer = await runTask(task, task.example);
    expect(answer.warnings).toEqual([]);
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
    expect(JSON.stringify(answer)).not.toContain('null');
  });
});
