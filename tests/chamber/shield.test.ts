import { describe, expect, it } from 'vitest';
import { depositOn } from '../../src/chamber/deposit.ts';
import { arrivalOnRotatingPlane } from '../../src/chamber/emission.ts';
import { evenOut } from '../../src/chamber/even-out.ts';
import type { Motion } from '../../src/chamber/motion.ts';
import type { Shield } from '../../src/chamber/shield.ts';
import { shieldCsv, shieldOutline, shieldSvg } from '../../src/chamber/shield-drawing.ts';
import { bruteForce } from './brute-force-deposit.ts';

const source = { offsetMm: 260, exponent: 2 };
const planetary = { kind: 'planetary', carrierRadiusMm: 285, heightMm: 900, tiltDeg: 18 } as const;

/** A sheet of one angle all along, so that its shape needs no interpolation. */
const sector: Shield = {
  heightMm: 780,
  azimuthDeg: 20,
  outline: [
    { radiusMm: 20, halfAngleDeg: 15 },
    { radiusMm: 600, halfAngleDeg: 15 },
  ],
};

describe('the shadow of a shield', () => {
  it.each<readonly [string, Motion]>([
    ['a turning rack', { kind: 'rotating', heightMm: 900 }],
    ['free planets', planetary],
    ['geared planets', { ...planetary, gearRatio: 2.5, startDeg: 30 }],
  ])('on %s is what a plain sum over the motion leaves out', (_, motion) => {
    const points = [20, 80, 150];
    const shaded = depositOn({ source, motion, points, shields: [sector] });
    const steps = motion.kind === 'planetary' && motion.gearRatio === undefined ? 500 : 4000;
    const plain = bruteForce(
      { source, motion: 'gearRatio' in motion ? { ...motion, carrierTurns: 2 } : motion, points },
      steps,
      sector,
    );
    shaded.perMassPerMm2.forEach((value, index) => {
      expect(value / plain.points[index]!).toBeCloseTo(1, 3);
    });
    const bare = depositOn({ source, motion, points });
    shaded.perMassPerMm2.forEach((value, index) => {
      expect(value).toBeLessThan(0.99 * bare.perMassPerMm2[index]!);
    });
  });

  it('over a centred source takes its own share of the turn, by the closed form of the plane (Holland & Steckelmacher 1952)', () => {
    const centred = { offsetMm: 0, exponent: 1 };
    const { perMassPerMm2 } = depositOn({
      source: centred,
      motion: { kind: 'rotating', heightMm: 900 },
      points: [100, 200, 300],
      shields: [sector],
    });
    [100, 200, 300].forEach((radius, index) => {
      const share = 1 - 30 / 360;
      expect(perMassPerMm2[index]! / (share * arrivalOnRotatingPlane(1, 900, 0, radius))).toBeCloseTo(1, 9);
    });
  });

  it('of a sheet whose ends the places pass is the level plane’s film over just that part of their way (Holland & Steckelmacher 1952)', () => {
    // Over a centred source every ray crosses the sheet at a fixed part of the place's own radius, and the sheet takes 30 of
    // 360 degrees of its turn; so only the part of the planet's turn between the sheet's ends counts.
    const [h, a, level] = [900, 285, 780];
    const [inner, outer] = [180, 270];
    const level0 = { ...planetary, heightMm: h, tiltDeg: 0 };
    const at = { source: { offsetMm: 0, exponent: 2 }, motion: level0, points: [60, 120, 165] };
    const outline = [inner, outer].map((radiusMm) => ({ radiusMm, halfAngleDeg: 15 }));
    const shaded = depositOn({ ...at, shields: [{ heightMm: level, azimuthDeg: 20, outline }] });
    const bare = depositOn(at);
    const part = level / h;
    /** The planet's angle at which its place lies so far from the chamber's axis, as a cosine kept within ±1. */
    const cosineOf = (radius: number, r: number) =>
      Math.max(-1, Math.min(1, (radius ** 2 - a ** 2 - r ** 2) / (2 * a * r)));
    at.points.forEach((r, index) => {
      const [from, to] = [Math.acos(cosineOf(outer / part, r)), Math.acos(cosineOf(inner / part, r))];
      const steps = 4000;
      let sum = 0;
      for (let step = 0; step < steps; step++) {
        const angle = from + ((to - from) * (step + 0.5)) / steps;
        const squared = a ** 2 + r ** 2 + 2 * a * r * Math.cos(angle) + h ** 2;
        sum += (3 * h ** 3) / (2 * Math.PI) / squared ** 2.5;
      }
      const expected = ((sum / steps) * 2 * (to - from) * (30 / 360)) / (2 * Math.PI);
      const taken = bare.perMassPerMm2[index]! - shaded.perMassPerMm2[index]!;
      expect(to - from).toBeGreaterThan(0.1);
      expect(Math.abs(taken - expected) / bare.perMassPerMm2[index]!).toBeLessThan(1e-7);
    });
  });

  it('of a sheet whose ends cut it askew is what a fine sum over both turns leaves out', () => {
    // A level planet and an offset source: the ray's crossing swings around its mean radius, and the ends cut it.
    const [h, a, level, r] = [900, 285, 780, 130];
    const [inner, outer, half] = [190, 300, 15];
    const motion = { ...planetary, heightMm: h, tiltDeg: 0 };
    const outline = [inner, outer].map((radiusMm) => ({ radiusMm, halfAngleDeg: half }));
    const shield = { heightMm: level, azimuthDeg: 20, outline };
    const shaded = depositOn({ source, motion, points: [r], shields: [shield] }).perMassPerMm2[0]!;
    const bare = depositOn({ source, motion, points: [r] }).perMassPerMm2[0]!;
    const steps = 1200;
    const part = level / h;
    let sum = 0;
    for (let i = 0; i < steps; i++) {
      const planet = (2 * Math.PI * (i + 0.5)) / steps;
      const [outX, outY] = [a + r * Math.cos(planet), r * Math.sin(planet)];
      const radius = Math.hypot(outX, outY);
      for (let j = 0; j < steps; j++) {
        // The place's azimuth against the source, turned by an irrational part of a step from row to row.
        const turn = (2 * Math.PI * (j + ((i * 0.618034) % 1))) / steps;
        const [x, y] = [radius * Math.cos(turn), radius * Math.sin(turn)];
        const [atX, atY] = [260 + part * (x - 260), part * y];
        const crossing = atX * atX + atY * atY;
        if (crossing < inner ** 2 || crossing > outer ** 2) continue;
        if (Math.abs(Math.atan2(atY, atX) - (20 * Math.PI) / 180) > (half * Math.PI) / 180) continue;
        sum += (3 * h ** 3) / (2 * Math.PI) / ((x - 260) ** 2 + y ** 2 + h ** 2) ** 2.5;
      }
    }
    expect(Math.abs(bare - shaded - sum / steps ** 2) / bare).toBeLessThan(1e-5);
    expect((bare - shaded) / bare).toBeGreaterThan(0.02);
  });

  it('of a narrow sheet is not missed, and sheets side by side take as much as the whole one', () => {
    const piece = (azimuthDeg: number, halfAngleDeg: number): Shield => ({
      heightMm: 780,
      azimuthDeg,
      outline: [200, 330].map((radiusMm) => ({ radiusMm, halfAngleDeg })),
    });
    const request = { source, motion: planetary, points: [10, 90, 150] };
    const bare = depositOn(request).perMassPerMm2;
    const taken = (shields: Shield[]) =>
      depositOn({ ...request, shields }).perMassPerMm2.map((value, index) => bare[index]! - value);
    const whole = taken([piece(20, 1)]);
    const halves = taken([piece(19.5, 0.5), piece(20.5, 0.5)]);
    whole.forEach((value, index) => {
      expect(value / bare[index]!).toBeGreaterThan(1e-3);
      expect(Math.abs(halves[index]! - value) / bare[index]!).toBeLessThan(1e-8);
    });
  });

  it('of two sheets that overlap counts once', () => {
    const motion = { kind: 'rotating', heightMm: 900 } as const;
    const request = { source, motion, points: [150] };
    const once = depositOn({ ...request, shields: [sector] }).perMassPerMm2[0]!;
    const twice = depositOn({ ...request, shields: [sector, { ...sector, heightMm: 780 }] });
    expect(twice.perMassPerMm2[0]! / once).toBeCloseTo(1, 9);
  });

  it('spares a rack below which it does not hang', () => {
    expect(() =>
      depositOn({ source, motion: planetary, points: [170], shields: [{ ...sector, heightMm: 870 }] }),
    ).toThrow('shields[0].heightMm: 870 mm is not below 847.467 mm');
  });
});

