import { describe, expect, it } from 'vitest';
import type { Mishap } from '../../src/monitor/mishap.ts';
import { Rehearsal } from '../../src/monitor/rehearsal.ts';
import { layerPoints } from '../../src/monitor/rehearsal-score.ts';
import { NO_NOISE } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as witness } from './plain-witness.ts';

function layer(n: number, thicknessNm: number, rule: CutLayer['rule']): CutLayer {
  const material = constantIndex(n);
  return { material, thicknessNm, wavelengthNm: 550, signal: 'R', rule, rateNmPerS: 0.5, newWitness: true };
}

const layers = [layer(2.1, 40, 'level'), layer(1.38, 60, 'crystal')];
const noise = { ...NO_NOISE, signalPercent: 0.05, rateNoisePercent: 5, crystalPercent: 1 };

function rehearsal(mishaps: readonly Mishap[] = [], cutter: 'hand' | 'controller' = 'hand', quiet = true) {
  return new Rehearsal(setUpRuns(witness, layers, quiet ? NO_NOISE : noise), 4, mishaps, cutter);
}

/** Plays a whole rehearsal in which the controller cuts. */
function play(mishaps: readonly Mishap[], quiet = true) {
  const played = rehearsal(mishaps, 'controller', quiet);
  while (played.phase !== 'done') {
    played.openShutter();
    while (played.phase === 'growing') played.advance(0.37);
  }
  return played;
}

describe('a rehearsal', () => {
  it('plays whole samples, keeps the rest of the time, and tells instruments only', () => {
    const played = rehearsal();
    expect(played.phase).toBe('ready');
    played.openShutter();
    expect(played.advance(0.25)).toBe(2);
    expect(played.advance(0.06)).toBe(1);
    expect(played.readings.timeS).toHaveLength(4);
    expect(played.readings.light[0]).toBeCloseTo((0.52 / 2.52) ** 2, 12);
    expect(played.readings.crystalNm.at(-1)).toBeCloseTo(0.3 * 0.5, 12);
    expect(played.finished).toEqual([]);
  });

  it('takes a cut by hand at the very moment, then tells how far off it was', () => {
    const played = rehearsal();
    played.openShutter();
    played.advance(70.04);
    played.closeShutter();
    expect(played.phase).toBe('ready');
    const [first] = played.finished;
    expect(first!.trueNm).toBeCloseTo(70.04 * 0.5, 6);
    expect(first!.errorNm).toBeCloseTo(70.04 * 0.5 - 40, 6);
    expect(first!.closedBy).toBe('hand');
  });

  it('tells when the controller would have cut, and leaves the cut to the hand', () => {
    const played = rehearsal();
    played.openShutter();
    played.advance(100);
    expect(played.phase).toBe('growing');
    expect(played.controllerCutS).toBeCloseTo(80, 2);
  });

  it('closes by the machine where nobody does', () => {
    const played = rehearsal();
    played.openShutter();
    played.advance(1000);
    expect(played.phase).toBe('ready');
    expect(played.finished[0]!.closedBy).toBe('limit');
    expect(played.finished[0]!.trueNm).toBeLessThan(3.1 * 40);
  });

  it('scores the controller in its own run exactly as it scores itself', () => {
    const { points, controllerPoints, perLayer } = play([], false).score();
    expect(points).toBeCloseTo(controllerPoints, 9);
    expect(perLayer).toHaveLength(2);
    expect(points).toBeGreaterThan(0);
  });

  it('gives every layer its own luck: a late cut of the first leaves the second as it was', () => {
    const cut = (afterS: number) => {
      const played = rehearsal([], 'hand', false);
      played.openShutter();
      played.advance(afterS);
      played.closeShutter();
      played.openShutter();
      played.advance(20);
      return played.readings.crystalNm;
    };
    expect(cut(60)).toEqual(cut(90));
  });

  it('halves the points with each hundredth of error', () => {
    expect(layerPoints(100, 100)).toBe(1000);
    expect(layerPoints(100, 101)).toBeCloseTo(500, 9);
    expect(layerPoints(100, 98)).toBeCloseTo(250, 9);
  });
});

describe('a scripted mishap', () => {
  it('of a spit adds its thickness at once', () => {
    const by = (mishaps: readonly Mishap[]) => {
      const played = rehearsal(mishaps);
      played.openShutter();
      played.advance(60);
      played.closeShutter();
      return played.finished[0]!.trueNm;
    };
    expect(by([{ kind: 'spit', layer: 0, atPercent: 50, thicknessNm: 2.5 }]) - by([])).toBeCloseTo(2.5, 9);
  });

  it('of a drifting lamp spoils a cut by level and stays with the lamp', () => {
    const drifted = play([{ kind: 'lamp-drift', layer: 0, atPercent: 10, percentPerMin: -5 }]);
    expect(Math.abs(drifted.finished[0]!.errorNm)).toBeGreaterThan(0.5);
    // The next witness looks darker than bare glass.
    expect(drifted.readings.light[0]).toBeLessThan((0.52 / 2.52) ** 2 * 0.98);
  });

  it('of a lost crystal leaves the controller to the set rate and the clock', () => {
    const mishaps: Mishap[] = [{ kind: 'crystal-failure', layer: 1, atPercent: 30 }];
    const lost = play(mishaps);
    expect(lost.readings.crystalFailed).toBe(true);
    expect(Math.abs(lost.finished[1]!.errorNm)).toBeLessThan(0.1);
    const biased = new Rehearsal(
      setUpRuns(witness, layers, { ...NO_NOISE, rateBiasPercent: 10 }),
      4,
      mishaps,
      'controller',
    );
    while (biased.phase !== 'done') {
      biased.openShutter();
      while (biased.phase === 'growing') biased.advance(1);
    }
    // From 30 % on a rate that is a tenth too high goes unseen.
    expect(biased.finished[1]!.errorNm).toBeCloseTo(0.1 * 0.7 * 60, 0);
  });

  it('of a missed turning point holds the reading over the turn', () => {
    const turning = [layer(2.1, 100, 'level')];
    const setup = setUpRuns(witness, turning, NO_NOISE);
    const mishaps: Mishap[] = [{ kind: 'missed-turning-point', layer: 0, atPercent: 50, untilPercent: 80 }];
    const played = new Rehearsal(setup, 1, mishaps, 'hand');
    played.openShutter();
    played.advance(190);
    const { light } = played.readings;
    expect(light[1100]).toBe(light[1400]);
    expect(light[900]).not.toBe(light[1000]);
    expect(light[1700]).not.toBe(light[1750]);
  });

  it('that names no layer of the run is refused', () => {
    expect(() => rehearsal([{ kind: 'crystal-failure', layer: 2, atPercent: 10 }])).toThrow(
      'mishaps[0].layer: 2 is above 1',
    );
  });
});
