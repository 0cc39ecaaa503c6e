import { describe, expect, it } from 'vitest';
import { answerRequest } from '../../src/compute/answer-request.ts';
import { jsonSchemaOf } from '../../src/compute/json-schema.ts';
import { TASKS } from '../../src/compute/tasks.ts';

/** Every task of the registry. */
const names = Object.keys(TASKS);

describe.each(names)('the task %s', (name) => {
  it('has its own name and a summary of one line', async () => {
    const task = await TASKS[name]!();
    expect(task.name).toBe(name);
    expect(task.summary).toMatch(/^[^\n]{5,100}$/);
  });

  it('answers its example, twice the same, with a list of warnings', async () => {
    const task = await TASKS[name]!();
    const [first, second] = [
      await answerRequest(task, task.example, false),
      await answerRequest(task, task.example, false),
    ];
    expect(first).toMatchObject({ kind: 'answer' });
    expect(second).toEqual(first);
    if (first.kind === 'answer') expect(JSON.parse(first.json).warnings).toBeInstanceOf(Array);
  });

  it('refuses a field that it does not know, and names it', async () => {
    const task = await TASKS[name]!();
    const request = { ...(task.example as object), unheardOf: 1 };
    expect(await answerRequest(task, request, false)).toEqual({
      kind: 'wrong-request',
      path: 'unheardOf',
      reason: 'unknown field "unheardOf"',
    });
  });

  it('describes its request as JSON Schema', async () => {
    const { request } = await TASKS[name]!();
    const schema = jsonSchemaOf(request);
    expect(schema.type).toBe('object');
    expect(schema.additionalProperties).toBe(false);
    expect(Object.keys(schema.properties ?? {}).length).toBeGreaterThan(0);
  });
});
