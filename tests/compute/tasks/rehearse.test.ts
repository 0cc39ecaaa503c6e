import { describe, expect, it } from 'vitest';
import { answerRequest } from '../../../src/compute/answer-request.ts';
import type { TaskContext } from '../../../src/compute/task.ts';
import task from '../../../src/compute/tasks/rehearse.ts';
import { ThreadPool } from '../../../src/compute/thread-pool.ts';
import { Threads } from '../threads.ts';

const request = {
  substrate: 1.52,
  layers: [
    { material: 2.1, thicknessNm: 40 },
    { material: 1.38, thicknessNm: 60 },
  ],
  requirements: [{ quantity: 'R', statistic: 'max', limit: 20, bandNm: [500, 600] }],
  monitor: {
    witness: { substrate: 1.52, thicknessMm: 1, backSurface: 'none' },
    layers: [
      { wavelengthNm: 550, signal: 'R', rule: 'level' },
      { wavelengthNm: 550, signal: 'R', cut: 'crystal', newWitness: true },
    ],
  },
  noise: { signalPercent: 0.05, rateNoisePercent: 5, crystalPercent: 1, sampleS: 0.1 },
  rateNmPerS: [0.4, 0.8],
  runs: 60,
  seed: 3,
};

async function answer(change: object = {}, context: TaskContext = {}) {
  const outcome = await answerRequest(task, { ...request, ...change }, false, context);
  return outcome.kind === 'answer' ? JSON.parse(outcome.json) : outcome;
}

