import { describe, expect, it } from 'vitest';
import { conductanceM3PerS, viscousConductanceM3PerS } from '../../src/chamber/conductance.ts';
import { pumpDown } from '../../src/chamber/pump-down.ts';
import { speedThroughLineM3PerS } from '../../src/chamber/pump-line.ts';

const line = { diameterMm: 40, lengthMm: 1500 };

/** The textbooks' series formula, the pressure at the pump found by going round until nothing moves. */
function goingRound(pumpM3PerS: number, pressurePa: number): number {
  let speed = pumpM3PerS;
  for (let round = 0; round < 60; round++) {
    const atPumpPa = (pressurePa * speed) / pumpM3PerS;
    speed = 1 / (1 / pumpM3PerS + 1 / conductanceM3PerS(line, (pressurePa + atPumpPa) / 2));
  }
  return speed;
}

describe('the speed through a line', () => {
  it.each([1e-3, 0.1, 1, 10, 100, 1000, 1e5])('agrees with 1/S = 1/S_pump + 1/C at %d Pa', (pressurePa) => {
    for (const pump of [0.002, 0.02, 0.5])
      expect(speedThroughLineM3PerS(pump, line, pressurePa) / goingRound(pump, pressurePa)).toBeCloseTo(1, 9);
  });

  it('is 12.1 l/s per cm² of bore at most in molecular flow of air', () => {
    // Conductance of a long pipe for air at 20 °C: 12.1 d³/l in l/s, d and l in cm (any vacuum textbook); the pump is endless.
    const long = { diameterMm: 40, lengthMm: 40_000 };
    const molecular = speedThroughLineM3PerS(1000, long, 0);
    // Nitrogen is a little faster than air, √(28.96 / 28.01), and the pipe's mouth takes about 4 d / 3 l.
    expect(molecular / (1e-3 * 12.1 * (4 ** 3 / 4000))).toBeCloseTo(Math.sqrt(28.96 / 28.01), 1);
  });

  it('is 135 d⁴/l times the mean pressure in viscous flow of air, less where the mouth counts', () => {
    // Conductance of a long pipe for air at 20 °C in l/s, d and l in cm, pressure in mbar (vacuum textbooks, from memory).
    const [diameterMm, pressurePa] = [20, 300];
    const textbook = (lengthMm: number) => 1e-3 * 135 * (2 ** 4 / (lengthMm / 10)) * (pressurePa / 100);
    const viscous = (lengthMm: number) => viscousConductanceM3PerS({ diameterMm, lengthMm }, pressurePa);
    expect(viscous(10_000) / textbook(10_000)).toBeCloseTo(1, 2);
    // One bore of length more, as the short pipe's mouth asks for.
    expect(viscous(100) / viscous(10_000)).toBeCloseTo((10_000 + diameterMm) / (100 + diameterMm), 9);
  });

  it('refuses a bore of nothing and a pipe of more than a thousand bores', () => {
    expect(() => speedThroughLineM3PerS(1, { diameterMm: 0, lengthMm: 10 }, 1)).toThrow(
      'diameterMm: 0 mm is not above 0 mm',
    );
    expect(() => speedThroughLineM3PerS(1, { diameterMm: 1, lengthMm: 2000 }, 1)).toThrow(
      'a thousand diameters',
    );
  });
});

