import { describe, expect, it } from 'vitest';
import { meanArrival } from '../../src/chamber/deposit.ts';
import { type Element, flatSeat, hung, turned } from '../../src/chamber/element.ts';
import type { Motion } from '../../src/chamber/motion.ts';
import { shieldShape } from '../../src/chamber/shield.ts';
import { addShadowSlopes } from '../../src/chamber/shield-slopes.ts';
import { shadowSpans } from '../../src/chamber/shield-spans.ts';
import { arrivalAt, type VapourSource } from '../../src/chamber/vapour-source.ts';
import { naturalSpline } from '../../src/math/natural-spline.ts';

const RAD = Math.PI / 180;
const source: VapourSource = { offsetMm: 200, exponent: 2, azimuthDeg: 25 };
const RADII = Float64Array.of(40, 160, 280, 420);
const HALVES = [12, 20, 16, 9].map((deg) => deg * RAD);

function sheet(halves: readonly number[], azimuthDeg = 40) {
  const outline = halves.map((half, index) => ({ radiusMm: RADII[index]!, halfAngleDeg: half / RAD }));
  return shieldShape({ heightMm: 600, azimuthDeg, outline });
}

/** How the half angle at a radius rises with that of each point. */
const influence = HALVES.map((_, index) =>
  naturalSpline(
    RADII,
    Float64Array.from(HALVES, (_half, at) => (at === index ? 1 : 0)),
  ),
);

/** The places of a point on its way, seen from the carrier: at many angles of a free planet. */
function placesOf(motion: Motion, radiusMm: number): Element[] {
  if (motion.kind === 'dome') {
    const tilt = Math.asin(radiusMm / motion.radiusMm);
    const height = motion.centreHeightMm + motion.radiusMm * Math.cos(tilt);
    return [hung(flatSeat(0), { radius: radiusMm, height, tilt })];
  }
  if (motion.kind !== 'planetary')
    return [hung(flatSeat(0), { radius: radiusMm, height: motion.heightMm, tilt: 0 })];
  const hanging = { radius: motion.carrierRadiusMm, height: motion.heightMm, tilt: motion.tiltDeg * RAD };
  return Array.from({ length: 720 }, (_, step) =>
    hung(turned(flatSeat(radiusMm), step * 0.5 * RAD), hanging),
  );
}

describe('how a film changes with the half angles of a shield', () => {
  const planet = { kind: 'planetary', carrierRadiusMm: 280, heightMm: 900, tiltDeg: 18 } as const;
  const dome = { kind: 'dome', radiusMm: 900, centreHeightMm: 50 } as const;
  const plain: VapourSource = { offsetMm: 200, exponent: 1 };
  it.each<readonly [string, Motion, number, VapourSource, number]>([
    ['a turning rack', { kind: 'rotating', heightMm: 900 }, 240, source, 40],
    ['a turning rack, the sheet on the far side', { kind: 'rotating', heightMm: 900 }, 330, source, 215],
    ['a dome', dome, 260, source, 40],
    ['a dome over a raised source', dome, 260, { ...source, heightMm: 120 }, -320],
    ['planets', planet, 90, source, 40],
    ['geared planets', { ...planet, gearRatio: 2.5 }, 90, source, 40],
    ['level planets over a source in direction 0', { ...planet, tiltDeg: 0 }, 120, plain, 10],
  ])('is what arrives along the sides of the shadow, by the share of each point: %s', (_, ...scene) => {
    const [motion, radiusMm, from, azimuthDeg] = scene;
    const shape = sheet(HALVES, azimuthDeg);
    const places = placesOf(motion, radiusMm);
    const expected = new Float64Array(HALVES.length).fill(1);
    for (const element of places) {
      const out = Math.hypot(element.x, element.y);
      const part = (600 - (from.heightMm ?? 0)) / (element.z - (from.heightMm ?? 0));
      const { turns, borders } = shadowSpans(shape, from, element)!;
      turns.forEach((turn, at) => {
        if (borders[at] !== '3') return;
        const arrival = arrivalAt(from, element, Math.atan2(element.y, element.x) - turn);
        const crossing = Math.hypot(
          (1 - part) * from.offsetMm + part * out * Math.cos(turn),
          part * out * Math.sin(turn),
        );
        influence.forEach((of, index) => {
          expected[index]! -= (arrival * of(crossing)) / (2 * Math.PI * places.length);
        });
      });
    }
    const slopes = new Float64Array(HALVES.length).fill(1);
    addShadowSlopes(shape, influence, from, motion, radiusMm, slopes);
    const largest = Math.max(...expected.map((slope) => 1 - slope));
    expect(largest).toBeGreaterThan(1e-8);
    // One angle in 48 of a planet may lie on the other side of an end of the sheet.
    const tolerance = motion.kind === 'planetary' ? 0.03 : 0.002;
    slopes.forEach((slope, index) => {
      expect(Math.abs(slope - expected[index]!) / largest, `${index}`).toBeLessThan(tolerance);
    });
  });

  it.each<readonly [string, Motion, number]>([
    ['a turning rack', { kind: 'rotating', heightMm: 900 }, 240],
    ['a dome', dome, 260],
  ])('over a source on the axis is just what differences show, under %s', (_, motion, radiusMm) => {
    const from = { ...source, offsetMm: 0 };
    const film = (halves: readonly number[]) =>
      meanArrival(from, motion, radiusMm, flatSeat(0), undefined, [sheet(halves)]);
    const slopes = new Float64Array(HALVES.length);
    addShadowSlopes(sheet(HALVES), influence, from, motion, radiusMm, slopes);
    HALVES.forEach((_half, index) => {
      const moved = (by: number) => HALVES.map((half, at) => (at === index ? half + by : half));
      const difference = (film(moved(1e-3)) - film(moved(-1e-3))) / 2e-3;
      expect(Math.abs(slopes[index]! - difference)).toBeLessThan(1e-6 * Math.max(...slopes.map(Math.abs)));
    });
  });

  it('is nothing where no edge of the shadow falls on the rack’s way', () => {
    const slopes = new Float64Array(HALVES.length);
    const rack = { kind: 'rotating', heightMm: 900 } as const;
    // Rays to a place 700 mm out cross the sheet's level beyond its outer end, those to the axis within its inner one.
    addShadowSlopes(sheet(HALVES), influence, source, rack, 800, slopes);
    addShadowSlopes(sheet(HALVES), influence, { ...source, offsetMm: 0 }, rack, 40, slopes);
    // A sheet that hangs above the rack, or as high.
    addShadowSlopes(sheet(HALVES), influence, source, { ...rack, heightMm: 500 }, 240, slopes);
    addShadowSlopes(sheet(HALVES), influence, source, { ...rack, heightMm: 600 }, 240, slopes);
    addShadowSlopes(sheet(HALVES), influence, { ...source, heightMm: 600 }, rack, 240, slopes);
    expect([...slopes]).toEqual([0, 0, 0, 0]);
  });
});
