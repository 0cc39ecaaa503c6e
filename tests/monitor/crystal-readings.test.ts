import { describe, expect, it } from 'vitest';
import {
  CRYSTAL_KEPT,
  CRYSTAL_LOST,
  CRYSTAL_OVER_BUDGET,
  CrystalReader,
} from '../../src/monitor/crystal-reader.ts';
import type { CrystalStock } from '../../src/monitor/crystal-stock.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { ScriptedRandom } from './scripted-random.ts';

/** Invented: 10 Hz a nanometre of 1000 Hz, so that layers of 100 nm use up a crystal each; 0.25 nm a sample. */
const stock: CrystalStock = { budgetHz: 1000, fallHzPerNm: [10, 10, 5] };

function readerOf(
  noise: Partial<RunNoise> = {},
  crystals: CrystalStock | undefined = stock,
  random = new ScriptedRandom(),
) {
  const reader = new CrystalReader({ ...NO_NOISE, sampleS: 0.5, ...noise }, crystals);
  reader.begin();
  return {
    reader,
    open: (layer = 0, plannedNm = 40) => reader.openShutter(layer, plannedNm, 0.5, random),
    /** What it shows after these thicknesses have grown. */
    shows: (grownNm: readonly number[], lostAt = -1) => {
      const shown = new Float64Array(grownNm.length + 1);
      reader.take(Float64Array.from([...grownNm, 1e4, 0]), shown, grownNm.length, lostAt, random);
      expect(shown[grownNm.length]).toBe(0);
      return Array.from(shown.subarray(0, -1));
    },
    random,
  };
}

/** A reader of which nothing is known but its display. */
const withoutStock = (noise: Partial<RunNoise> = {}, random = new ScriptedRandom()) => {
  const reader = new CrystalReader({ ...NO_NOISE, sampleS: 0.5, ...noise }, undefined);
  reader.begin();
  return { reader, random };
};

describe('what a crystal shows', () => {
  it('is what has grown, and no random number is drawn for a perfect one', () => {
    const { open, shows } = readerOf();
    open();
    expect(shows([0.3, 0.5])).toEqual([0.3, 0.5]);
  });

  it('is off by a scale of its own in each layer, never by all of it', () => {
    const { open, shows, random } = readerOf(
      { crystalPercent: 2 },
      stock,
      new ScriptedRandom([1.5, -1, -1e6]),
    );
    open();
    expect(shows([10, 20])).toEqual([expect.closeTo(10.3, 12), expect.closeTo(20.6, 12)]);
    open();
    expect(shows([10])).toEqual([expect.closeTo(9.8, 12)]);
    open();
    expect(shows([10])).toEqual([0.1]);
    expect(random.left).toBe(0);
  });

  it('shifts and jitters in proportion to what has been used of its budget', () => {
    const noise = { crystalAgedShiftPercent: 8, crystalAgedNoiseNm: 0.5 };
    const { open, shows } = readerOf(noise, { ...stock, usedHz: 100 }, new ScriptedRandom([1, -2]));
    open();
    // Used: 100 + 150 Hz and 100 + 400 Hz of 1000 Hz.
    expect(shows([15, 40])).toEqual([
      expect.closeTo(15 * (1 + 0.08 * 0.25) + 0.5 * 0.25, 12),
      expect.closeTo(40 * (1 + 0.08 * 0.5) - 2 * 0.5 * 0.5, 12),
    ]);
  });

  it.each([
    [{ crystalAgedShiftPercent: 8 }, [], 40 * (1 + 0.08 * 0.4)],
    [{ crystalAgedNoiseNm: 0.5 }, [1], 40 + 0.5 * 0.4],
  ])('ages by the one without the other: %j', (noise, normals, shown) => {
    const { open, shows, random } = readerOf(noise, stock, new ScriptedRandom(normals));
    open();
    expect(shows([40])).toEqual([expect.closeTo(shown, 12)]);
    expect(random.left).toBe(0);
  });
});

