import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { runTask } from '../../src/compute/task.ts';
import planTask from '../../src/compute/tasks/plan.ts';

const document = JSON.parse(readFileSync('demo/prism-face.json', 'utf8'));

describe('the task plan', () => {
  it('answers with everything that follows from a batch', async () => {
    const answer = await runTask(planTask, document);
    expect(answer.stack.map(({ side }) => side)).toEqual(['front']);
    expect(answer.runs).toBe(1);
    expect(answer.schedule.at(-1)!.step).toBe('Unload');
    expect(answer.schedule.at(-1)!.startS + answer.schedule.at(-1)!.durationS).toBeCloseTo(answer.totalS, 9);
    expect(answer.charge.map(({ material }) => material)).toEqual(['mgf2']);
    expect(answer.monitor).toHaveLength(1);
    expect(answer.yield).toBeGreaterThan(0.5);
    expect(answer.cautions.length).toBeGreaterThan(5);
  });

  it('has the cost of a lens by the yield that it computed, where the batch holds prices', async () => {
    const money = {
      currency: 'EUR',
      machinePerHour: 90,
      labourPerHour: 45,
      attendedPercent: 40,
      lensValue: 10,
    };
    const { lot, yield: share } = await runTask(planTask, { ...document, money });
    if (!('costBy' in lot)) throw new Error('there is no cost');
    expect(lot.costBy).toBe('yield');
    expect(lot.lostLenses).toBeCloseTo(lot.lensesToStart * (1 - share), 9);
    expect(lot.cost.scrap).toBeCloseTo(10 * lot.lostLenses, 9);
    expect(lot.costPerLens).toBeCloseTo(lot.cost.total / lot.deliveredLenses, 9);
  });

  it('has the traveller and the tables as its papers', async () => {
    const papers = await planTask.papers!(
      await import('../../src/batch/read-batch.ts').then(({ batchFrom }) => batchFrom(document)),
      await runTask(planTask, document),
    );
    expect(papers.html).toContain('LW-2611-09');
    expect(papers.tables.map(({ name }) => name)).toContain('cuts');
  });

  it('names the field of a batch that is wrong', async () => {
    await expect(
      runTask(planTask, { ...document, order: { ...document.order, quantity: 0 } }),
    ).rejects.toThrow('order.quantity: 0 is below 1');
    const unknown = structuredClone(document);
    unknown.surfaces.front.layers[0].material = 'nothing';
    await expect(runTask(planTask, unknown)).rejects.toThrow(
      'surfaces.front.layers[0].material: "nothing" is no material',
    );
  });
});
