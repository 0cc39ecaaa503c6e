import { describe, expect, it, vi } from 'vitest';
import { type GrowingSignal, turningPoints } from '../../src/monitor/turning-points.ts';
import { WitnessLight } from '../../src/monitor/witness-light.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness } from './plain-witness.ts';

const QUARTER = 550 / 4 / 2.1;

/** A growing film of 2.1 on so much of it on glass of 1.52, seen at 550 nm in reflected light. */
function lightOn(belowNm: number, n = 2.1, substrate = constantIndex(1.52)) {
  const films = [constantIndex(2.1), constantIndex(n)];
  const light = new WitnessLight({ ...plainWitness, substrate }, films, { wavelengthNm: 550, signal: 'R' });
  light.begin([belowNm]);
  return light;
}

describe('the turning points of a growing film', () => {
  it('lie at whole quarter waves to the last digits, with the levels of the closed form', () => {
    // Textbook: R of a quarter wave is ((ns - n²) / (ns + n²))², of a half wave that of the glass.
    const found = turningPoints(lightOn(20), 30 * QUARTER);
    expect(found).toHaveLength(30);
    for (const [i, { thicknessNm, level }] of found.entries()) {
      expect(thicknessNm).toBeCloseTo((i + 1) * QUARTER - 20, 9);
      const root = i % 2 === 0 ? (1.52 - 2.1 ** 2) / (1.52 + 2.1 ** 2) : 0.52 / 2.52;
      expect(level).toBeCloseTo(root ** 2, 14);
    }
  });

  it.each([
    [QUARTER, 1],
    [QUARTER * (1 - 1e-10), 1],
    [QUARTER * (1 - 2e-9), 0],
    [2 * QUARTER, 2],
    [0, 0],
    [-1, 0],
  ])('count where they are the end itself, and not beyond it: %d nm', (endNm, count) => {
    const found = turningPoints(lightOn(0), endNm);
    expect(found).toHaveLength(count);
    for (const { thicknessNm } of found) expect(thicknessNm).toBeLessThanOrEqual(endNm);
  });

  it('do not count at the start itself, of a thin layer or a thick one', () => {
    for (const early of [-1e-6, 0, 1e-6]) {
      const light = lightOn(QUARTER - early);
      expect(turningPoints(light, 20)).toEqual([]);
      expect(turningPoints(light, 100.5 * QUARTER)).toHaveLength(100);
    }
    expect(turningPoints(lightOn(QUARTER - 0.5), 100.5 * QUARTER)).toHaveLength(101);
    expect(turningPoints(lightOn(QUARTER - 0.01), 20)).toHaveLength(1);
  });

  it('are none where no index steps, and all of them where one hardly does', () => {
    expect(turningPoints(lightOn(50, 1.52, constantIndex(2.1)), 1000)).not.toEqual([]);
    expect(turningPoints(lightOn(50, 2.1, constantIndex(2.1)), 1000)).toEqual([]);
    // A film like the air: the phase of its light turns and turns, and its level stands but for rounding.
    expect(turningPoints(lightOn(50, 1), 1000)).toEqual([]);
    expect(turningPoints(lightOn(50, 2.1, constantIndex(2.1 + 1e-9)), 1000)).toHaveLength(16);
  });

  it('are found in narrow dips, and in a metal as deep as light is left at all', () => {
    const on = (substrate: ReturnType<typeof constantIndex>, film: ReturnType<typeof constantIndex>) => {
      const light = new WitnessLight({ ...plainWitness, substrate }, [film], {
        wavelengthNm: 550,
        signal: 'R',
      });
      light.begin([]);
      return light;
    };
    const mirror = on(constantIndex(0.2, 4), constantIndex(6));
    const dips = turningPoints(mirror, 500);
    // A mirror turns the phase of what it reflects: it moves all turns alike, a quarter wave from one to the next.
    const quarter = 550 / 4 / 6;
    expect(dips.at(-1)!.thicknessNm).toBeGreaterThan(500 - quarter);
    for (const [i, { thicknessNm, level }] of dips.entries()) {
      expect(thicknessNm - dips[0]!.thicknessNm).toBeCloseTo(i * quarter, 9);
      expect(mirror.slope(thicknessNm)).toBeCloseTo(0, 12);
      const beside = [-0.01, 0.01].map((by) => mirror.level(thicknessNm + by) - level);
      expect(beside[0]! * beside[1]!).toBeGreaterThan(0);
    }
    // Slopes of silver die away to exactly nothing some 5 µm deep: that is no turn. (n of 0.05 turns once in 2.7 µm.)
    const silver = turningPoints(on(constantIndex(1.52), constantIndex(0.05, 4)), 30_000);
    expect(silver).toHaveLength(3);
    for (const [i, { thicknessNm }] of silver.entries())
      expect(thicknessNm - silver[0]!.thicknessNm).toBeCloseTo(i * (550 / 4 / 0.05), 6);
    expect(turningPoints(on(constantIndex(1.52), constantIndex(0.05, 4)), 20_000)).toHaveLength(
      silver.length,
    );
  });

  it('are found in a film that grows ever more slowly towards its end level', () => {
    // In an absorbing film the hills shrink; n and k of 2.1 - 0.1i leave a few thousandths of the swing after 20 quarter waves.
    const light = new WitnessLight(plainWitness, [constantIndex(2.1, 0.1)], {
      wavelengthNm: 550,
      signal: 'R',
    });
    light.begin([]);
    const found = turningPoints(light, 20.5 * QUARTER);
    expect(found).toHaveLength(20);
    for (const [i, { thicknessNm }] of found.entries()) {
      expect(Math.abs(thicknessNm / QUARTER - (i + 1))).toBeLessThan(0.05);
      expect(light.slope(thicknessNm)).toBeCloseTo(0, 14);
      if (i > 1)
        expect(Math.abs(found[i]!.level - found[i - 1]!.level)).toBeLessThan(
          Math.abs(found[i - 1]!.level - found[i - 2]!.level),
        );
    }
  });

  it('cost sixteen slopes a quarter wave and some ten a turn', () => {
    for (const [endNm, turns] of [
      [QUARTER / 2, 0],
      [30.5 * QUARTER, 30],
    ] as const) {
      const light = lightOn(0);
      const slope = vi.spyOn(light, 'slope');
      expect(turningPoints(light, endNm)).toHaveLength(turns);
      expect(slope.mock.calls.length).toBeGreaterThanOrEqual(16 * Math.ceil(endNm / QUARTER));
      expect(slope.mock.calls.length).toBeLessThan(16 * Math.ceil(endNm / QUARTER) + 10 * turns + 16);
    }
  });
});

