import { describe, expect, it } from 'vitest';
import { DEMO_BATCHES } from '../../../src/app/demo-batches.ts';
import {
  chooseRequest,
  rehearseRequest,
  rescueRequest,
  STRATEGIES,
} from '../../../src/app/stations/monitor/monitor-requests.ts';
import { type RunsAnswer, strategyRows } from '../../../src/app/stations/monitor/runs-answer.ts';
import { carryMaterials } from '../../../src/batch/carry-materials.ts';
import type { Batch } from '../../../src/batch/document.ts';
import { aimedLayers } from '../../../src/batch/plan/aim.ts';
import { readBatch } from '../../../src/batch/read-batch.ts';
import { runTask } from '../../../src/compute/task.ts';
import choose from '../../../src/compute/tasks/monitor.ts';
import rehearse from '../../../src/compute/tasks/rehearse.ts';
import rescue from '../../../src/compute/tasks/rescue.ts';

const demos = DEMO_BATCHES.map((text) => readBatch(text));
const eyepiece = demos.find(({ id }) => id === 'eyepiece-field-lens') as Batch;

describe.each(demos.map((batch) => [batch.id, batch] as const))('the requests of %s', (_, batch) => {
  const { front } = batch.surfaces;

  it('are taken by the virtual runs, which answer for every layer and strategy', async () => {
    const answer = (await runTask(
      rehearse,
      rehearseRequest(batch, front, { runs: 5, seed: 1, strategies: STRATEGIES }),
    )) as unknown as RunsAnswer;
    expect(answer.thicknessErrorNm).toHaveLength(front.layers.length);
    expect(strategyRows(answer).map(({ name }) => name)).toEqual([
      'as set',
      ...STRATEGIES.map(({ name }) => name),
    ]);
  });

  it('are taken by the choice, which gives a sentence for every layer', async () => {
    const { chosen } = (await runTask(choose, chooseRequest(batch, front))) as {
      chosen: { reason: string; wavelengthNm: number }[];
    };
    expect(chosen).toHaveLength(front.layers.length);
    for (const { reason } of chosen) expect(reason).toMatch(/\.$/);
  });

  it('are taken by the rescue, which finds nothing to change after a layer as planned', async () => {
    const answer = (await runTask(
      rescue,
      rescueRequest(batch, front, [aimedLayers(batch, front.layers)[0]!.thicknessNm], {
        topUp: false,
        restructure: false,
      }),
    )) as { verdict: string; layers: { thicknessNm: number }[] };
    expect(answer.verdict).toBe('go-on');
    expect(answer.layers[0]!.thicknessNm).toBeCloseTo(front.layers[0]!.thicknessNm, 9);
  });
});

describe('the comparison of strategies', () => {
  it('calls best the highest yield, and of equal ones that with the least sigma', () => {
    const way = (share: number, sigma: number) => ({
      thicknessErrorNm: [{ mean: 0, sigma, percentiles: { '5': 0, '50': 0, '95': 0 } }],
      ...{ yield: share, yield95: [share, share] as const, missedCuts: [0], runsWithMissedCut: 0 },
    });
    const answer: RunsAnswer = {
      ...way(0.9, 1),
      ...{ correlation: [[1]], runs: 10, warnings: [] },
      percentiles: { wavelengthNm: [], incidenceDeg: 0, R: { '5': [], '50': [], '95': [] } },
      strategies: [
        { ...way(1, 3), name: 'a' },
        { ...way(1, 2), name: 'b' },
      ],
    };
    expect(
      strategyRows(answer)
        .filter(({ isBest }) => isBest)
        .map(({ name }) => name),
    ).toEqual(['b']);
  });
});

describe('a material that only the batch carries', () => {
  it('goes with the request as a table and gives the same runs', async () => {
    const carried = carryMaterials(eyepiece);
    const options = { runs: 20, seed: 3, strategies: [] };
    const plain = (await runTask(
      rehearse,
      rehearseRequest(eyepiece, eyepiece.surfaces.front, options),
    )) as unknown as RunsAnswer;
    const tabled = (await runTask(
      rehearse,
      rehearseRequest(carried, carried.surfaces.front, options),
    )) as unknown as RunsAnswer;
    for (const [index, { mean }] of plain.thicknessErrorNm.entries())
      expect(tabled.thicknessErrorNm[index]!.mean).toBeCloseTo(mean, 1);
  });
});
