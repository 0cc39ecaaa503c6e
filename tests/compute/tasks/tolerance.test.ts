import { describe, expect, it } from 'vitest';
import { runTask } from '../../../src/compute/task.ts';
import tolerance from '../../../src/compute/tasks/tolerance.ts';

const base = tolerance.example as object;
const run = (change: object = {}) => runTask(tolerance, { ...base, ...change });

describe('the task tolerance', () => {
  it('answers yield, interval, bands and sensitivities', async () => {
    const answer = await run();
    expect(answer.yield95[0]).toBeLessThanOrEqual(answer.yield);
    expect(answer.yield95[1]).toBeGreaterThanOrEqual(answer.yield);
    expect(answer.percentiles.wavelengthNm).toHaveLength(61);
    expect(answer.percentiles.R['50']).toHaveLength(61);
    expect(answer.sensitivity).toHaveLength(3);
    expect(answer.sensitivity.every((rise) => rise > 0)).toBe(true);
    expect(answer.warnings).toEqual([]);
  });

  it('shows the bands on the wavelengths asked for', async () => {
    const { percentiles } = await run({ wavelengthNm: [450, 550, 650] });
    expect([...percentiles.wavelengthNm]).toEqual([450, 550, 650]);
  });

  it('says where it has nothing to vary', async () => {
    const { warnings, yield: share } = await run({ errors: {} });
    expect(share).toBe(1);
    expect(warnings).toEqual(['All errors are 0, so every trial is the stack as planned.']);
  });

  it('refuses what makes no sense', async () => {
    await expect(run({ trials: 0 })).rejects.toThrow('trials: 0 is below 1');
    await expect(run({ errors: { relativePercent: -1 } })).rejects.toThrow(
      'errors.relativePercent: -1 % is below 0 %',
    );
    await expect(run({ requirements: [] })).rejects.toThrow('requirements: the list has');
    await expect(run({ errors: { relative: 1 } })).rejects.toThrow('errors.relative: unknown field');
  });

  it('stops on request', async () => {
    const stopper = new AbortController();
    const running = runTask(tolerance, { ...base, trials: 1_000_000 }, { signal: stopper.signal });
    setTimeout(() => stopper.abort(), 100);
    await expect(running).rejects.toThrow();
  });
});
