import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { runTask } from '../../../src/compute/task.ts';
import ways from '../../../src/compute/tasks/ways.ts';

const batch = JSON.parse(readFileSync('demo/prism-face.json', 'utf8'));

it('other ways are answered in their order, one without a plan by its reason', async () => {
  const answer = await runTask(ways, { batch, trials: [{}, { rates: 2 }, { rackDiameterMm: 10 }] });
  expect(answer.ways).toHaveLength(3);
  expect(answer.ways[0]).toMatchObject({ savedH: 0, warnings: [] });
  expect((answer.ways[1] as { savedH: number }).savedH).toBeGreaterThan(0);
  expect((answer.ways[2] as { fault: string }).fault).toMatch(/does not go into|leaves nothing|rack/);
});

it('ways that nobody waits for any more are given up', async () => {
  const signal = AbortSignal.abort();
  await expect(runTask(ways, { batch, trials: [{}, {}] }, { signal })).rejects.toThrow(/abort/i);
});