describe('a shield that evens the film', () => {
  it.each<readonly [string, Motion, number, number, number, number]>([
    ['planets that lean', planetary, 0, 172, 800, 0.01],
    ['level planets', { ...planetary, heightMm: 600, tiltDeg: 0 }, 0, 172, 560, 0.02],
    ['a turning rack', { kind: 'rotating', heightMm: 700 }, 80, 320, 660, 0.02],
    ['a dome', { kind: 'dome', radiusMm: 600, centreHeightMm: 0 }, 80, 320, 480, 0.1],
  ])(
    'under %s leaves next to nothing of a deviation of per cents',
    (_, motion, fromMm, toMm, heightMm, left) => {
      const { shield, films } = evenOut({ sources: [source], motion, fromMm, toMm, heightMm });
      expect(films[0]!.bareDeviationPercent).toBeGreaterThan(3);
      expect(films[0]!.deviationPercent).toBeLessThan(left);
      // Between the radii at which it was sought, too.
      const points = Array.from({ length: 38 }, (_unused, index) => fromMm + ((toMm - fromMm) * index) / 37);
      const { perMassPerMm2 } = depositOn({ source, motion, points, shields: [shield] });
      const mean = perMassPerMm2.reduce((sum, value) => sum + value, 0) / points.length;
      for (const value of perMassPerMm2) expect(Math.abs(100 * (value / mean - 1))).toBeLessThan(3 * left);
    },
  );

  it('for two sources at once is a compromise that says what it leaves', () => {
    const sources = [source, { offsetMm: 180, azimuthDeg: 60, exponent: 1 }];
    const { films } = evenOut({
      sources,
      motion: { kind: 'rotating', heightMm: 900 },
      fromMm: 60,
      toMm: 320,
      heightMm: 800,
      azimuthDeg: 30,
    });
    for (const { bareDeviationPercent, deviationPercent, takenPercent } of films) {
      expect(deviationPercent).toBeLessThan(0.5 * bareDeviationPercent);
      expect(takenPercent).toBeGreaterThan(1);
    }
  });

  it('is refused under a rack at rest and where the rack would hit it', () => {
    const request = { sources: [source], fromMm: 0, toMm: 150, heightMm: 860 };
    expect(() => evenOut({ ...request, motion: { kind: 'fixed', heightMm: 900 } })).toThrow(
      'leaves the rack at rest',
    );
    expect(() => evenOut({ ...request, motion: planetary })).toThrow('heightMm: 860 mm is not below 853.6');
  });
});

