import { describe, expect, it } from 'vitest';
import { Controller, CUT_AS_RULED, CUT_BY_BACKUP, CUT_BY_WRONG_TURN } from '../../src/monitor/controller.ts';
import type { CutPlan } from '../../src/monitor/cut-plan.ts';

/**
 * Invented: 10 nm at 0.5 nm/s, read every half second, so that reading k comes at k / 2 s and a true crystal reads
 * k / 4 nm; the light goes in steps of 1/128 a reading, so that a line through two readings is exact.
 */
const STEP = 1 / 128;
const plan: CutPlan = {
  ...{ rule: 'level', thicknessNm: 10, nominalS: 20, sampleS: 0.5, window: 2, lagNm: 0.125 },
  ...{ turnNm: new Float64Array(), turnLevel: new Float64Array(), firstSign: 1, startLevel: 0.25 },
  ...{
    cutLevel: 0.25 + 40 * STEP,
    cutSlope: STEP,
    wrongSlope: STEP / 4,
    backupNm: 13,
    backupS: 80,
    doubts: [],
  },
};

interface Instruments {
  readonly light?: (reading: number) => number;
  readonly crystalNm?: (reading: number) => number;
  readonly startLight?: number;
}

/** Shows a controller its readings until it closes the shutter: after which one, how much later, and how it ended. */
function close(
  change: Partial<CutPlan>,
  instruments: Instruments,
  batch = 1,
  controller = new Controller(64),
) {
  const { light = () => 0.25, crystalNm = (reading) => reading / 4, startLight = 0.25 } = instruments;
  controller.begin({ ...plan, ...change }, startLight);
  for (let from = 0; from < 1000; from += batch) {
    const readings = {
      light: Float64Array.from({ length: batch }, (_, i) => light(from + i)),
      crystalNm: Float64Array.from({ length: batch }, (_, i) => crystalNm(from + i)),
    };
    const place = controller.take(readings, batch);
    const { closeAfterS, ending, turnsSeen, targetLevel } = controller;
    expect(place).toBeLessThan(batch);
    if (place >= 0) return { reading: from + place, closeAfterS, ending, turnsSeen, targetLevel };
    expect(place).toBe(-1);
  }
  throw new Error('the shutter was never closed');
}

const rising = (reading: number) => 0.25 + reading * STEP;
const BATCHES = [1, 7, 32, 39, 40, 64];

describe('a controller by the clock', () => {
  it.each(
    BATCHES.flatMap((batch) => [
      { nominalS: 20, reading: 39, closeAfterS: 0.5, batch },
      { nominalS: 20.125, reading: 40, closeAfterS: 0.125, batch },
      { nominalS: 0.5, reading: 0, closeAfterS: 0.5, batch },
      { nominalS: 0.125, reading: 0, closeAfterS: 0.125, batch },
      { nominalS: 0, reading: 0, closeAfterS: 0, batch },
    ]),
  )('closes $closeAfterS s after reading $reading for $nominalS s, in batches of $batch', (row) => {
    const { nominalS, batch, ...expected } = row;
    expect(close({ rule: 'time', nominalS }, {}, batch)).toMatchObject({ ...expected, ending: CUT_AS_RULED });
  });

  it('waits for no reading at the very end, however the quotient of both times is rounded', () => {
    // 1.1 / 0.1 is a little above 11 in double precision.
    const closed = close({ rule: 'time', nominalS: 1.1, sampleS: 0.1 }, {});
    expect(closed.reading).toBe(10);
    expect(closed.closeAfterS).toBeCloseTo(0.1, 12);
  });

  it('says close at once where it is asked again after its time', () => {
    const controller = new Controller(64);
    close({ rule: 'time', nominalS: 1 }, {}, 1, controller);
    const readings = { light: new Float64Array(64), crystalNm: new Float64Array(64) };
    controller.take(readings, 10);
    expect([controller.take(readings, 1), controller.closeAfterS]).toEqual([0, 0]);
  });
});

