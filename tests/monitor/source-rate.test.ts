import { describe, expect, it } from 'vitest';
import { Random } from '../../src/math/random.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { SourceRate } from '../../src/monitor/source-rate.ts';
import { ScriptedRandom } from './scripted-random.ts';

/** Half a second a sample at 0.5 nm/s: a quarter of a nanometre each. */
const STEP_NM = 0.25;

function sourceOf(noise: Partial<RunNoise>, random: Random) {
  const source = new SourceRate({ ...NO_NOISE, sampleS: 0.5, ...noise });
  source.begin(0.5, random);
  return source;
}

function grownBy(source: SourceRate, count: number, batch = count) {
  const all: number[] = [];
  for (let from = 0; from < count; from += batch) {
    // The place beyond the samples asked for is not the source's to write.
    const growthNm = new Float64Array(batch + 1).fill(-1);
    source.take(growthNm, batch);
    expect(growthNm[batch]).toBe(-1);
    all.push(...growthNm.subarray(0, batch));
  }
  return all;
}

const near = (values: readonly number[]) => values.map((value) => expect.closeTo(value, 12));

describe('what arrives from a source', () => {
  it('is the set rate where nothing disturbs it, and no random number is drawn', () => {
    expect(grownBy(sourceOf({}, new ScriptedRandom()), 3)).toEqual([STEP_NM, STEP_NM, STEP_NM]);
  });

  it('is off by the bias', () => {
    expect(grownBy(sourceOf({ rateBiasPercent: -20 }, new ScriptedRandom()), 1)).toEqual(near([0.2]));
  });

  it('scatters sample by sample by so many sigma of the rate, and is never less than nothing', () => {
    const random = new ScriptedRandom([1, -0.5, -3, 0]);
    expect(grownBy(sourceOf({ rateNoisePercent: 40 }, random), 4)).toEqual(
      near([0.25 * 1.4, 0.25 * 0.8, 0, 0.25]),
    );
  });

  it.each([1, 7, 240])('dies away by its share of a minute, in batches of %i', (batch) => {
    const grown = grownBy(sourceOf({ rateDecayPercentPerMin: 36 }, new ScriptedRandom()), 245, batch);
    expect(grown[0]).toBe(STEP_NM);
    expect(grown[60]).toBeCloseTo(STEP_NM * 0.8, 12);
    expect(grown[120]).toBeCloseTo(STEP_NM * 0.64, 12);
    expect(grown[240] ?? STEP_NM * 0.64 ** 2).toBeCloseTo(STEP_NM * 0.64 ** 2, 12);
  });

  it('comes at its full rate again with the next layer', () => {
    const source = sourceOf({ rateDecayPercentPerMin: 36 }, new ScriptedRandom());
    grownBy(source, 60);
    source.begin(1, new ScriptedRandom());
    expect(grownBy(source, 1)).toEqual([0.5]);
  });
});

describe('noise of the rate that keeps its value for a while', () => {
  const noise = { rateNoisePercent: 10, rateCorrelationS: 5 };

  it('is as wide as the noise of each sample alone, from the first sample on', () => {
    const random = new Random(3);
    const first = Array.from({ length: 4000 }, () => grownBy(sourceOf(noise, random), 1)[0]! / STEP_NM - 1);
    // The relative error of a standard deviation from n values is 1 / sqrt(2 n) (textbook relation); four of them.
    expect(Math.abs(spread(first) / 0.1 - 1)).toBeLessThan(4 / Math.sqrt(8000));
    expect(Math.abs(mean(first))).toBeLessThan((4 * 0.1) / Math.sqrt(4000));
  });

  it('is forgotten as an exponential of its time', () => {
    // A first-order process: correlation exp(-t / τ) at a distance t (textbook relation).
    const rate = grownBy(sourceOf(noise, new Random(4)), 40_000).map((nm) => nm / STEP_NM - 1);
    expect(Math.abs(spread(rate) / 0.1 - 1)).toBeLessThan(0.06);
    for (const lag of [1, 5, 10, 20]) {
      const product = rate.slice(lag).reduce((sum, value, i) => sum + value * rate[i]!, 0);
      const correlation = product / (rate.length - lag) / 0.01;
      expect(Math.abs(correlation - Math.exp((-lag * 0.5) / 5))).toBeLessThan(0.08);
    }
  });

  it('is never less than nothing', () => {
    const rate = grownBy(sourceOf({ ...noise, rateNoisePercent: 100 }, new Random(5)), 2000);
    expect(Math.min(...rate)).toBe(0);
    expect(Math.max(...rate)).toBeGreaterThan(2 * STEP_NM);
  });

  it('draws its first state and then one number a sample', () => {
    const kept = Math.exp(-0.1);
    const random = new ScriptedRandom([1, 0.5, 0]);
    const first = kept + 0.5 * Math.sqrt(1 - kept * kept);
    expect(grownBy(sourceOf(noise, random), 2)).toEqual(
      near([STEP_NM * (1 + 0.1 * first), STEP_NM * (1 + 0.1 * kept * first)]),
    );
    expect(random.left).toBe(0);
  });
});

describe('spits of a source', () => {
  // One a second: half of one a sample. The waiting time of a Poisson process is -ln(1 - u) of its mean (textbook).
  const noise = { spitsPerMin: 60, spitNm: 2 };
  const waiting = (...samples: number[]) =>
    new ScriptedRandom(
      [],
      samples.map((count) => 1 - Math.exp(-count / 2)),
    );

  it('come after their waiting times, several in one sample where they fall so', () => {
    const grown = grownBy(sourceOf(noise, waiting(2.5, 0.2, 2.6, 100)), 8);
    expect(grown.map((nm) => nm - STEP_NM)).toEqual([0, 0, 4, 0, 0, 2, 0, 0]);
  });

  it.each([1, 2, 4, 8])('come at the same moments in batches of %i', (batch) => {
    const grown = grownBy(sourceOf(noise, waiting(0, 3.25, 0.25, 3.6, 100)), 8, batch);
    expect(grown.map((nm) => nm - STEP_NM)).toEqual([2, 0, 0, 4, 0, 0, 0, 2]);
  });

  it.each([{ spitsPerMin: 0 }, { spitNm: 0 }, { spitNm: undefined }, { spitsPerMin: undefined }])(
    'do not come, nor is a number drawn, where there are none: %j',
    (none) => {
      const { spitsPerMin, spitNm } = { ...noise, ...none };
      const given = {
        ...(spitsPerMin === undefined ? {} : { spitsPerMin }),
        ...(spitNm === undefined ? {} : { spitNm }),
      };
      expect(grownBy(sourceOf(given, new ScriptedRandom()), 1)).toEqual([STEP_NM]);
    },
  );
});

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

function spread(values: readonly number[]): number {
  const middle = mean(values);
  return Math.sqrt(mean(values.map((value) => (value - middle) ** 2)));
}