describe('the turning points of a signal of known slope', () => {
  /** Of slow waves, so that a layer of 8 nm is looked at in sixteen steps of 0.5 nm. */
  const signalOf = (slope: (nm: number) => number): GrowingSignal => ({
    slope,
    level: () => 0,
    largestWaveNumber: () => 0.01,
  });
  const turnsOf = (slope: (nm: number) => number) =>
    turningPoints(signalOf(slope), 8).map(({ thicknessNm }) => thicknessNm);

  it.each<[string, (nm: number) => number, readonly number[]]>([
    ['a zero right on a step', (nm) => 4 - nm, [4]],
    ['two of them', (nm) => (nm - 2) * (nm - 5.5), [2, 5.5]],
    ['a zero between two steps', (nm) => 0.1 * (3.3 - nm), [3.3]],
    ['a zero at the end', (nm) => 8 - nm, [8]],
    ['none where it is touched', (nm) => (nm - 4) ** 2, []],
    ['none where the signal stands and then rises', (nm) => Math.max(0, nm - 2), []],
    ['none where the signal rises and then stands', (nm) => Math.max(0, 5 - nm), []],
    ['one after it has stood half of the way', (nm) => Math.max(0, nm - 4) * (6.2 - nm), [6.2]],
    ['a sudden fall', (nm) => Math.tanh(60 * (5.13 - nm)), [5.13]],
    ['a cube', (nm) => (nm - 2.7) ** 3, [2.7]],
    ['slopes as small as numbers go', (nm) => (nm < 3.1 ? 1e-12 : 1e-200 * (5.2 - nm)), [5.2]],
  ])('are %s', (_, slope, expected) => {
    const found = turnsOf(slope);
    expect(found).toHaveLength(expected.length);
    for (const [i, nm] of expected.entries()) expect(found[i]).toBeCloseTo(nm, 4);
  });
});
