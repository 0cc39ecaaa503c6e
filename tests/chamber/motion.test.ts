import { describe, expect, it } from 'vitest';
import { closingTurns, lowestPointMm, requireMotion } from '../../src/chamber/motion.ts';

describe('the turns of the carrier after which a planet stands as at the start', () => {
  it.each([
    [7, 1],
    [2.5, 2],
    [-1.25, 4],
    [1 / 3, 3],
    [22 / 7, 7],
    [0.1, 10],
    [1.001, 1000],
  ])('for the gear ratio %d are %d, its denominator', (gearRatio, turns) => {
    expect(closingTurns(gearRatio)).toBe(turns);
  });

  it('are none that are worth waiting for where the denominator is large or there is none', () => {
    expect(closingTurns(1.0005)).toBeUndefined();
    expect(closingTurns(1.0005, 2000)).toBe(2000);
    // The golden ratio is the one furthest from all fractions (Hurwitz 1891).
    expect(closingTurns((1 + Math.sqrt(5)) / 2)).toBeUndefined();
  });
});

describe('the lowest point of a rack on its way', () => {
  it('is on a dome the point itself, on a planet the leaning rim', () => {
    expect(lowestPointMm({ kind: 'dome', radiusMm: 500, centreHeightMm: 100 }, 300)).toBe(500);
    expect(lowestPointMm({ kind: 'dome', radiusMm: 500, centreHeightMm: 100 }, 501)).toBe(100);
    expect(lowestPointMm({ kind: 'rotating', heightMm: 700 }, 300)).toBe(700);
    for (const tiltDeg of [30, -30]) {
      const planet = { kind: 'planetary', carrierRadiusMm: 300, heightMm: 700, tiltDeg } as const;
      expect(lowestPointMm(planet, 100)).toBeCloseTo(650, 10);
    }
  });
});

describe('a motion', () => {
  it('may be followed for twenty thousand turns of carrier and planet together', () => {
    const planet = { kind: 'planetary', carrierRadiusMm: 300, heightMm: 700, tiltDeg: 10 } as const;
    expect(() => requireMotion({ ...planet, gearRatio: -3, carrierTurns: 5000 })).not.toThrow();
    expect(() => requireMotion({ ...planet, gearRatio: 0, carrierTurns: 20_000 })).not.toThrow();
    expect(() => requireMotion({ ...planet, gearRatio: -3 })).not.toThrow();
  });
});
