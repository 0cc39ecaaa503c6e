import { describe, expect, it } from 'vitest';
import type { Element } from '../../src/chamber/element.ts';
import { type ShieldShape, shadeAt, shieldShape } from '../../src/chamber/shield.ts';
import { shadowSpans } from '../../src/chamber/shield-spans.ts';
import type { VapourSource } from '../../src/chamber/vapour-source.ts';
import { Random } from '../../src/math/random.ts';

const TURN = 2 * Math.PI;
const RAD = Math.PI / 180;

interface Scene {
  readonly shape: ShieldShape;
  readonly source: VapourSource;
  readonly element: Element;
}

/** A sheet of 2 to 5 outline points, a source and a place above both, thrown at random (invented). */
function thrown(random: Random): Scene {
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  const inner = between(0, 150);
  const step = between(30, 150);
  const outline = Array.from({ length: 2 + random.integer(4) }, (_, index) => ({
    radiusMm: inner + step * index,
    halfAngleDeg: random.uniform() < 0.2 ? 0 : between(0, 110),
  }));
  const source = {
    ...{ offsetMm: between(0, 300), exponent: 1, heightMm: between(-100, 100) },
    azimuthDeg: between(-360, 360),
  };
  const [radius, facing] = [between(60, 450), between(-Math.PI, Math.PI)];
  const [x, y] = [radius * Math.cos(facing), radius * Math.sin(facing)];
  return {
    shape: shieldShape({ heightMm: between(200, 700), azimuthDeg: between(-360, 360), outline }),
    source,
    element: { x, y, z: between(750, 1000), nx: 0, ny: 0, nz: -1 },
  };
}

/** The depth in the shadow when the element is ahead of the source by `turn`. */
function depthAt({ shape, source, element }: Scene, turn: number): number {
  return shadeAt(shape, source, element, Math.atan2(element.y, element.x) - turn);
}

/** Where the ray crosses the sheet's level then: distance from the axis, and azimuth from the sheet's middle within a half turn. */
function crossing({ shape, source, element }: Scene, turn: number): { radius: number; aside: number } {
  const low = source.heightMm ?? 0;
  const part = (shape.height - low) / (element.z - low);
  const out = Math.hypot(element.x, element.y);
  const x = (1 - part) * source.offsetMm + part * out * Math.cos(turn);
  const y = part * out * Math.sin(turn);
  const off = Math.atan2(y, x) - shape.middle + (source.azimuthDeg ?? 0) * RAD;
  return { radius: Math.hypot(x, y), aside: Math.abs(off - TURN * Math.round(off / TURN)) };
}

const random = new Random(11);
/** Ends and sides crossed many times, and a sheet that reaches round to where the turn begins anew. */
const askew: Scene[] = [
  { halves: [60, 0, 60, 0, 60, 0, 60, 0, 60], inner: 60, step: 40, azimuthDeg: 25 },
  ...[150, -150, 510].map((azimuthDeg) => ({ halves: [110, 110], inner: 170, step: 200, azimuthDeg })),
].map(({ halves, inner, step, azimuthDeg }) => ({
  shape: shieldShape({
    ...{ heightMm: 450, azimuthDeg },
    outline: halves.map((halfAngleDeg, index) => ({ radiusMm: inner + step * index, halfAngleDeg })),
  }),
  source: { offsetMm: 100, exponent: 1 },
  element: { x: 400, y: 0, z: 900, nx: 0, ny: 0, nz: -1 },
}));
/** Sheets whose outline starts so steeply that a spline swings far beyond its points. */
const steep: Scene[] = Array.from({ length: 40 }, () => {
  const scene = thrown(random);
  const half = () => 110 * random.uniform();
  const outline = [100, 100 + 5 * random.uniform(), 200 + 100 * random.uniform()].map((radiusMm) => ({
    ...{ radiusMm, halfAngleDeg: half() },
  }));
  return { ...scene, shape: shieldShape({ heightMm: 450, azimuthDeg: 360 * random.uniform(), outline }) };
});
const scenes = [...askew, ...steep, ...Array.from({ length: 150 }, () => thrown(random))];

