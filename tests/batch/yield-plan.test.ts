import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { newBatch } from '../../src/batch/new-batch.ts';
import { computeYield } from '../../src/batch/plan/yield-plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

describe('the expected yield', () => {
  it('of a new order is worth a run', async () => {
    expect((await computeYield(newBatch('n'), 40)).yield).toBeGreaterThan(0.9);
  });

  it('is the same for the same batch, and lies within its interval', async () => {
    const first = await computeYield(eyepiece, 60);
    expect(await computeYield(eyepiece, 60)).toEqual(first);
    expect(first.yield95[0]).toBeLessThanOrEqual(first.yield);
    expect(first.yield95[1]).toBeGreaterThanOrEqual(first.yield);
  });

  it('is that of both sides together, place by place: at least the square where both faces are plane', async () => {
    const { surfaces, yield: both } = await computeYield(
      edited((batch) => {
        batch.monitor.noise.crystalPercent = 6;
        batch.monitor.rule = 'crystal';
        delete batch.order.lens.frontRadiusMm;
        delete batch.order.lens.backRadiusMm;
      }),
      60,
    );
    expect(surfaces.map(({ side }) => side)).toEqual(['front', 'back']);
    const share = surfaces[0]!.yield;
    expect(surfaces[1]!.yield).toBe(share);
    // The mean of the squares is never below the square of the mean (Jensen), nor above the mean itself.
    expect(share).toBeLessThan(0.95);
    expect(both).toBeGreaterThanOrEqual(share ** 2 - 1e-12);
    expect(both).toBeLessThan(share);
  });

  it('is 1 for a quiet chamber that meets its requirement, 0 for a stack that misses it', async () => {
    const quiet = (batch: Batch) => {
      batch.monitor.rule = 'crystal';
      batch.monitor.noise = {
        signalPercent: 0,
        driftPercentPerMin: 0,
        rateNoisePercent: 0,
        rateBiasPercent: 0,
        crystalPercent: 0,
        shutterDelayS: 0,
        sampleS: 0.1,
      };
    };
    expect((await computeYield(edited(quiet), 10)).yield).toBe(1);
    const hopeless = edited((batch) => {
      quiet(batch);
      batch.surfaces.front.layers[2]!.thicknessNm = 10;
    });
    expect((await computeYield(hopeless, 10)).yield).toBe(0);
  });

  it('is cut by the aim that the batch names, as the places are', async () => {
    const aimed = (aimPercent: number) =>
      computeYield(
        edited((batch) => {
          batch.process.aimPercent = aimPercent;
        }),
        40,
      );
    expect((await aimed(-6)).yield).toBeLessThan((await aimed(5)).yield);
    expect((await aimed(-15)).surfaces[0]!.meanPlaceYield).toBe(0);
  });

  it('of the mean place alone leaves out what the spread of the film loses', async () => {
    const { surfaces } = await computeYield(
      edited((batch) => {
        delete batch.process.aimPercent;
      }),
      40,
    );
    // The front is strongly curved, the back hardly.
    expect(surfaces[0]!.meanPlaceYield).toBeGreaterThan(surfaces[0]!.yield + 0.2);
    expect(surfaces[1]!.yield).toBeGreaterThan(surfaces[0]!.yield + 0.2);
  });

  it('falls when the crystal gets worse', async () => {
    const by = async (crystalPercent: number) =>
      (
        await computeYield(
          edited((batch) => {
            batch.monitor.rule = 'crystal';
            batch.monitor.noise.crystalPercent = crystalPercent;
          }),
          100,
        )
      ).yield;
    expect(await by(20)).toBeLessThan(await by(1));
  });

  it('has percentiles in order', async () => {
    const { percentile } = (await computeYield(eyepiece, 40)).surfaces[0]!;
    percentile.p50.forEach((median, index) => {
      expect(percentile.p5[index]!).toBeLessThanOrEqual(median);
      expect(percentile.p95[index]!).toBeGreaterThanOrEqual(median);
    });
  });

  it('comes with a sensitivity for every layer, none below zero, some above', async () => {
    const { sensitivity } = (await computeYield(eyepiece, 5)).surfaces[0]!;
    expect(sensitivity).toHaveLength(3);
    expect(Math.min(...sensitivity)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...sensitivity)).toBeGreaterThan(0);
  });

  it('can be given up', async () => {
    const stopped = AbortSignal.abort();
    await expect(computeYield(eyepiece, 10, { signal: stopped })).rejects.toThrow(/abort/i);
  });
});
