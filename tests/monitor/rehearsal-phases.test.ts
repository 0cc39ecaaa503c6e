import { describe, expect, it } from 'vitest';
import type { Mishap } from '../../src/monitor/mishap.ts';
import { type Cutter, Rehearsal } from '../../src/monitor/rehearsal.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as witness } from './plain-witness.ts';

/** Invented: at 0.5 nm/s, read every half second, a reading is a quarter of a nanometre and all sums are exact. */
function byCrystal(thicknessNm: number, more: Partial<CutLayer> = {}): CutLayer {
  return {
    ...{ material: constantIndex(2.1), thicknessNm, wavelengthNm: 550, signal: 'R' },
    ...{ rule: 'crystal', rateNmPerS: 0.5, ...more },
  };
}
const two = [byCrystal(40), byCrystal(60)];

function rehearse(layers: readonly CutLayer[], cutter?: Cutter, noise: Partial<RunNoise> = {}) {
  const setup = setUpRuns(witness, layers, { ...NO_NOISE, sampleS: 0.5, ...noise });
  return new Rehearsal(setup, 4, [], cutter);
}

describe('a rehearsal on its way from the first shutter to the end', () => {
  it('names its layer and that of its readings, and goes through its phases', () => {
    const played = rehearse(two);
    const state = () => [played.phase, played.layer, played.readings.layer];
    expect(state()).toEqual(['ready', 0, 0]);
    played.openShutter();
    expect(state()).toEqual(['growing', 0, 0]);
    played.closeShutter();
    expect(state()).toEqual(['ready', 1, 0]);
    played.openShutter();
    expect(state()).toEqual(['growing', 1, 1]);
    played.closeShutter();
    expect(state()).toEqual(['done', 2, 1]);
  });

  it('shows no reading before a shutter was open, and those of the last layer until the next one opens', () => {
    const played = rehearse(two);
    expect(played.readings).toMatchObject({ timeS: [], light: [], crystalNm: [] });
    played.openShutter();
    played.advance(1);
    played.closeShutter();
    expect(played.readings.timeS).toEqual([0, 0.5, 1]);
    expect(played.readings.crystalNm).toEqual([0, 0.25, 0.5]);
    played.openShutter();
    expect(played.readings.timeS).toEqual([0]);
    expect(played.readings.crystalNm).toEqual([0]);
    expect(played.readings.light).toHaveLength(1);
  });

  it('lets no time pass while every shutter is closed', () => {
    const played = rehearse([byCrystal(40)]);
    expect(played.advance(60)).toBe(0);
    played.openShutter();
    expect(played.advance(0.5)).toBe(1);
    played.closeShutter();
    expect(played.advance(60)).toBe(0);
  });

  it('opens a shutter only between layers, and closes only an open one', () => {
    const played = rehearse([byCrystal(40)]);
    expect(() => played.closeShutter()).toThrow('only an open shutter closes');
    played.openShutter();
    expect(() => played.openShutter()).toThrow('a shutter opens only between layers');
    played.closeShutter();
    expect(() => played.openShutter()).toThrow('a shutter opens only between layers');
    expect(() => played.closeShutter()).toThrow('only an open shutter closes');
  });

  it('carries nothing of the time that was left when a shutter closed into the next layer', () => {
    const played = rehearse(two);
    played.openShutter();
    played.advance(0.9);
    played.closeShutter();
    played.openShutter();
    expect(played.advance(0.4)).toBe(0);
  });
});

describe('the end of a rehearsed layer', () => {
  it('is told with its layer, its plan and how long the shutter was open, the delay included', () => {
    const played = rehearse(two, 'hand', { shutterDelayS: 0.25 });
    expect(played.cutter).toBe('hand');
    played.openShutter();
    played.advance(70.125);
    played.closeShutter();
    const trueNm = 70.375 * 0.5;
    expect(played.finished).toEqual([
      { layer: 0, plannedNm: 40, trueNm, errorNm: trueNm - 40, closedBy: 'hand', openS: 70.375 },
    ]);
  });

  it('is left to the hand where no one is named', () => {
    const played = rehearse(two);
    expect(played.cutter).toBe('hand');
    played.openShutter();
    played.advance(100);
    expect(played.phase).toBe('growing');
    expect(played.controllerCutS).toBe(80);
  });

  it('comes by the controller in its own moment, and no further reading is played', () => {
    const played = rehearse(two, 'controller');
    played.openShutter();
    // The shutter closes half a second after the reading at 79.5 s.
    expect(played.advance(1000)).toBe(159);
    expect(played.finished).toEqual([
      { layer: 0, plannedNm: 40, trueNm: 40, errorNm: 0, closedBy: 'controller', openS: 80 },
    ]);
    played.openShutter();
    expect(played.controllerCutS).toBeUndefined();
  });

  it('comes by the limit at three times the planned time and one reading, where no hand closes', () => {
    const played = rehearse(two);
    played.openShutter();
    expect(played.advance(1000)).toBe(481);
    expect(played.finished[0]).toMatchObject({ closedBy: 'limit', openS: 240.5, trueNm: 120.25 });
    expect(played.layer).toBe(1);
  });

  it('comes by the limit where the crystal stands by for light that does not turn', () => {
    const unseen = { material: constantIndex(1.52), rule: 'turning-point' } as const;
    const played = rehearse([byCrystal(40, unseen)], 'controller');
    played.openShutter();
    played.advance(1000);
    // At 30 % beyond the plan.
    expect(played.finished[0]).toMatchObject({ closedBy: 'limit', openS: 104 });
  });

  it('comes once where controller and limit fall on the same reading', () => {
    // The crystal reads the plan within a reading of number 481, which is that of the limit.
    const rateBiasPercent = 100 * ((2 * 40) / 481.5 / 0.5 - 1);
    const played = rehearse(two, 'controller', { rateBiasPercent });
    played.openShutter();
    expect(played.advance(1000)).toBe(481);
    expect(played.finished.map(({ closedBy }) => closedBy)).toEqual(['controller']);
    expect(played.phase).toBe('ready');
  });

  it.each(['hand', 'controller'] as const)('of no thickness comes as its shutter opens: %s', (cutter) => {
    const played = rehearse([byCrystal(0), byCrystal(40)], cutter, { shutterDelayS: 1 });
    played.openShutter();
    expect(played.finished).toMatchObject([{ layer: 0, trueNm: 0, errorNm: 0, closedBy: 'controller' }]);
    expect([played.phase, played.layer]).toEqual(['ready', 1]);
  });

  it('of less than one reading is told as its shutter opens', () => {
    const played = rehearse([byCrystal(0.125)], 'hand');
    played.openShutter();
    expect(played.phase).toBe('growing');
    expect(played.controllerCutS).toBe(0.25);
  });
});

it('a rehearsal keeps what it was made of', () => {
  const setup = setUpRuns(witness, two, NO_NOISE);
  const mishaps: Mishap[] = [{ kind: 'crystal-failure', layer: 0, atPercent: 50 }];
  const played = new Rehearsal(setup, 7, mishaps, 'controller');
  expect(played).toMatchObject({ setup, seed: 7, mishaps, cutter: 'controller' });
});
