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

  it('are as many as fit exactly, and one has no neighbour', () => {
    // Two discs of 100 on opposite sides of a circle of 100 leave 100 between them.
    const two = { chamberDiameterMm: 300, rackDiameterMm: 100, wallGapMm: 0 };
    expect(planetsOnCarrier({ ...two, planetGapMm: 100 })).toEqual({
      ...{ planets: 2, carrierRadiusMm: 100, planetGapMm: 100, wallGapMm: 0 },
    });
    expect(planetsOnCarrier({ ...two, planetGapMm: 100.001 })).toMatchObject({ planets: 1, planetGapMm: 0 });
    // One as large as the chamber, on its axis.
    expect(planetsOnCarrier({ ...two, rackDiameterMm: 300, planetGapMm: 0 })).toEqual({
      ...{ planets: 1, carrierRadiusMm: 0, planetGapMm: 0, wallGapMm: 0 },
    });
    const tiny = { chamberDiameterMm: 10_000, rackDiameterMm: 1, planetGapMm: 0, wallGapMm: 0 };
    expect(planetsOnCarrier(tiny).planets).toBe(1000);
  });

  it('that lean reach less far out, by the cosine of their tilt', () => {
    // 550 - 15 - 180 cos 60 degrees.
    expect(planetsOnCarrier({ ...chamber, tiltDeg: 60 }).carrierRadiusMm).toBeCloseTo(445, 9);
    const further = planetsOnCarrier({ ...chamber, tiltDeg: 60, carrierRadiusMm: 400 });
    expect(further.carrierRadiusMm).toBe(400);
    expect(further.wallGapMm).toBeCloseTo(60, 9);
  });

  it('may touch what stands on the axis, but not dip into it', () => {
    // Planets of 360 on a circle of 300 leave 120 around the axis.
    const held = { ...chamber, carrierRadiusMm: 300 };
    expect(planetsOnCarrier({ ...held, centreDiameterMm: 240 }).planets).toBeGreaterThan(1);
    expect(() => planetsOnCarrier({ ...held, centreDiameterMm: 240.5 })).toThrow(
      'centreDiameterMm: planets of 360 mm come within 120 mm of the axis, nearer than the 120.25 mm that stand there',
    );
    // Where nothing stands there one may cover the axis.
    expect(planetsOnCarrier({ ...chamber, carrierRadiusMm: 20 }).planets).toBe(1);
  });

  it.each([
    ['under the level ring of the planets', 0, 300, 400],
    ['inside of it', 0, 60, Math.hypot(300 - 180 - 60, 400)],
    ['outside of it', 0, 600, Math.hypot(600 - 300 - 180, 400)],
    ['on the axis under planets that cover it', 0, 0, 400, 150],
    ['under planets that lean inwards', 40, 120],
    ['under planets that lean outwards', -40, 120],
    ['far out under planets that lean inwards', 40, 700],
    ['near the outer edge of planets that lean steeply', 75, 330],
    ['on the axis under planets that lean', 25, 0],
  ])('are told how near they come to a source %s', (_, tiltDeg, offsetMm, closed?, carrierRadiusMm = 300) => {
    const [heightMm, radius, tilt] = [400, 180, (tiltDeg * Math.PI) / 180];
    let sampled = Number.POSITIVE_INFINITY;
    for (let ring = 0; ring <= 60; ring++)
      for (let step = 0; step < 720; step++) {
        const angle = (2 * Math.PI * step) / 720;
        const along = ((radius * ring) / 60) * Math.cos(angle);
        const aside = ((radius * ring) / 60) * Math.sin(angle);
        const out = Math.hypot(carrierRadiusMm + along * Math.cos(tilt), aside);
        sampled = Math.min(sampled, Math.hypot(out - offsetMm, heightMm - along * Math.sin(tilt)));
      }
    const asked = (clearanceMm: number) => () =>
      planetsOnCarrier({
        ...{ ...chamber, wallGapMm: 0, tiltDeg, heightMm, carrierRadiusMm },
        sources: [{ offsetMm, clearanceMm }],
      });
    const told = /comes within ([\d.]+) mm of the source, nearer than the 9999 mm that must/.exec(
      String(tryOut(asked(9999))),
    );
    expect(Math.abs(Number(told?.[1]) - sampled)).toBeLessThan(1);
    if (closed !== undefined) expect(Number(told?.[1])).toBeCloseTo(closed, 1);
    expect(asked(Math.floor(sampled) - 1)).not.toThrow();
  });

  it('may come as near to a source as was asked, and need a height for that', () => {
    const sources = [{ offsetMm: 300, clearanceMm: 400 }];
    expect(() => planetsOnCarrier({ ...chamber, heightMm: 400, sources })).not.toThrow();
    expect(() => planetsOnCarrier({ ...chamber, sources })).toThrow(
      'heightMm: is missing; it is needed to keep the planets off the sources',
    );
  });

  it('are refused where they touch the wall, with the circle on which they may run', () => {
    expect(() => planetsOnCarrier({ ...chamber, carrierRadiusMm: 356 })).toThrow(
      'carrierRadiusMm: planets of 360 mm would touch the wall: in a chamber of 1100 mm their centres may run on a circle of at most 355 mm radius',
    );
    expect(() => planetsOnCarrier({ ...chamber, rackDiameterMm: 1200 })).toThrow(
      'rackDiameterMm: planets of 1200 mm would touch the wall: in a chamber of 1100 mm their centres may run on a circle of at most 0 mm radius',
    );
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

function tryOut(ask: () => unknown): unknown {
  try {
    return ask();
  } catch (error) {
    return error;
  }
}
