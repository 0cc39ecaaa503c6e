import { fixed } from '../base/format.ts';
import type { Fixture, MotionKind } from './document.ts';
import { motionKindOf } from './plan/load-motion.ts';

/** How a load moves, as drop-down and traveller call it. */
export const MOTION_WORDS: Readonly<Record<MotionKind, string>> = {
  planetary: 'planets on a carrier',
  rotating: 'one rack that turns on the axis',
  fixed: 'one rack at rest on the axis',
  dome: 'a dome that turns on the axis',
};

/** The motion with its figures, for paper: "planets on a carrier, 285 mm from the axis, tilt 18°, ...". */
export function motionText(fixture: Fixture): string {
  const kind = motionKindOf(fixture);
  const { carrierRadiusMm, heightMm, tiltDeg, gearRatio, carrierTurnsPerMin } = fixture;
  const turns = `${carrierTurnsPerMin} turns a minute`;
  switch (kind) {
    case 'planetary':
      return `${MOTION_WORDS[kind]}, ${carrierRadiusMm} mm from the axis, ${heightMm} mm above the sources, tilt ${tiltDeg}°, ${turns}${gearRatio === undefined ? '' : `, ${fixed(gearRatio, 3)} turns of a rack for one of the carrier`}`;
    case 'rotating':
      return `${MOTION_WORDS[kind]}, ${heightMm} mm above the sources, ${turns}`;
    case 'fixed':
      return `${MOTION_WORDS[kind]}, ${heightMm} mm above the sources`;
    case 'dome':
      return `${MOTION_WORDS[kind]}, sphere of ${fixture.domeRadiusMm ?? heightMm} mm radius, its top ${heightMm} mm above the sources, ${turns}`;
  }
}
