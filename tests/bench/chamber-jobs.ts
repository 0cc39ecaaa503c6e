import { depositOn } from '../../src/chamber/deposit.ts';
import type { Motion } from '../../src/chamber/motion.ts';
import { nestCircles } from '../../src/chamber/nest.ts';
import { measure, type Timing } from './measure.ts';

const planetary = { kind: 'planetary', carrierRadiusMm: 320, heightMm: 700, tiltDeg: 18 } as const;

const motions: readonly (readonly [string, Motion])[] = [
  ['rotating', { kind: 'rotating', heightMm: 500 }],
  ['dome', { kind: 'dome', radiusMm: 800, centreHeightMm: -50 }],
  ['planetary', planetary],
  ['planetary, 300 turns at 2.37', { ...planetary, gearRatio: 2.37, carrierTurns: 300 }],
];

/** The film over a rack of 61 places: ns a rack. */
export function rackTimes(): { name: string; timing: Timing }[] {
  const points = Array.from({ length: 61 }, (_, place) => 2.4 * place);
  return motions.map(([name, motion]) => ({
    name,
    timing: measure(1, () => {
      const { relative } = depositOn({ source: { offsetMm: 250, exponent: 2 }, motion, points });
      return relative[60]!;
    }),
  }));
}

/** The same rack behind a shield: ns a rack. */
export function shieldTimes(): { name: string; timing: Timing }[] {
  const outline = Array.from({ length: 14 }, (_, index) => ({
    radiusMm: 100 + 30 * index,
    halfAngleDeg: 10 + 8 * Math.sin(index / 4),
  }));
  const points = Array.from({ length: 61 }, (_, place) => 2.4 * place);
  return motions.slice(0, 3).map(([name, motion]) => ({
    name: `${name}, behind a shield`,
    timing: measure(1, () => {
      const shields = [{ heightMm: motion.kind === 'rotating' ? 460 : 600, azimuthDeg: 0, outline }];
      const { relative } = depositOn({ source: { offsetMm: 250, exponent: 2 }, motion, points, shields });
      return relative[60]!;
    }),
  }));
}

/** Round parts of three sizes on one rack: ns a rack. */
export function nestingTimes(): { name: string; timing: Timing }[] {
  return [50, 34, 25].map((partDiameterMm) => {
    const request = { rackDiameterMm: 300, rimMm: 6, partDiameterMm, webMm: 2, pattern: 'best' } as const;
    const { count } = nestCircles(request);
    return { name: `${count} parts nested`, timing: measure(1, () => nestCircles(request).count, 40, 5) };
  });
}
