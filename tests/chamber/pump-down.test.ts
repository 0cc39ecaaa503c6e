import { describe, expect, it } from 'vitest';
import { OUTGASSING_STARTS_S, pumpDown } from '../../src/chamber/pump-down.ts';

const bare = { volumeM3: 0.6, startPa: 101_325 };

describe('a pump-down', () => {
  it('without a load lasts V/S ln(p0/p1) a stage', () => {
    // K. Jousten (ed.), Handbook of Vacuum Technology; the relation is the textbooks' common one.
    const stages = [
      { speedM3PerS: 0.02, loadPaM3PerS: 0, untilPa: 10 },
      { speedM3PerS: 1.5, loadPaM3PerS: 0, untilPa: 1e-3 },
    ];
    const { stageS, totalS, profile } = pumpDown({ ...bare, stages });
    expect(stageS[0]).toBeCloseTo((0.6 / 0.02) * Math.log(101_325 / 10), 9);
    expect(stageS[1]).toBeCloseTo((0.6 / 1.5) * Math.log(1e4), 9);
    expect(totalS).toBeCloseTo(stageS[0]! + stageS[1]!, 9);
    expect(profile[0]).toEqual({ timeS: 0, pressurePa: 101_325 });
    expect(profile.at(-1)).toEqual({ timeS: totalS, pressurePa: 1e-3 });
    for (let index = 1; index < profile.length; index++) {
      expect(profile[index]!.timeS).toBeGreaterThan(profile[index - 1]!.timeS);
      expect(profile[index]!.pressurePa).toBeLessThan(profile[index - 1]!.pressurePa);
    }
  });

  it('with a steady load lasts V/S ln((p0 - Q/S)/(p1 - Q/S))', () => {
    const stages = [{ speedM3PerS: 0.5, loadPaM3PerS: 0.001, untilPa: 0.003 }];
    const { totalS } = pumpDown({ volumeM3: 1, startPa: 5, stages });
    expect(totalS).toBeCloseTo(2 * Math.log((5 - 0.002) / (0.003 - 0.002)), 9);
  });

  it('comes to the quasi-steady tail A q(t) / S of outgassing walls', () => {
    const outgassing = { areaM2: 6, rateAfter1hPaM3PerSM2: 1e-5 };
    const stages = [{ speedM3PerS: 2, loadPaM3PerS: 0, untilPa: 1e-5 }];
    const { totalS } = pumpDown({ volumeM3: 0.6, startPa: 10, stages, outgassing });
    // Tail: p = A q1 (1 h / t) / S, later by V/S to first order (the pressure lags behind the load).
    const tailS = (6 * 1e-5 * 3600) / (2 * 1e-5);
    expect(Math.abs(totalS - tailS - 0.3)).toBeLessThan(1e-3 * 0.3 + 1e-5 * tailS * 0.01);
  });

  it('with vanishing outgassing equals the closed form', () => {
    const stages = [
      { speedM3PerS: 0.02, loadPaM3PerS: 0.01, untilPa: 10 },
      { speedM3PerS: 1.5, loadPaM3PerS: 1e-4, untilPa: 1e-3 },
    ];
    const closed = pumpDown({ ...bare, stages });
    const stepped = pumpDown({ ...bare, stages, outgassing: { areaM2: 0, rateAfter1hPaM3PerSM2: 1e-5 } });
    expect(stepped.totalS / closed.totalS).toBeCloseTo(1, 10);
    expect(stepped.stageS[1]! / closed.stageS[1]!).toBeCloseTo(1, 8);
  });

  it('has the pressures of the closed form on its way, a fixed number of points a stage', () => {
    const stages = [{ speedM3PerS: 0.5, loadPaM3PerS: 0.01, untilPa: 0.1 }];
    const { profile, speedsM3PerS } = pumpDown({ volumeM3: 2, startPa: 900, stages });
    expect(speedsM3PerS).toEqual([[0.5, 0.5]]);
    expect(profile).toHaveLength(49);
    for (const { timeS, pressurePa } of profile)
      expect(pressurePa / (0.02 + (900 - 0.02) * Math.exp(-timeS / 4))).toBeCloseTo(1, 9);
  });

  it('with outgassing follows V dp/dt = Q + A q(t) - S p, step by step (Runge-Kutta of fourth order), through every stage', () => {
    const outgassing = { areaM2: 8, rateAfter1hPaM3PerSM2: 2e-4 };
    const stages = [
      { speedM3PerS: 0.05, loadPaM3PerS: 0.02, untilPa: 20 },
      { speedM3PerS: 0.4, loadPaM3PerS: 0.001, untilPa: 0.02 },
    ];
    const volumeM3 = 1.4;
    const { stageS, totalS, profile } = pumpDown({ volumeM3, startPa: 101_325, stages, outgassing });
    const gasOf = (timeS: number) => (8 * 2e-4 * 3600) / Math.max(timeS, OUTGASSING_STARTS_S);
    let [timeS, pressurePa, next] = [0, 101_325, 1];
    const reached: number[] = [];
    for (const { speedM3PerS, loadPaM3PerS, untilPa } of stages) {
      const slope = (t: number, p: number) => (loadPaM3PerS + gasOf(t) - speedM3PerS * p) / volumeM3;
      // The kink of the law at its first minute falls on a step.
      const stepS = 0.05;
      for (;;) {
        const before = pressurePa;
        const k1 = slope(timeS, before);
        const k2 = slope(timeS + stepS / 2, before + (stepS / 2) * k1);
        const k3 = slope(timeS + stepS / 2, before + (stepS / 2) * k2);
        const k4 = slope(timeS + stepS, before + stepS * k3);
        pressurePa = before + (stepS / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
        while (next < profile.length && profile[next]!.timeS <= timeS + stepS && pressurePa > untilPa) {
          const part = (profile[next]!.timeS - timeS) / stepS;
          expect(profile[next]!.pressurePa / (before * (pressurePa / before) ** part)).toBeCloseTo(1, 4);
          next++;
        }
        if (pressurePa <= untilPa) {
          const part = (before - untilPa) / (before - pressurePa);
          timeS += part * stepS;
          pressurePa = untilPa;
          reached.push(timeS);
          next = profile.findIndex((point) => point.timeS > timeS + 1e-6);
          if (next < 0) next = profile.length;
          break;
        }
        timeS += stepS;
      }
    }
    expect(stageS[0]! / reached[0]!).toBeCloseTo(1, 6);
    expect(totalS / reached[1]!).toBeCloseTo(1, 6);
    // Long runs are thinned to about as many points as a stage without outgassing has, its end among them.
    expect(profile.length).toBeLessThan(2 * 96 + 2);
    expect(profile.at(-1)!.timeS).toBeCloseTo(totalS, 9);
    expect(profile.at(-1)!.pressurePa).toBe(0.02);
    for (let index = 1; index < profile.length; index++)
      expect(profile[index]!.timeS).toBeGreaterThan(profile[index - 1]!.timeS);
  });

  it.each([
    ['stands long before the first minute is over', 168, 1],
    ['pumps the chamber through in eight minutes', 500, 1],
    ['hardly stirs it', 1e6, 19.99],
  ])(
    'with outgassing is p0 exp(−t/τ) plus the integral of all gas since, where the pump %s',
    (_, timeConstantS, untilPa) => {
      const speedM3PerS = 1e-3;
      // At the rate of the first minute the chamber would stay at 12 Pa.
      const restPa = (timeS: number) => (12 * 60) / Math.max(60, timeS);
      const { profile } = pumpDown({
        volumeM3: timeConstantS * speedM3PerS,
        startPa: 20,
        stages: [{ speedM3PerS, loadPaM3PerS: 0, untilPa }],
        outgassing: { areaM2: 10, rateAfter1hPaM3PerSM2: (12 * speedM3PerS) / 600 },
      });
      /** Simpson's rule over the gas that came between two times, as it is left at `at`. */
      const left = (from: number, to: number, at: number) => {
        let sum = 0;
        for (let step = 0; step <= 200; step++) {
          const timeS = from + ((to - from) * step) / 200;
          const weight = step === 0 || step === 200 ? 1 : step % 2 === 1 ? 4 : 2;
          sum += weight * restPa(timeS) * Math.exp((timeS - at) / timeConstantS);
        }
        return (((to - from) / 600) * sum) / timeConstantS;
      };
      for (const { timeS, pressurePa } of profile) {
        const early = Math.min(timeS, 60);
        const expected =
          20 * Math.exp(-timeS / timeConstantS) + left(0, early, timeS) + left(early, timeS, timeS);
        expect(Math.abs(pressurePa / expected - 1)).toBeLessThan(1e-6);
      }
      expect(profile.length).toBeGreaterThan(20);
    },
  );

  it('that is over within the first minute is still told by several points', () => {
    const { profile, totalS } = pumpDown({
      ...{ volumeM3: 0.6, startPa: 101_325, outgassing: { areaM2: 6, rateAfter1hPaM3PerSM2: 1e-5 } },
      stages: [{ speedM3PerS: 0.02, loadPaM3PerS: 0, untilPa: 30_000 }],
    });
    expect(totalS).toBeLessThan(60);
    expect(profile.length).toBeGreaterThan(4);
  });

  it('takes no time for a stage that ends where it begins, whatever its load', () => {
    const stages = [
      { speedM3PerS: 0.5, loadPaM3PerS: 1000, untilPa: 500 },
      // The very load that the pump balances there.
      { speedM3PerS: 0.5, loadPaM3PerS: 250, untilPa: 500 },
      { speedM3PerS: 0.5, loadPaM3PerS: 0, untilPa: 100 },
    ];
    for (const outgassing of [undefined, { areaM2: 1, rateAfter1hPaM3PerSM2: 1e-5 }]) {
      const request = { volumeM3: 1, startPa: 500, stages };
      const { stageS } = pumpDown(outgassing === undefined ? request : { ...request, outgassing });
      expect(stageS.slice(0, 2)).toEqual([0, 0]);
      expect(stageS[2]! / (2 * Math.log(5))).toBeCloseTo(1, 2);
    }
  });

  it('that cannot get there says which pressure it reaches', () => {
    const stages = [{ speedM3PerS: 0.5, loadPaM3PerS: 0.01, untilPa: 0.01 }];
    expect(() => pumpDown({ ...bare, stages })).toThrow(
      'stages[0].untilPa: 0.01 Pa cannot be reached: with this speed and gas load the pressure ends at 0.02 Pa',
    );
    // The very pressure at which pump and load balance is not reached either.
    expect(() => pumpDown({ ...bare, stages: [{ ...stages[0]!, untilPa: 0.02 }] })).toThrow(
      'stages[0].untilPa: 0.02 Pa cannot be reached',
    );
    const endless = [{ speedM3PerS: 5e-6, loadPaM3PerS: 0, untilPa: 1e-20 }];
    expect(() => pumpDown({ ...bare, stages: endless })).toThrow(
      /^stages\[0\]\.untilPa: 1e-20 Pa is not reached within 1000 h of pumping$/,
    );
    const slow = [{ speedM3PerS: 0.5, loadPaM3PerS: 0, untilPa: 1e-8 }];
    const outgassing = { areaM2: 10, rateAfter1hPaM3PerSM2: 1e-4 };
    expect(() => pumpDown({ ...bare, stages: slow, outgassing })).toThrow(
      /^stages\[0\]\.untilPa: 1e-8 Pa is not reached within 1000 h of pumping; by then it is [\d.e-]+ Pa$/,
    );
  });

  it('refuses stages that run uphill, no stage and a pump that stands still', () => {
    const stage = { speedM3PerS: 0.5, loadPaM3PerS: 0, untilPa: 10 };
    expect(() => pumpDown({ ...bare, stages: [] })).toThrow('stages: there is no stage');
    expect(() => pumpDown({ ...bare, stages: [stage, { ...stage, untilPa: 20 }] })).toThrow(
      'stages[1].untilPa: 20 Pa is above the 10 Pa at which this stage begins',
    );
    expect(() => pumpDown({ ...bare, stages: [{ ...stage, speedM3PerS: 0 }] })).toThrow(
      'stages[0].speedM3PerS: 0 m3/s is not above 0 m3/s',
    );
  });
});