describe('a pump-down through a line', () => {
  const stage = { speedM3PerS: 0.022, loadPaM3PerS: 0, untilPa: 2 };

  it.each([
    [101_325, 2],
    [10, 0.01],
    [5000, 3],
    [700, 0.7],
  ])('takes the sum of V dp / (S p) over the falling pressure, from %d to %d Pa', (startPa, untilPa) => {
    const { totalS, profile } = pumpDown({
      ...{ volumeM3: 1.25, startPa },
      stages: [{ ...stage, untilPa, line }],
    });
    expect(profile.at(-1)!.pressurePa).toBe(untilPa);
    // Simpson's rule over ln p, with the speed of every pressure.
    const [from, to, steps] = [Math.log(untilPa), Math.log(startPa), 400];
    let sum = 0;
    for (let step = 0; step <= steps; step++) {
      const weight = step === 0 || step === steps ? 1 : step % 2 === 1 ? 4 : 2;
      const pressure = Math.exp(from + ((to - from) * step) / steps);
      sum += (weight * 1.25) / goingRound(0.022, pressure);
    }
    expect(totalS / (((to - from) / steps / 3) * sum)).toBeCloseTo(1, 4);
  });

  it('is the one without a line where the line is wide and short', () => {
    const wide = { diameterMm: 2000, lengthMm: 0 };
    const through = pumpDown({ volumeM3: 1.25, startPa: 101_325, stages: [{ ...stage, line: wide }] });
    const without = pumpDown({ volumeM3: 1.25, startPa: 101_325, stages: [stage] });
    expect(through.totalS / without.totalS).toBeCloseTo(1, 3);
    expect(without.speedsM3PerS).toEqual([[0.022, 0.022]]);
    expect(through.speedsM3PerS[0]![1]).toBeLessThan(0.022);
    // Most of the gas of the first quarter of an hour comes in its first minutes.
    const outgassing = { areaM2: 10, rateAfter1hPaM3PerSM2: 1e-3 };
    const late = { ...stage, untilPa: 3 };
    const [wetThrough, wet] = [{ ...late, line: wide }, late].map((one) =>
      pumpDown({ volumeM3: 1.25, startPa: 101_325, stages: [one], outgassing }),
    );
    expect(wetThrough!.totalS / wet!.totalS).toBeCloseTo(1, 3);
    expect(wet!.totalS).toBeGreaterThan(
      1.1 * pumpDown({ volumeM3: 1.25, startPa: 101_325, stages: [late] }).totalS,
    );
  });

  it('reaches what the throttled pump reaches, and takes no time to stay where it is', () => {
    // A line so wide that the pump of 2 m³/s keeps more than 1.5: a load of 0.01 Pa m³/s ends above 0.005 and below 0.0067 Pa.
    const wide = { speedM3PerS: 2, loadPaM3PerS: 0.01, line: { diameterMm: 400, lengthMm: 100 } };
    const reach = (startPa: number, untilPa: number) =>
      pumpDown({ volumeM3: 1, startPa, stages: [{ ...wide, untilPa }] });
    expect(reach(0.015, 0.0067).speedsM3PerS[0]![1]).toBeGreaterThan(1.5);
    expect(() => reach(0.015, 0.005)).toThrow('0.005 Pa cannot be reached');
    expect(reach(0.004, 0.004).totalS).toBe(0);
    // Rising pressure is no pump-down: the load is too much from the start.
    expect(() => reach(0.004, 0.003)).toThrow('with this speed and gas load the pressure ends at');
  });

  it('is told in one rising row of times and falling pressures, outgassing or not', () => {
    for (const outgassing of [undefined, { areaM2: 6, rateAfter1hPaM3PerSM2: 1e-5 }]) {
      const { profile, totalS, stageS } = pumpDown({
        volumeM3: 1.25,
        startPa: 101_325,
        stages: [
          { ...stage, line },
          { speedM3PerS: 2, loadPaM3PerS: 1e-5, untilPa: 1e-2, line: { diameterMm: 250, lengthMm: 300 } },
        ],
        ...(outgassing === undefined ? {} : { outgassing }),
      });
      expect(profile.at(-1)!.timeS).toBeCloseTo(totalS, 9);
      expect(stageS[0]! + stageS[1]!).toBeCloseTo(totalS, 9);
      expect(profile.length).toBeLessThan(300);
      for (let index = 1; index < profile.length; index++) {
        expect(profile[index]!.timeS).toBeGreaterThan(profile[index - 1]!.timeS);
        expect(profile[index]!.pressurePa).toBeLessThan(profile[index - 1]!.pressurePa);
      }
    }
  });

  it('says where the pressure ends that the throttled pump cannot pass', () => {
    const loaded = {
      speedM3PerS: 2,
      loadPaM3PerS: 0.01,
      untilPa: 0.006,
      line: { diameterMm: 100, lengthMm: 1000 },
    };
    const ends = (() => {
      try {
        pumpDown({ volumeM3: 1, startPa: 1, stages: [loaded] });
      } catch (error) {
        return Number(/ends at ([\d.e-]+) Pa/.exec(String(error))?.[1]);
      }
      return Number.NaN;
    })();
    expect(ends).toBeGreaterThan(0.01 / 2);
    expect(ends * speedThroughLineM3PerS(2, loaded.line, ends)).toBeCloseTo(0.01, 5);
  });

  it('names the stage whose line is no pipe', () => {
    expect(() =>
      pumpDown({
        volumeM3: 1,
        startPa: 1,
        stages: [{ ...stage, untilPa: 0.5, line: { diameterMm: 1, lengthMm: 5000 } }],
      }),
    ).toThrow('stages[0].line.lengthMm: 5000 mm is above 1000 mm, a thousand diameters');
  });
});
