import { describe, expect, it } from 'vitest';
import { CUT_RULES, isOptical } from '../../src/monitor/cut-rule.ts';
import type { RehearsedLayer } from '../../src/monitor/rehearsal.ts';
import { layerPoints, scoreOf } from '../../src/monitor/rehearsal-score.ts';
import { RULE_WORDS } from '../../src/monitor/rule-words.ts';
import { NO_NOISE } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as witness } from './plain-witness.ts';

/** Three layers by the clock, the second one left out: 60, 0 and 100 nm. */
const layers = [60, 0, 100].map(
  (thicknessNm): CutLayer => ({
    material: constantIndex(2.1),
    thicknessNm,
    wavelengthNm: 550,
    signal: 'R',
    rule: 'time',
    rateNmPerS: 0.5,
  }),
);
const setup = setUpRuns(witness, layers, NO_NOISE);

/** The first layers as a hand may have made them, by their errors, nm. */
const made = (...errorNm: readonly number[]): RehearsedLayer[] =>
  errorNm.map((error, layer) => {
    const plannedNm = layers[layer]!.thicknessNm;
    return { layer, plannedNm, trueNm: plannedNm + error, errorNm: error, closedBy: 'hand', openS: 1 };
  });

describe('the points of a rehearsal', () => {
  it.each([
    [100, 0, 1000],
    [100, 1, 500],
    [100, -2, 250],
    [31, 0.31, 500],
    // Below 30 nm three tenths of a nanometre stand for the hundredth.
    [29, 0.3, 500],
    [5, -0.6, 250],
    [0, 0, 1000],
  ])('of a layer of %d nm that is %d nm off are %d', (plannedNm, off, points) => {
    expect(layerPoints(plannedNm, plannedNm + off)).toBeCloseTo(points, 9);
  });

  it('are none before a layer is finished', () => {
    expect(scoreOf(setup, [], 1, [])).toEqual({ points: 0, perLayer: [], controllerPoints: 0 });
  });

  it('are the mean of the layers that are finished, but for those of no thickness', () => {
    // 0.6 of 60 nm and 2 of 100 nm off; the controller goes by an exact clock.
    const some = scoreOf(setup, made(0.6), 1, []);
    expect(some.points).toBeCloseTo(500, 9);
    const all = scoreOf(setup, made(0.6, 0, 2), 1, []);
    expect(all.points).toBeCloseTo(375, 9);
    expect(all.perLayer.map(Math.round)).toEqual([500, 1000, 250]);
    expect(all.controllerPoints).toBeCloseTo(1000, 6);
  });

  it("are the controller's in the same layers, with the same mishaps", () => {
    const mishaps = [{ kind: 'spit', layer: 2, atPercent: 50, thicknessNm: 1 }] as const;
    expect(scoreOf(setup, made(0), 1, mishaps).controllerPoints).toBeCloseTo(1000, 6);
    expect(scoreOf(setup, made(0, 0, 0), 1, mishaps).controllerPoints).toBeCloseTo(750, 6);
  });

  it("are the controller's in the run of the same seed", () => {
    const noisy = setUpRuns(witness, layers, { ...NO_NOISE, rateNoisePercent: 20 });
    const [one, same, other] = [3, 3, 4].map((seed) => scoreOf(noisy, made(0), seed, []).controllerPoints);
    expect(same).toBe(one);
    expect(other).not.toBe(one);
  });
});

it('each rule has its words, and looks at the light or not', () => {
  expect(CUT_RULES.map((rule) => [rule, RULE_WORDS[rule], isOptical(rule)])).toEqual([
    ['level', 'level', true],
    ['swing', 'rescaled level', true],
    ['turning-point', 'turning point', true],
    ['crystal', 'crystal', false],
    ['time', 'time', false],
  ]);
});
