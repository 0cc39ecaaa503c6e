import { beforeEach, describe, expect, it } from 'vitest';
import { type Mishap, MishapPlayer } from '../../src/monitor/mishap.ts';
import { NO_NOISE } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as glass } from './plain-witness.ts';

/** Invented: layers of 100 nm, so that percent of the plan are nanometres, read every half second. */
const layer: CutLayer = {
  ...{ material: constantIndex(2.1), thicknessNm: 100, wavelengthNm: 550, signal: 'R' },
  ...{ rule: 'level', rateNmPerS: 2 },
};
const setup = setUpRuns(glass, [layer, layer], { ...NO_NOISE, sampleS: 0.5 });

function playerOf(...mishaps: readonly Mishap[]) {
  const player = new MishapPlayer(setup, mishaps);
  player.begin();
  player.openShutter(0);
  return player;
}

describe('a spit', () => {
  const spit = (atPercent: number, thicknessNm: number, of = 0): Mishap => ({
    ...{ kind: 'spit', layer: of, atPercent, thicknessNm },
  });
  const grownBy = (player: MishapPlayer, fromNm: number) => {
    const growthNm = Float64Array.of(1, 1, 1, 1, 1);
    player.grow(growthNm, 4, fromNm);
    return Array.from(growthNm);
  };

  it('comes with the sample in which the layer reaches its share of the plan, once', () => {
    const player = playerOf(spit(50, 2.5));
    expect(grownBy(player, 44)).toEqual([1, 1, 1, 1, 1]);
    expect(grownBy(player, 48)).toEqual([1, 3.5, 1, 1, 1]);
    expect(grownBy(player, 54.5)).toEqual([1, 1, 1, 1, 1]);
  });

  it('does not come in another layer, nor beyond the samples asked for', () => {
    expect(grownBy(playerOf(spit(50, 2.5, 1)), 48)).toEqual([1, 1, 1, 1, 1]);
    expect(grownBy(playerOf(spit(53, 2.5)), 48)).toEqual([1, 1, 1, 1, 1]);
  });

  it('leaves a second one of the same layer to come, and carries it nearer', () => {
    const player = playerOf(spit(50, 2.5), spit(54, 0.5), spit(57, 2));
    expect(grownBy(player, 48)).toEqual([1, 3.5, 1, 1.5, 1]);
    expect(grownBy(player, 55)).toEqual([1, 3, 1, 1, 1]);
  });
});

describe('a crystal that fails', () => {
  const failure: Mishap = { kind: 'crystal-failure', layer: 0, atPercent: 50 };
  const grownNm = Float64Array.of(49.9, 50, 50.1, 60);

  it('does so at its share of the plan, and is told once', () => {
    const player = playerOf(failure);
    expect(player.crystalLostAt(grownNm, 1)).toBe(-1);
    expect(player.crystalLostAt(grownNm, 4)).toBe(1);
    expect(player.crystalLostAt(grownNm, 4)).toBe(-1);
  });

  it('is not told where nothing is to fail', () => {
    expect(playerOf({ ...failure, layer: 1 }).crystalLostAt(grownNm, 4)).toBe(-1);
  });

  it('leaves the other mishaps of its layer to come', () => {
    const player = playerOf(failure, { kind: 'spit', layer: 0, atPercent: 60, thicknessNm: 3 });
    player.crystalLostAt(grownNm, 4);
    const growthNm = Float64Array.of(1, 1);
    player.grow(growthNm, 2, 58);
    expect(Array.from(growthNm)).toEqual([1, 4]);
  });
});

describe('a drifting lamp', () => {
  const drift = (atPercent: number, percentPerMin: number): Mishap => ({
    ...{ kind: 'lamp-drift', layer: 0, atPercent, percentPerMin },
  });
  const lit = (player: MishapPlayer, grownNm: readonly number[]) => {
    const light = new Float64Array(grownNm.length + 1).fill(0.2);
    player.lamp(light, Float64Array.from([...grownNm, 100]), grownNm.length);
    return Array.from(light, (value) => value / 0.2);
  };

  it('loses its share of a minute with each reading from its beginning on, and nothing before', () => {
    // 12 % a minute over half a second: a thousandth a reading.
    expect(lit(playerOf(drift(50, -12)), [49.9, 50, 50.1, 50.2])).toEqual([
      ...[1, expect.closeTo(0.999, 12), expect.closeTo(0.999 ** 2, 12), expect.closeTo(0.999 ** 3, 12)],
      1,
    ]);
  });

  it('keeps in the next layer what it has lost, and is a fresh lamp in the next run', () => {
    const player = playerOf(drift(0, -12));
    lit(player, [1, 2]);
    player.openShutter(1);
    expect(lit(player, [50, 60])).toEqual([expect.closeTo(0.998001, 12), expect.closeTo(0.998001, 12), 1]);
    player.begin();
    expect(lit(player, [50])).toEqual([1, 1]);
  });

  it('may drift twice in a layer, and then does both', () => {
    expect(lit(playerOf(drift(0, 24), drift(50, -12)), [49, 50])).toEqual([
      ...[expect.closeTo(1.002, 12), expect.closeTo(1.002 ** 2 * 0.999, 12)],
      1,
    ]);
  });
});

describe('a reading that sticks', () => {
  const sticking = (atPercent: number, untilPercent: number): Mishap => ({
    ...{ kind: 'missed-turning-point', layer: 0, atPercent, untilPercent },
  });
  let player: MishapPlayer;
  const read = (grownNm: readonly number[]) => {
    const light = Float64Array.from(grownNm, (nm) => nm / 100);
    player.holdLight(light, Float64Array.from(grownNm), grownNm.length - 1);
    return Array.from(light);
  };

  beforeEach(() => {
    player = playerOf(sticking(50, 60));
  });

  it('shows the same from its beginning on, and is free again at its end', () => {
    expect(read([49, 50, 51, 59.9, 60, 61, 55])).toEqual([0.49, 0.5, 0.5, 0.5, 0.6, 0.61, 0.55]);
  });

  it('sticks over any batches of readings, and anew in another layer', () => {
    expect(read([51, 0])[0]).toBe(0.51);
    expect(read([52, 0])[0]).toBe(0.51);
    player.openShutter(0);
    expect(read([53, 0])[0]).toBe(0.53);
    player.openShutter(1);
    expect(read([54, 55, 0])).toEqual([0.54, 0.55, 0]);
  });

  it('may stick twice in a layer, beside any other mishap', () => {
    player = playerOf(
      ...[sticking(20, 30), sticking(50, 60)],
      ...[{ kind: 'crystal-failure', layer: 0, atPercent: 0 } as const],
    );
    expect([20, 25, 30, 50, 55].map((nm) => read([nm, 0])[0])).toEqual([0.2, 0.2, 0.3, 0.5, 0.5]);
  });
});