describe('the spans of a shadow over a turn', () => {
  it('hold just the turns at which the ray meets the sheet, each once', () => {
    let found = 0;
    for (const scene of scenes) {
      const spans = shadowSpans(scene.shape, scene.source, scene.element);
      if (spans === undefined) continue;
      const { turns } = spans;
      expect(turns.length % 2).toBe(0);
      found += turns.length / 2;
      const wrong = Array.from({ length: 360 }, (_, step) => (TURN * step) / 360).filter((turn) => {
        const depth = depthAt(scene, turn);
        if (Math.abs(depth) < 1e-7) return false;
        let held = 0;
        for (let at = 0; at < turns.length; at += 2)
          for (let around = -3; around <= 3; around++) {
            const here = turn + TURN * around;
            if (here > turns[at]! && here < turns[at + 1]!) held++;
          }
        return held !== (depth > 0 ? 1 : 0);
      });
      expect(wrong).toEqual([]);
    }
    expect(found).toBeGreaterThan(60);
  });

  it('begin and end where the ray meets the border that is named', () => {
    const seen = new Set<string>();
    for (const scene of scenes) {
      const spans = shadowSpans(scene.shape, scene.source, scene.element);
      if (spans === undefined) continue;
      const { turns, borders } = spans;
      expect(borders).toHaveLength(turns.length);
      turns.forEach((turn, index) => {
        const { radius, aside } = crossing(scene, turn);
        const border = borders[index]!;
        seen.add(`${border}${index % 2}`);
        if (border === '1') expect(radius).toBeCloseTo(scene.shape.inner, 6);
        else if (border === '2') expect(radius).toBeCloseTo(scene.shape.outer, 6);
        else expect(aside).toBeCloseTo(Math.min(Math.PI, scene.shape.halfAngleAt(radius)), 6);
      });
    }
    expect([...seen].sort()).toEqual(['10', '11', '20', '21', '30', '31']);
  });

  // A source on the axis: the ray crosses half way up at half of the place's radius, at the place's own azimuth.
  const centred: VapourSource = { offsetMm: 0, exponent: 1 };
  const place = (radius: number): Element => ({ x: radius, y: 0, z: 900, nx: 0, ny: 0, nz: -1 });
  const sheet = (halfAngleDeg: number, heightMm = 450, azimuthDeg = 30) =>
    shieldShape({
      ...{ heightMm, azimuthDeg },
      outline: [100, 200].map((radiusMm) => ({ radiusMm, halfAngleDeg })),
    });

  it('are the sheet’s own angle over a centred source', () => {
    const { turns, borders } = shadowSpans(sheet(10), centred, place(300))!;
    expect(turns[0]).toBeCloseTo(20 * RAD, 10);
    expect(turns[1]).toBeCloseTo(40 * RAD, 10);
    expect([turns.length, borders]).toEqual([2, '33']);
  });

  it('are none for a sheet of no width, one that the ray passes by, and one that does not hang between', () => {
    for (const [shape, source, radius] of [
      [sheet(0), centred, 300],
      [sheet(10), centred, 190],
      [sheet(10), centred, 410],
      [sheet(10, 450, 0), { ...centred, offsetMm: 5 }, 185],
      [sheet(10, 450, 180), { ...centred, offsetMm: 5 }, 415],
      [sheet(10, 900), centred, 150],
      [sheet(10, 950), centred, 150],
      [sheet(10), { ...centred, heightMm: 450 }, 300],
      [sheet(10), { ...centred, heightMm: 460 }, 300],
    ] as const)
      expect(shadowSpans(shape, source, place(radius))).toEqual({ turns: [], borders: '' });
  });

  it('of a ray that just keeps to an end of the sheet hold at its outer end and not at its inner one', () => {
    expect(shadowSpans(sheet(10), centred, place(200))!.turns).toEqual([]);
    expect(shadowSpans(sheet(10), centred, place(400))!.turns).toHaveLength(2);
  });

  it('are not told near the axis, where the ray’s crossing does not go round it', () => {
    // Half of 300 towards the source against half of the place's own radius.
    const source = { ...centred, offsetMm: 300 };
    expect(shadowSpans(sheet(10), source, place(299))).toBeUndefined();
    expect(shadowSpans(sheet(10), source, place(300))).toBeUndefined();
    expect(shadowSpans(sheet(10), source, place(301))).toBeDefined();
  });
});
