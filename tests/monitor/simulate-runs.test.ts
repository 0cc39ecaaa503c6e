import { describe, expect, it } from 'vitest';
import { Random } from '../../src/math/random.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { joinBlocks, type RunBlock, simulateRuns } from '../../src/monitor/simulate-runs.ts';
import { VirtualRun } from '../../src/monitor/virtual-run.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as glass } from './plain-witness.ts';

/** Invented: three short layers of two materials, by the crystal. */
const high = constantIndex(2.1);
const layers = [high, constantIndex(1.38), high].map(
  (material): CutLayer => ({
    ...{ material, thicknessNm: 20, wavelengthNm: 550, signal: 'R', rule: 'crystal', rateNmPerS: 0.5 },
  }),
);
const scatter = { ...NO_NOISE, sampleS: 0.5, crystalPercent: 5 };
const setUp = (noise: Partial<RunNoise> = {}, budgetHz?: number) =>
  setUpRuns(
    glass,
    layers,
    { ...scatter, ...noise },
    ...(budgetHz === undefined ? [] : [{ budgetHz, fallHzPerNm: [10, 10, 10], count: 1 }]),
  );

describe('a block of virtual runs', () => {
  it('holds run after run what each gives with its own stream of random numbers', () => {
    const setup = setUp({ indexPercent: 2 }, 500);
    const block = simulateRuns(setup, 9, 4, 6);
    expect([block.from, block.to]).toEqual([4, 6]);
    for (const [place, number] of [4, 5].entries()) {
      const run = new VirtualRun(setup);
      run.runAll(new Random(9).stream(number));
      const own = [place * 3, place * 3 + 3] as const;
      expect(block.thicknessNm.slice(...own)).toEqual(run.thicknessNm);
      expect(block.ending.slice(...own)).toEqual(run.ending);
      expect(block.crystalState!.slice(...own)).toEqual(run.crystalState);
      expect(block.indexFactor!.slice(...own)).toEqual(run.indexFactor);
    }
    // The third layer goes beyond 500 Hz, and each material has one index a run.
    expect(Array.from(block.crystalState!)).toEqual([0, 0, 1, 0, 0, 1]);
    expect(block.indexFactor![0]).toBe(block.indexFactor![2]);
    expect(block.indexFactor![0]).not.toBe(block.indexFactor![1]);
  });

  it('tells of crystals and of indices only where there is something to tell', () => {
    const keys = (block: RunBlock) => Object.keys(block).sort();
    const always = ['ending', 'from', 'thicknessNm', 'to'];
    expect(keys(simulateRuns(setUp(), 9, 0, 1))).toEqual(always);
    expect(keys(simulateRuns(setUp({ indexPercent: 0 }), 9, 0, 1))).toEqual(always);
    expect(keys(simulateRuns(setUp({}, 500), 9, 0, 1))).toEqual(['crystalState', ...always]);
    expect(keys(simulateRuns(setUp({ indexPercent: 1 }), 9, 0, 1))).toEqual([
      ...['ending', 'from', 'indexFactor', 'thicknessNm', 'to'],
    ]);
  });

  it.each([{}, { indexPercent: 1 }])('is put together from its parts in any order: %j', (noise) => {
    for (const budgetHz of [undefined, 500]) {
      const setup = setUp(noise, budgetHz);
      const parts = [
        simulateRuns(setup, 9, 7, 8),
        simulateRuns(setup, 9, 2, 5),
        simulateRuns(setup, 9, 5, 7),
      ];
      const whole = simulateRuns(setup, 9, 2, 8);
      expect(joinBlocks(parts)).toStrictEqual(whole);
      expect(joinBlocks([whole])).toStrictEqual(whole);
    }
  });
});