describe('a controller by the crystal', () => {
  const by = (change: Partial<CutPlan>, crystalNm: (reading: number) => number, batch = 1) =>
    close({ rule: 'crystal', ...change }, { crystalNm }, batch);

  it.each(BATCHES)('closes as the crystal reads the plan, within a reading, in batches of %i', (batch) => {
    const close = (thicknessNm: number) => by({ thicknessNm }, (reading) => reading / 4, batch);
    expect(close(10)).toMatchObject({ reading: 39, closeAfterS: 0.5, ending: CUT_AS_RULED });
    expect(close(10.125)).toMatchObject({ reading: 40, closeAfterS: 0.25 });
  });

  it('goes by the rate that the crystal has shown, at first by the planned one', () => {
    expect(by({}, (reading) => reading / 2)).toMatchObject({ reading: 19, closeAfterS: 0.5 });
    expect(by({}, (reading) => (reading * 3) / 8)).toMatchObject({ reading: 26, closeAfterS: 1 / 3 });
    // 0.125 nm at 0.5 nm/s.
    const thin = { thicknessNm: 0.125, nominalS: 0.25 };
    expect(by(thin, () => 0)).toMatchObject({ reading: 0, closeAfterS: 0.25 });
  });

  it('closes at once where the reading has jumped beyond the plan', () => {
    const jumped = by({}, (reading) => (reading < 20 ? reading / 4 : 12));
    expect(jumped).toMatchObject({ reading: 20, closeAfterS: 0, ending: CUT_AS_RULED });
  });

  it.each(BATCHES)('closes by the clock where the crystal stands still, in batches of %i', (batch) => {
    const still = by({}, () => 1, batch);
    expect(still).toMatchObject({ reading: 160, closeAfterS: 0, ending: CUT_BY_BACKUP });
  });
});

describe('a controller by the level', () => {
  it.each(
    BATCHES.flatMap((batch) => [
      { readings: 40, reading: 39, closeAfterS: 0.5, batch },
      { readings: 40.25, reading: 40, closeAfterS: 0.125, batch },
    ]),
  )('closes as the level passes, within a reading: $readings readings in batches of $batch', (row) => {
    const { readings, batch, ...expected } = row;
    const up = close({ cutLevel: 0.25 + readings * STEP }, { light: rising }, batch);
    expect(up).toMatchObject({ ...expected, ending: CUT_AS_RULED });
    const falling = { firstSign: -1, cutSlope: -STEP, cutLevel: 0.75 - readings * STEP } as const;
    const down = close(falling, { light: (reading) => 0.75 - reading * STEP }, batch);
    expect(down).toMatchObject({ ...expected, ending: CUT_AS_RULED });
  });

  it('takes the end of a longer line, not its middle, for the present level', () => {
    const closed = close({ window: 9, lagNm: 1, cutLevel: 0.25 + 40.5 * STEP }, { light: rising });
    expect(closed.reading).toBe(40);
    expect(closed.closeAfterS).toBeCloseTo(0.25, 12);
  });

  it('closes at once where the light has jumped beyond the level', () => {
    const light = (reading: number) => (reading < 30 ? rising(reading) : 0.9);
    expect(close({}, { light })).toMatchObject({ reading: 30, closeAfterS: 0, ending: CUT_AS_RULED });
  });

  it('does not believe the level before half of the way by the crystal', () => {
    const flash = (at: number) => (reading: number) => (reading === at ? 0.9 : rising(reading));
    // Two readings make a line, so that the flash also tilts the next one.
    expect(close({ wrongSlope: 1 }, { light: flash(18) }).reading).toBe(39);
    expect(close({ wrongSlope: 1 }, { light: flash(20) }).reading).toBe(20);
  });

  it('does not look at a line before it is full', () => {
    const short = { thicknessNm: 3, window: 10, wrongSlope: 1 };
    for (const batch of BATCHES) {
      const closed = close({ ...short, cutLevel: 0.25 + 12.5 * STEP }, { light: rising }, batch);
      expect(closed.reading).toBe(12);
      expect(closed.closeAfterS).toBeCloseTo(0.25, 9);
    }
    // The level has passed already when the line is first full.
    expect(close({ ...short, cutLevel: 0.25 + 5 * STEP }, { light: rising }).reading).toBe(9);
  });

  it('closes half-way, at a moment that is a number, where plan and light stand still on the same level', () => {
    expect(close({ cutLevel: 0.25, cutSlope: 0 }, {})).toMatchObject({ reading: 20, closeAfterS: 0 });
  });

  it.each([1, -1] as const)('closes where the signal turns too early: direction %i', (firstSign) => {
    const turning = (back: number) => (reading: number) =>
      0.5 + firstSign * STEP * (reading <= 30 ? reading : 30 - back * (reading - 30));
    const change = { firstSign, cutSlope: firstSign * STEP, cutLevel: 0.5 + firstSign * 40 * STEP };
    const closed = close(change, { light: turning(0.5) });
    expect(closed).toMatchObject({ reading: 31, closeAfterS: 0, ending: CUT_BY_WRONG_TURN });
    // A slope of just the limit is not yet a turn: then the crystal closes at 13 nm.
    const slow = close(change, { light: turning(0.25) });
    expect(slow).toMatchObject({ reading: 52, closeAfterS: 0, ending: CUT_BY_BACKUP });
  });

  it.each(BATCHES)('closes by the clock where light and crystal stand still, in batches of %i', (batch) => {
    const still = close({}, { crystalNm: () => 0 }, batch);
    expect(still).toMatchObject({ reading: 160, closeAfterS: 0, ending: CUT_BY_BACKUP });
  });

  it('says close at once where it is asked again after that', () => {
    const controller = new Controller(64);
    close({}, { crystalNm: () => 0 }, 1, controller);
    const readings = { light: new Float64Array(64), crystalNm: new Float64Array(64) };
    expect([controller.take(readings, 10), controller.take(readings, 10)]).toEqual([0, 0]);
  });

  it('closes by the clock before a level that comes later in the same batch', () => {
    const late = { light: (reading: number) => 0.25 + reading / 512, crystalNm: () => 6 };
    expect(close({ cutSlope: 1 / 512 }, late, 64)).toMatchObject({ reading: 159, ending: CUT_AS_RULED });
    expect(close({ backupS: 70 }, late, 64)).toMatchObject({ reading: 140, ending: CUT_BY_BACKUP });
  });
});