describe('the task rehearse', () => {
  it('answers with errors, correlations, yield with its interval, bands and missed cuts', async () => {
    const found = await answer();
    expect(found.thicknessErrorNm).toHaveLength(2);
    expect(found.thicknessErrorNm[1].sigma).toBeGreaterThan(0.3);
    expect(found.correlation[0][0]).toBe(1);
    expect(found.correlation[0][1]).toBe(found.correlation[1][0]);
    expect(found.yield).toBeGreaterThanOrEqual(found.yield95[0]);
    expect(found.yield).toBeLessThanOrEqual(found.yield95[1]);
    expect(found.percentiles.wavelengthNm).toHaveLength(61);
    for (const i of found.percentiles.wavelengthNm.keys()) {
      expect(found.percentiles.R['5'][i]).toBeLessThanOrEqual(found.percentiles.R['50'][i]);
      expect(found.percentiles.R['50'][i]).toBeLessThanOrEqual(found.percentiles.R['95'][i]);
    }
    expect(found.missedCuts).toEqual([0, 0]);
  });

  it('is the same bit for bit whatever the number of threads that share the runs, and tells its progress', async () => {
    const fine = {
      noise: { ...request.noise, sampleS: 0.001, indexPercent: 1 },
      strategies: [{ name: 'clock', rule: 'time' }],
    };
    const alone = await answer(fine);
    for (const size of [1, 3]) {
      const threads = new Threads();
      const fractions: number[] = [];
      const shared = await answer(fine, {
        spread: new ThreadPool(threads.start, size).spread,
        progress: (fraction) => fractions.push(fraction),
      });
      expect(threads.started).toBe(size);
      expect(shared).toEqual(alone);
      expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
      expect(fractions.length).toBeGreaterThan(40);
      expect(fractions.at(-1)).toBe(1);
    }
  });

  it('wakes no other threads for a few runs', async () => {
    const threads = new Threads();
    await answer({}, { spread: new ThreadPool(threads.start, 3).spread });
    expect(threads.started).toBe(0);
  });

  it('compares other ways of monitoring on the same luck', async () => {
    const strategies = [
      { name: 'as it is' },
      { name: 'all by clock', rule: 'time' },
      { name: 'the first by crystal', layers: [{ rule: 'crystal' }] },
    ];
    const found = await answer({ strategies, noise: { ...request.noise, rateBiasPercent: 5 } });
    expect(found.strategies.map(({ name }: { name: string }) => name)).toEqual(
      strategies.map((one) => one.name),
    );
    const [same, clock, crystal] = found.strategies;
    expect(same.thicknessErrorNm).toEqual(found.thicknessErrorNm);
    expect(same.yield).toBe(found.yield);
    expect(clock.thicknessErrorNm[0].mean).toBeCloseTo(2, 1);
    expect(Math.abs(crystal.thicknessErrorNm[0].mean)).toBeLessThan(0.3);
    expect(crystal.thicknessErrorNm[0].sigma).toBeGreaterThan(3 * found.thicknessErrorNm[0].sigma);
  });

  describe('with crystals', () => {
    const films = request.monitor.layers.map((layer) => ({ ...layer, densityGPerCm3: 4, zRatio: 0.5 }));
    const monitor = { ...request.monitor, layers: films };

    it('tells in which share of the runs one was lost, and in which layer', async () => {
      // Sauerbrey at 6 MHz: 4 g/cm³ falls by about 32.6 Hz/nm (81.5 Hz cm²/µg), 40 nm by 1.3 kHz, both layers by 3.26 kHz.
      const crystals = { budgetHz: 3500, count: 1 };
      const noise = { ...request.noise, crystalLifePercent: 70 };
      const found = await answer({ monitor, crystals, noise });
      expect(found.crystals).toMatchObject({ runsLost: 1, lost: [0, 1] });
      expect((await answer({ monitor, crystals })).crystals.runsLost).toBe(0);
      expect(await answer()).not.toHaveProperty('crystals');
    });

    it('flags before the run a layer that is too much for a fresh one, and a holder with too few', async () => {
      const { warnings } = await answer({ monitor, crystals: { budgetHz: 1500, count: 1 } });
      expect(warnings.join(' ')).toMatch(
        /monitor\.layers\[1\]: even a fresh crystal falls by 19\d\d Hz in this layer; its budget is 1500 Hz\. crystals\.count: the plan takes 2 crystals, the holder has 1\./,
      );
    });

    it('needs densities, which materials of the library bring', async () => {
      expect(await answer({ crystals: { budgetHz: 1500 } })).toMatchObject({
        path: 'monitor.layers[0].densityGPerCm3',
        reason: 'is missing; the crystals need it',
      });
      const layers = ['al2o3', 'mgf2'].map((material, i) => ({ ...request.layers[i], material }));
      expect((await answer({ layers, crystals: { budgetHz: 1e5 } })).crystals.runsLost).toBe(0);
      expect(await answer({ monitor, crystals: { budgetHz: 5e6 } })).toMatchObject({
        path: 'crystals.budgetHz',
      });
    });
  });

  it('yields all where the requirement is easy and none where it cannot be met', async () => {
    expect((await answer({ requirements: [{ ...request.requirements[0], limit: 50 }] })).yield).toBe(1);
    expect((await answer({ requirements: [{ ...request.requirements[0], limit: 0.01 }] })).yield).toBe(0);
    expect(await answer({ requirements: [] })).not.toHaveProperty('yield');
  });

  it('judges the whole plate where one is given', async () => {
    const plate = { plate: { thicknessMm: 2 } };
    const front = (await answer()).percentiles.R['50'][30];
    const both = (await answer(plate)).percentiles.R['50'][30];
    expect(both - front).toBeGreaterThan(0.02);
  });

  it('scatters spectra more where the index is uncertain too', async () => {
    const spread = async (indexPercent: number) => {
      const { percentiles } = await answer({ noise: { ...request.noise, indexPercent } });
      return percentiles.R['95'][30] - percentiles.R['5'][30];
    };
    expect(await spread(3)).toBeGreaterThan(1.5 * (await spread(0)));
  });

  it('warns before the run of a rule that cannot work', async () => {
    const flat = { layers: [{ material: 1.52, thicknessNm: 40 }, request.layers[1]] };
    const { warnings, thicknessErrorNm } = await answer(flat);
    expect(warnings.join()).toContain('monitor.layers[0]: the signal swings by only');
    // The controller falls for noise and cuts anywhere.
    expect(Math.abs(thicknessErrorNm[0].mean)).toBeGreaterThan(5);
  });

  it('stops when its answer is no longer wanted', async () => {
    const stop = new AbortController();
    const outcome = answerRequest(task, { ...request, runs: 5000 }, false, {
      signal: stop.signal,
      progress: () => stop.abort(),
    });
    expect(await outcome).toMatchObject({ kind: 'own-fault' });
  });

  it.each([
    [{ rateNmPerS: [0.4] }, 'rateNmPerS', '1 rates stand against 2 layers'],
    [{ layers: [request.layers[0]] }, 'monitor.layers', '2 layers are monitored, but the stack has 1'],
    [{ noise: { sampleS: 0 } }, 'noise.sampleS', '0 s is below 0.001 s'],
    [{ runs: 1 }, 'runs', '1 is below 2'],
    [{ seed: -1 }, 'seed', '-1 is below 0'],
  ])('refuses %j', async (change, path, reason) => {
    expect(await answer(change)).toEqual({ kind: 'wrong-request', path, reason });
  });

  it('names the layer where rule or thickness is missing or contradicts the stack', async () => {
    const [first, second] = request.monitor.layers;
    const monitored = (layer: object) => ({ monitor: { ...request.monitor, layers: [layer, second] } });
    const { rule, ...bare } = first as { rule: string };
    expect(rule).toBe('level');
    expect(await answer(monitored(bare))).toMatchObject({ path: 'monitor.layers[0].rule' });
    expect(await answer(monitored({ ...first, thicknessNm: 41 }))).toMatchObject({
      path: 'monitor.layers[0].thicknessNm',
    });
    const { rateNmPerS, ...unhurried } = request;
    expect(rateNmPerS).toHaveLength(2);
    expect(await answerRequest(task, unhurried, false)).toMatchObject({
      path: 'monitor.layers[0].rateNmPerS',
      reason: 'is missing',
    });
    expect(await answer({ layers: [] })).toMatchObject({
      path: 'monitor.layers[0].material',
      reason: 'is missing',
    });
  });
});