describe('the drawing of a shield', () => {
  it('goes once around, as text and as a picture to scale', () => {
    const around = shieldOutline(sector);
    expect(shieldCsv(sector).trimEnd().split('\r\n')).toHaveLength(around.length + 1);
    for (const { xMm, yMm } of around)
      expect(Math.abs((Math.atan2(yMm, xMm) * 180) / Math.PI - 20)).toBeCloseTo(15, 9);
    const svg = shieldSvg(sector, 'Sheet <1>');
    expect(svg).toMatch(/^<svg [^>]*width="[\d.]+mm"/);
    expect(svg).toContain('Sheet &lt;1&gt;');
    // From the axis to 600 mm at ±15°, 155.291 mm to either side, with 12 mm of margin and two lines of 10 mm beneath.
    const lines = svg.split('\n');
    expect(lines[0]).toBe(
      '<svg xmlns="http://www.w3.org/2000/svg" width="603.555mm" height="354.583mm" viewBox="-12 -167.291 603.555 354.583" role="img">',
    );
    expect(lines[2]).toMatch(/^<style>path\{fill:none;stroke:#000;stroke-width:.25\}.*<\/style>$/);
    expect(lines[3]).toMatch(/^<path d="M19\.319 -5\.176L.*L19\.319 5\.176Z"\/>$/);
    expect(lines.slice(4)).toEqual([
      '<path class="middle" d="M0 0H579.555"/><path d="M-5 0H5M0-5V5"/>',
      '<path d="M0 167.291v-2v4v-2h50v-2v4"/>',
      '<text x="0" y="174.291">50 mm · Sheet &lt;1&gt;</text>',
      '<text x="0" y="180.291">hangs level at 780 mm; cross: the machine\'s axis; dashed: the middle line, at 20°</text>',
      '</svg>',
    ]);
    const rows = shieldCsv(sector).split('\r\n');
    expect(rows.slice(0, 2)).toEqual(['point,x_mm,y_mm,height_mm', '1,16.383,11.472,780']);
  });
});
