import { describe, expect, it } from 'vitest';
import { planetsOnCarrier } from '../../src/chamber/fixture-capacity.ts';

const chamber = { chamberDiameterMm: 1100, rackDiameterMm: 360, planetGapMm: 10, wallGapMm: 15 };

describe('planets on a carrier', () => {
  it('fit as often as the chord between neighbours allows', () => {
    // Flat planets of 100 that touch each other and a wall of 300: six round a seventh, 1 + 2r/(2 sin 30°).
    const six = planetsOnCarrier({
      chamberDiameterMm: 300.000001,
      rackDiameterMm: 100,
      planetGapMm: 0,
      wallGapMm: 0,
    });
    expect(six.planets).toBe(6);
    expect(six.carrierRadiusMm).toBeCloseTo(100, 5);
  });

  it('keep the gaps that were asked for', () => {
    for (const tiltDeg of [0, 15, 40]) {
      const fit = planetsOnCarrier({ ...chamber, tiltDeg });
      expect(fit.planetGapMm).toBeGreaterThanOrEqual(10);
      expect(fit.wallGapMm).toBeCloseTo(15, 9);
    }
  });

  it('as tilted discs are as far apart as points sampled on two of them', () => {
    const request = { ...chamber, tiltDeg: 35, rackDiameterMm: 300 };
    const { planets, carrierRadiusMm, planetGapMm } = planetsOnCarrier(request);
    const tilt = (35 * Math.PI) / 180;
    const rim = (planet: number) =>
      Array.from({ length: 1440 }, (_, index) => {
        const angle = (2 * Math.PI * index) / 1440;
        const along = carrierRadiusMm + 150 * Math.cos(angle) * Math.cos(tilt);
        const aside = 150 * Math.sin(angle);
        const turn = (2 * Math.PI * planet) / planets;
        return [
          along * Math.cos(turn) - aside * Math.sin(turn),
          along * Math.sin(turn) + aside * Math.cos(turn),
          150 * Math.cos(angle) * Math.sin(tilt),
        ] as const;
      });
    const second = rim(1);
    let least = Number.POSITIVE_INFINITY;
    for (const [x, y, z] of rim(0))
      for (const [u, v, w] of second) least = Math.min(least, Math.hypot(x - u, y - v, z - w));
    expect(least).toBeGreaterThanOrEqual(planetGapMm - 1e-9);
    expect(least).toBeLessThan(planetGapMm + 0.01);
  });

  it('are refused where they touch the wall, the middle or a source', () => {
    expect(() => planetsOnCarrier({ ...chamber, rackDiameterMm: 1100 })).toThrow(
      'rackDiameterMm: planets of 1100 mm would touch the wall',
    );
    expect(() => planetsOnCarrier({ ...chamber, centreDiameterMm: 400 })).toThrow(
      'centreDiameterMm: planets of 360 mm come within 175 mm of the axis',
    );
    const sources = [{ offsetMm: 300, clearanceMm: 120 }];
    expect(planetsOnCarrier({ ...chamber, heightMm: 600, sources }).planets).toBeGreaterThan(3);
    expect(() => planetsOnCarrier({ ...chamber, heightMm: 100, sources })).toThrow(
      'sources[0]: a planet comes within 100 mm of the source, nearer than the 120 mm that must stay free',
    );
  });
});
