import { describe, expect, it } from 'vitest';
import { runTask } from '../../../src/compute/task.ts';
import read from '../../../src/compute/tasks/read.ts';

const bytes = new TextEncoder().encode('nm,%R\n400,1\n500,2\n');
const readFile = async (path: string) => {
  if (path !== 'lens.csv') throw Object.assign(new Error('gone'), { code: 'ENOENT' });
  return bytes;
};

describe('the task read', () => {
  it('reads a file through the context that it runs in', async () => {
    const answer = await runTask(read, { file: 'lens.csv' }, { readFile });
    expect(answer).toMatchObject({ quantity: 'R', warnings: [] });
    expect(Array.from(answer.values)).toEqual([0.01, 0.02]);
  });

  it.each([
    [{}, 'give either "file" or "text"'],
    [{ file: 'a', text: 'b' }, 'give either "file" or "text"'],
    [{ file: 'gone.csv' }, 'file: "gone.csv" cannot be read: there is no such file'],
    [{ text: 'hello' }, 'the text has no two lines with a wavelength and a value; it begins with "hello"'],
    [{ text: 'a', scale: 'dB' }, 'scale: "dB" is not one of "fraction", "percent", "absorbance"'],
    [{ text: 'a', column: 0.5 }, 'column: 0.5 is below 1'],
  ])('refuses %j with one sentence', async (request, fault) => {
    await expect(runTask(read, request, { readFile })).rejects.toThrow(fault);
  });
});