describe('a crystal that is lost', () => {
  it('shows what the set rate adds from there on, from reading to reading and batch to batch', () => {
    const { reader, open, shows } = readerOf();
    open();
    expect(shows([10, 11])).toEqual([10, 11]);
    expect(shows([12, 13, 14], 1)).toEqual([12, 12.25, 12.5]);
    expect(reader.isLost).toBe(true);
    expect(shows([15, 16])).toEqual([12.75, 13]);
    expect(reader.closeShutter(16)).toBe(CRYSTAL_LOST);
  });

  it('is lost at the first reading of a batch and goes on from the last one before', () => {
    const { open, shows } = readerOf();
    open();
    shows([10]);
    expect(shows([11], 0)).toEqual([10.25]);
  });

  it('at the beginning of a layer counts from nothing', () => {
    const { open, shows } = readerOf({}, { ...stock, count: 1 });
    open();
    shows([10], 0);
    open(1);
    expect(shows([0.3, 0.6])).toEqual([0.25, 0.5]);
  });

  it('is so where it has fallen by its life, what it lost before included', () => {
    const { reader, open, shows } = readerOf({ crystalLifePercent: 50 }, { ...stock, usedHz: 200 });
    open();
    // 300 Hz are left of its life of 500 Hz: 30 nm.
    expect(shows([29, 29.9])).toEqual([29, 29.9]);
    expect(reader.isLost).toBe(false);
    expect(shows([29.95, 30, 31])).toEqual([29.95, 30.2, 30.45]);
    expect(reader.isLost).toBe(true);
  });

  it('has a life that scatters by so many percent of itself, and never none', () => {
    const noise = { crystalLifePercent: 50, crystalLifeScatterPercent: 20 };
    const lifeNm = (normal: number) => {
      const { reader, open, shows } = readerOf(noise, stock, new ScriptedRandom([normal]));
      open(0, 100);
      let tenths = 0;
      while (!reader.isLost) shows([++tenths / 10]);
      return tenths / 10;
    };
    expect([lifeNm(0), lifeNm(1), lifeNm(-1), lifeNm(-100)]).toEqual([50, 60, 40, 0.5]);
  });

  it('never is where nothing is said of its life, and no number is drawn for that', () => {
    const { reader, open, shows } = readerOf({ crystalLifeScatterPercent: 20 });
    open();
    expect(shows([1e6])).toEqual([1e6]);
    expect(reader.isLost).toBe(false);
  });

  it('is replaced before the next layer by one with a life of its own, as long as the holder has one', () => {
    const noise = { crystalLifePercent: 50, crystalLifeScatterPercent: 20 };
    const random = new ScriptedRandom([0, 1]);
    const { reader, open, shows } = readerOf(noise, { ...stock, count: 2 }, random);
    open();
    shows([51]);
    expect(reader.closeShutter(51)).toBe(CRYSTAL_LOST);
    open(1, 40);
    expect(reader.isLost).toBe(false);
    expect(reader.leftHz(0)).toBe(1000);
    shows([59]);
    expect(reader.isLost).toBe(false);
    shows([60]);
    expect(reader.closeShutter(60)).toBe(CRYSTAL_LOST);
    open(2, 40);
    expect(reader.isLost).toBe(true);
    expect(random.left).toBe(0);
  });

  it('is a good one again in the next layer where nothing is known of crystals, and in the next run', () => {
    const { reader, random } = withoutStock();
    reader.openShutter(0, 40, 0.5, random);
    const shown = new Float64Array(1);
    reader.take(Float64Array.of(1), shown, 1, 0, random);
    expect([reader.isLost, reader.closeShutter(1)]).toEqual([true, CRYSTAL_LOST]);
    reader.openShutter(1, 40, 0.5, random);
    expect([reader.isLost, reader.closeShutter(1)]).toEqual([false, CRYSTAL_KEPT]);
    expect(reader.leftHz(1)).toBeUndefined();

    const last = readerOf({}, { ...stock, count: 1 });
    last.open();
    last.shows([1], 0);
    last.reader.closeShutter(1);
    last.reader.begin();
    expect(last.reader.isLost).toBe(false);
    expect(last.reader.leftHz(0)).toBe(1000);
  });

  it('neither ages nor is worn out where nothing is known of crystals', () => {
    const { reader, random } = withoutStock({ crystalAgedShiftPercent: 8, crystalLifePercent: 10 });
    reader.openShutter(0, 40, 0.5, random);
    const shown = new Float64Array(1);
    reader.take(Float64Array.of(1e6), shown, 1, -1, random);
    expect([shown[0], reader.isLost, reader.closeShutter(1e6)]).toEqual([1e6, false, CRYSTAL_KEPT]);
  });
});

describe('the budget of a crystal', () => {
  it('falls by what each layer takes, the growing one included', () => {
    const { reader, open } = readerOf({}, { ...stock, usedHz: 150 });
    open(0);
    expect(reader.leftHz(0)).toBe(850);
    expect(reader.leftHz(12)).toBe(730);
    reader.closeShutter(12);
    open(2);
    expect(reader.leftHz(20)).toBe(630);
  });

  it('may be used up to the last hertz, beyond which the layer is told', () => {
    const { reader, open } = readerOf({}, { ...stock, count: 1 });
    open(0, 100);
    expect(reader.closeShutter(100)).toBe(CRYSTAL_KEPT);
    open(1, 100);
    expect(reader.closeShutter(0.1)).toBe(CRYSTAL_OVER_BUDGET);
  });

  it('has a fresh crystal turned in only before a layer that would go beyond it', () => {
    const { reader, open } = readerOf();
    open(0, 60);
    reader.closeShutter(60);
    open(1, 40);
    expect(reader.leftHz(0)).toBe(400);
    reader.closeShutter(40);
    open(1, 0.1);
    expect(reader.leftHz(0)).toBe(1000);
    reader.closeShutter(60);
    open(1, 41);
    expect(reader.leftHz(0)).toBe(1000);
  });

  it('does not waste a fresh crystal on a layer that is too long for any', () => {
    const { reader, open } = readerOf({}, { ...stock, count: 2 });
    open(0, 150);
    expect(reader.closeShutter(150)).toBe(CRYSTAL_OVER_BUDGET);
    open(1, 150);
    expect(reader.leftHz(0)).toBe(1000);
    expect(reader.closeShutter(150)).toBe(CRYSTAL_OVER_BUDGET);
    open(1, 150);
    expect(reader.leftHz(0)).toBe(-500);
  });

  it('is whole again for every crystal of a holder without end', () => {
    const { reader, open } = readerOf();
    for (let layer = 0; layer < 5; layer++) {
      open(0, 100);
      expect(reader.leftHz(0)).toBe(1000);
      expect(reader.closeShutter(100)).toBe(CRYSTAL_KEPT);
    }
  });

  it('begins with each run as the first crystal was', () => {
    const { reader, open } = readerOf({}, { ...stock, usedHz: 300, count: 2 });
    for (let run = 0; run < 2; run++) {
      reader.begin();
      open(0, 70);
      expect(reader.leftHz(0)).toBe(700);
      reader.closeShutter(70);
      open(1, 70);
      expect(reader.leftHz(0)).toBe(1000);
      reader.closeShutter(70);
    }
  });
});