/** Rises to reading 32, falls to reading 64, rises again: levels in steps. */
const swinging = (reading: number) => {
  const steps = reading <= 32 ? reading : reading <= 64 ? 64 - reading : reading - 64;
  return 0.25 + steps * STEP;
};

describe('a controller that counts turning points', () => {
  const byTurn = { rule: 'turning-point', cutSlope: 0, backupNm: 26 } as const;
  const turns = (...nm: number[]) => ({
    turnNm: Float64Array.from(nm),
    turnLevel: new Float64Array(nm.length),
  });

  it('closes with the first reading that falls behind the last turn', () => {
    const one = close({ ...byTurn, ...turns(8), thicknessNm: 8 }, { light: swinging });
    expect(one).toMatchObject({ reading: 33, closeAfterS: 0, turnsSeen: 1, ending: CUT_AS_RULED });
    for (const batch of BATCHES) {
      const two = close({ ...byTurn, ...turns(8, 16), thicknessNm: 16 }, { light: swinging }, batch);
      expect(two).toMatchObject({ reading: 65, closeAfterS: 0, turnsSeen: 2, ending: CUT_AS_RULED });
    }
  });

  it('takes light that stands still for a turn', () => {
    const light = (reading: number) => rising(Math.min(reading, 30));
    expect(close({ ...byTurn, ...turns(8) }, { light })).toMatchObject({ reading: 31, turnsSeen: 1 });
  });

  it('does not believe a turn before half of the way to it, by crystal, from the turn before', () => {
    const dented = (at: number) => (reading: number) => swinging(reading) - (reading === at ? 2 * STEP : 0);
    const first = (at: number) => close({ ...byTurn, ...turns(8) }, { light: dented(at) }).reading;
    expect([first(15), first(16)]).toEqual([33, 16]);
    // The first turn is found at reading 33, 8.25 nm, and lies 0.125 nm before that: 8.125 + 4 nm is reading 48.5.
    const bumped = (at: number) => (reading: number) => swinging(reading) + (reading === at ? 2 * STEP : 0);
    const second = (at: number) => close({ ...byTurn, ...turns(8, 16) }, { light: bumped(at) }).reading;
    expect([second(47), second(48), second(49)]).toEqual([65, 65, 49]);
  });

  it('closes by crystal or clock where no turn comes', () => {
    const unturned = { light: rising };
    const change = { ...byTurn, ...turns(8), backupNm: 10.5 };
    expect(close(change, unturned)).toMatchObject({ reading: 42, turnsSeen: 0, ending: CUT_BY_BACKUP });
    const still = close({ ...byTurn, ...turns(8) }, { ...unturned, crystalNm: () => 5 }, 64);
    expect(still).toMatchObject({ reading: 160, ending: CUT_BY_BACKUP });
  });

  it('closes by crystal where the plan knows no turn', () => {
    const none = close({ ...byTurn, backupNm: 10.5 }, { light: swinging });
    expect(none).toMatchObject({ reading: 42, turnsSeen: 0, ending: CUT_BY_BACKUP });
  });

  it('looks for a level only after the turns before it, then on their branch', () => {
    const change = {
      ...turns(8),
      thicknessNm: 12,
      cutLevel: 0.25 + 20 * STEP,
      cutSlope: -STEP,
      backupNm: 16,
    };
    const closed = close(change, { light: swinging });
    expect(closed).toMatchObject({ reading: 43, closeAfterS: 0.5, turnsSeen: 1, ending: CUT_AS_RULED });
  });
});

