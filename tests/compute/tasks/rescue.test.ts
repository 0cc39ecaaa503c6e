import { describe, expect, it } from 'vitest';
import { runTask } from '../../../src/compute/task.ts';
import rescue from '../../../src/compute/tasks/rescue.ts';

const base = rescue.example as { start: { thicknessNm: number }[] };
const run = (change: object = {}) => runTask(rescue, { ...base, ...change });

describe('the task rescue', () => {
  it('keeps what is deposited and makes up for it with the rest', async () => {
    const answer = await run();
    expect(answer.layers.map(({ thicknessNm }) => thicknessNm).slice(0, 2)).toEqual([159.3, 58]);
    expect(answer.changeNm[0]).toBeCloseTo(0, 12);
    expect(answer.changeNm[1]).toBeCloseTo(5.4, 9);
    answer.layers.forEach(({ thicknessNm }, layer) => {
      expect(answer.changeNm[layer]).toBeCloseTo(thicknessNm - base.start[layer]!.thicknessNm, 9);
    });
    expect(answer.merit).toBeLessThan(answer.untouched.merit);
    expect(answer.verdict).toBe('go-on');
  });

  it('says to strip and start again where nothing saves it', async () => {
    const answer = await run({ deposited: [159.3, 52.6, 190] });
    expect(answer.achieved[0]!.met).toBe(false);
    expect(answer.verdict).toBe('strip');
    expect(answer.reason).toContain('Strip and start again');
  });

  it('changes nothing that matters where all went well', async () => {
    const answer = await run({ deposited: [159.3, 52.6] });
    expect(answer.verdict).toBe('go-on');
    expect(answer.merit).toBeLessThanOrEqual(answer.untouched.merit);
    for (const change of answer.changeNm) expect(Math.abs(change)).toBeLessThan(1);
  });

  it('may put a layer in or leave one out when asked to search', async () => {
    const fixed = await run({ deposited: [120, 75], maxLayers: 6 });
    const free = await run({ deposited: [120, 75], maxLayers: 6, search: 'synthesize' });
    expect(free.merit).toBeLessThanOrEqual(fixed.merit);
    expect(free.planned.slice(0, 2)).toEqual([0, 1]);
    free.planned.forEach((from, layer) => {
      if (from < 0) expect(free.changeNm[layer]).toBe(free.layers[layer]!.thicknessNm);
    });
  });

  it('tops the last layer up where that is allowed', async () => {
    const short = await run({ deposited: [159.3, 30] });
    const topped = await run({ deposited: [159.3, 30], topUp: true });
    expect(topped.layers[1]!.thicknessNm).toBeGreaterThanOrEqual(30);
    expect(topped.merit).toBeLessThan(short.merit);
  });

  it('refuses more layers than were planned, or no plan', async () => {
    await expect(run({ deposited: [1, 2, 3, 4, 5] })).rejects.toThrow(
      'deposited: 5 layers were deposited, but the plan has 4',
    );
    await expect(run({ start: undefined })).rejects.toThrow('start');
  });
});
