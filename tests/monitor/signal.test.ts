import { describe, expect, it } from 'vitest';
import { predictSignals } from '../../src/monitor/signal.ts';
import type { MonitoredLayer } from '../../src/monitor/witness.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as glass } from './plain-witness.ts';

function layer(n: number, thicknessNm: number, more: Partial<MonitoredLayer> = {}): MonitoredLayer {
  return { material: constantIndex(n), thicknessNm, wavelengthNm: 550, signal: 'R', ...more };
}

describe('the predicted signal', () => {
  it('of one film on bare glass runs through the closed form at zero, quarter and half wave', () => {
    // Textbook relation: R = ((n0 ns - n1²) / (n0 ns + n1²))² at the quarter wave, that of bare glass at the half
    // wave; figures computed from it for n = 2.35 and 1.38 on 1.52.
    for (const [n, quarterLevel] of [
      [2.35, 0.3230048],
      [1.38, 0.01260079],
    ] as const) {
      const [signal] = predictSignals(glass, [layer(n, 550 / (2 * n))]);
      expect(signal!.startLevel).toBeCloseTo(0.04257999, 7);
      expect(signal!.turningPoints[0]!.level).toBeCloseTo(quarterLevel, 7);
      expect(signal!.endLevel).toBeCloseTo(0.04257999, 7);
      expect(signal!.quarterWaves).toBeCloseTo(2, 12);
    }
  });

  it('turns at whole quarter waves on a bare witness, the one at the very end included', () => {
    const quarter = 550 / (4 * 2.1);
    const [signal] = predictSignals(glass, [layer(2.1, 5 * quarter)]);
    expect(signal!.turningPoints).toHaveLength(5);
    for (const [m, turn] of signal!.turningPoints.entries())
      expect(turn.thicknessNm).toBeCloseTo((m + 1) * quarter, 6);
  });

  it('counts no turn beyond the end and none at the start', () => {
    const [signal] = predictSignals(glass, [layer(2.1, 60)]);
    expect(signal!.turningPoints).toEqual([]);
  });

  it('begins each layer where the one before ended, at one wavelength on one witness', () => {
    const signals = predictSignals(glass, [layer(2.1, 90), layer(1.46, 120), layer(2.1, 33)]);
    expect(signals[1]!.startLevel).toBeCloseTo(signals[0]!.endLevel, 14);
    expect(signals[2]!.startLevel).toBeCloseTo(signals[1]!.endLevel, 14);
  });

  it('begins on bare glass again with a fresh witness', () => {
    const signals = predictSignals(glass, [layer(2.1, 90), layer(1.46, 120, { newWitness: true })]);
    expect(signals[1]!.startLevel).toBeCloseTo((0.52 / 2.52) ** 2, 14);
  });

  it('tells thickness on the lens where the witness gets more by its tooling', () => {
    const quarterOnLens = 550 / (4 * 1.38) / 1.25;
    const [signal] = predictSignals(glass, [layer(1.38, 100, { tooling: 1.25 })]);
    expect(signal!.turningPoints[0]!.thicknessNm).toBeCloseTo(quarterOnLens, 6);
    expect(signal!.quarterWaves).toBeCloseTo((100 * 1.25 * 4 * 1.38) / 550, 12);
    expect(signal!.trace.thicknessNm.at(-1)).toBe(100);
    expect(signal!.trace.level.at(-1)).toBe(signal!.endLevel);
  });

  it('shows no swing where film and glass are alike', () => {
    const [signal] = predictSignals(glass, [layer(1.52, 200)]);
    expect(signal!.swingPercent).toBeCloseTo(0, 10);
    expect(signal!.turningPoints).toEqual([]);
    expect(signal).not.toHaveProperty('cutSwingPercent');
    // A step of the index by 1e-9 turns the signal by 3e-10 of the light, which nobody sees; one by 1e-8 by 3e-9.
    expect(predictSignals(glass, [layer(1.52 + 1e-9, 200)])[0]).not.toHaveProperty('cutSwingPercent');
    expect(predictSignals(glass, [layer(1.52 + 1e-8, 200)])[0]).toHaveProperty('cutSwingPercent');
  });

  it('counts no turn at the start of any first layer, whatever material, band, angle and thickness', () => {
    // On bare glass the light starts level, and on glass that absorbs a little it turns within a millionth of a nm.
    for (const k of [0, 1e-8, 1e-7])
      for (const incidenceRad of [0, 0.3])
        for (const thicknessNm of [3, 39.86, 86.51, 12_345])
          for (const [n, bandwidthNm] of [
            [1.38, 0],
            [1.64, 0],
            [1.64, 4],
            [2.06, 0],
          ] as const) {
            const first = { ...layer(n, thicknessNm), wavelengthNm: 400, signal: 'T' as const, bandwidthNm };
            const substrate = constantIndex(1.52, k);
            const [signal] = predictSignals({ ...glass, substrate, incidenceRad }, [first]);
            const quarter = 400 / 4 / Math.sqrt(n * n - Math.sin(incidenceRad) ** 2);
            const turns = signal!.turningPoints.map((turn) => turn.thicknessNm);
            if (bandwidthNm === 0) expect(turns).toHaveLength(Math.floor(thicknessNm / quarter + 1e-9));
            for (const nm of turns) expect(nm).toBeGreaterThan(0.9 * quarter);
          }
  });

  it('finds levels at its turns that no point of a fine trace exceeds', () => {
    const layers = [
      layer(2.1, 90, { bandwidthNm: 5 }),
      layer(1.46, 300, { wavelengthNm: 480, signal: 'T' }),
      { ...layer(2.1, 260), material: constantIndex(2.1, 0.01) },
    ];
    for (const signal of predictSignals({ ...glass, backSurface: 'bare' }, layers, 4001)) {
      const exact = [signal.startLevel, signal.endLevel, ...signal.turningPoints.map((turn) => turn.level)];
      expect(Math.max(...signal.trace.level)).toBeLessThanOrEqual(Math.max(...exact) + 1e-13);
      expect(Math.min(...signal.trace.level)).toBeGreaterThanOrEqual(Math.min(...exact) - 1e-13);
      expect(signal.swingPercent).toBeCloseTo(100 * (Math.max(...exact) - Math.min(...exact)), 12);
    }
  });

  it('says where on the last swing the cut lies', () => {
    // Half way up again after the turn of a quarter wave, in level: 50 % of the swing from the bare glass.
    const n = 1.38;
    const quarter = 550 / (4 * n);
    const [probe] = predictSignals(glass, [layer(n, 1.6 * quarter)]);
    const turn = probe!.turningPoints[0]!;
    const expected = (100 * (probe!.endLevel - turn.level)) / (probe!.startLevel - turn.level);
    expect(probe!.cutSwingPercent).toBeCloseTo(expected, 12);
    // Of several turns the last two count: on bare glass the swings are alike.
    const [later] = predictSignals(glass, [layer(n, 3.6 * quarter)]);
    expect(later!.cutSwingPercent).toBeCloseTo(expected, 6);
    const [downAgain] = predictSignals(glass, [layer(n, 2.3 * quarter)]);
    const [start, bottom, top] = [downAgain!.startLevel, ...downAgain!.turningPoints.map((one) => one.level)];
    expect(top).toBeCloseTo(start!, 12);
    expect(downAgain!.cutSwingPercent).toBeCloseTo(
      (100 * (downAgain!.endLevel - top!)) / (bottom! - top!),
      9,
    );
    const [atTurn] = predictSignals(glass, [layer(n, quarter)]);
    expect(atTurn!.cutSwingPercent).toBeCloseTo(0, 9);
  });

  it.each([
    [layer(2, -3), 'layers[0].thicknessNm: -3 nm is below 0 nm'],
    [layer(2, 10, { tooling: 0 }), 'layers[0].tooling: 0 is below 0.01'],
    [layer(2, 10, { bandwidthNm: 400 }), 'layers[0].bandwidthNm: 400 nm is above 275 nm'],
    [layer(2, 10, { wavelengthNm: Number.NaN }), 'layers[0].wavelengthNm: NaN is not a finite number'],
  ])('refuses a layer out of range', (bad, message) => {
    expect(() => predictSignals(glass, [bad])).toThrow(message);
  });
});