describe('a controller that rescales its level', () => {
  /** Smoothed over two readings the planned signal turns between its 32nd and 33rd: half a step below its top. */
  const top = 0.25 + 31.5 * STEP;
  const bottom = 0.25 + 0.5 * STEP;
  const swing = { rule: 'swing', startLevel: 0.25, cutLevel: 0.4, cutSlope: -STEP, backupNm: 40 } as const;
  const target = (change: Partial<CutPlan>, light: (reading: number) => number, startLight: number) =>
    close({ ...swing, ...change }, { light, startLight }).targetLevel;
  const oneTurn = { turnNm: Float64Array.of(8), turnLevel: Float64Array.of(top), thicknessNm: 12 };
  const twoTurns = {
    ...{ turnNm: Float64Array.of(8, 16), turnLevel: Float64Array.of(top, bottom), thicknessNm: 20 },
    ...{ cutSlope: STEP },
  };
  /** The planned light as an instrument with a wrong gain and zero shows it. */
  const seen = (level: number) => 0.75 * level + 0.0625;

  it('goes by start and turn as it has seen them, so that gain and zero drop out', () => {
    const closed = close(
      { ...swing, ...oneTurn },
      { light: (reading) => seen(swinging(reading)), startLight: seen(0.25) },
    );
    expect(closed.targetLevel).toBeCloseTo(seen(0.4), 12);
    const planned = close({ ...swing, ...oneTurn }, { light: swinging });
    expect(planned.targetLevel).toBeCloseTo(0.4, 12);
    expect(closed.reading).toBe(planned.reading);
  });

  it('goes by the last two turns where there are two, whatever the start was', () => {
    const light = (reading: number) => (reading <= 10 ? swinging(reading) : seen(swinging(reading)));
    expect(target(twoTurns, light, 0.25)).toBeCloseTo(seen(0.4), 12);
  });

  it('goes by the start alone before the first turn, and by the plan where light starts from nothing', () => {
    const controller = new Controller(1);
    controller.begin({ ...plan, ...swing, ...oneTurn }, 0.2);
    expect(controller.targetLevel).toBeCloseTo(0.4 * 0.8, 12);
    controller.begin({ ...plan, ...swing, ...oneTurn, startLevel: 0 }, 0.2);
    expect(controller.targetLevel).toBe(0.4);
    controller.begin({ ...plan, ...oneTurn, cutLevel: 0.4 }, 0.2);
    expect(controller.targetLevel).toBe(0.4);
  });

  it('keeps the planned distance from the turn where start and turn tell of no gain', () => {
    const below = top - 0.4;
    // The light seems to have fallen to the turn that it has risen to.
    expect(target(oneTurn, swinging, 0.9)).toBeCloseTo(top - below, 12);
    expect(target(oneTurn, swinging, top)).toBeCloseTo(top - below, 12);
    // A plan that turns on the level of its start, but for rounding.
    const level = { ...oneTurn, startLevel: top - 1e-12 };
    expect(target(level, swinging, 0.3)).toBeCloseTo(top - below, 12);
  });

  it('leaves a plain level as it is', () => {
    const closed = close(
      { ...oneTurn, cutLevel: 0.4, cutSlope: -STEP },
      { light: swinging, startLight: 0.2 },
    );
    expect(closed.targetLevel).toBe(0.4);
  });
});

it('a controller begins each layer anew', () => {
  const controller = new Controller(64);
  const turned = {
    rule: 'turning-point',
    turnNm: Float64Array.of(8),
    turnLevel: Float64Array.of(0),
  } as const;
  close(turned, { light: swinging }, 1, controller);
  close({}, { crystalNm: () => 0 }, 1, controller);
  expect(controller.ending).toBe(CUT_BY_BACKUP);
  const again = close({}, { light: rising }, 1, controller);
  expect(again).toMatchObject({ reading: 39, closeAfterS: 0.5, ending: CUT_AS_RULED, turnsSeen: 0 });
  controller.begin(plan, 0.25);
  expect(controller).toMatchObject({ closeAfterS: 0, ending: CUT_AS_RULED, turnsSeen: 0 });
});
