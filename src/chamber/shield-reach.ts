import { RAD_PER_DEG } from '../base/constants.ts';
import { flatSeat, hung, turned } from './element.ts';
import type { Motion } from './motion.ts';
import type { VapourSource } from './vapour-source.ts';

/** Angles of the planet, radii of the zone and directions near the sheet's middle that are looked at. */
const ANGLES = 24;
const RADII = 3;
const DIRECTIONS = 5;
/** Half of the sector around the sheet's middle in which its edges usually lie. */
const SECTOR_RAD = 60 * RAD_PER_DEG;

/** Between which distances from the chamber's axis rays from the sources to a zone of the rack cross a level sheet. */
export function crossingRadii(
  sources: readonly VapourSource[],
  motion: Motion,
  toMm: number,
  fromMm: number,
  heightMm: number,
  azimuthDeg: number,
): { inner: number; outer: number } {
  let inner = Number.POSITIVE_INFINITY;
  let outer = 0;
  for (let index = 0; index < RADII; index++) {
    const radius = fromMm + ((toMm - fromMm) * index) / (RADII - 1);
    for (const { radiusMm, z } of tracks(motion, radius))
      for (const source of sources) {
        const part = (heightMm - (source.heightMm ?? 0)) / (z - (source.heightMm ?? 0));
        const from = (source.azimuthDeg ?? 0) * RAD_PER_DEG;
        for (let step = 0; step < DIRECTIONS; step++) {
          const at = azimuthDeg * RAD_PER_DEG + SECTOR_RAD * ((2 * step) / (DIRECTIONS - 1) - 1);
          const crossing = Math.hypot(
            (1 - part) * source.offsetMm * Math.cos(from) + part * radiusMm * Math.cos(at),
            (1 - part) * source.offsetMm * Math.sin(from) + part * radiusMm * Math.sin(at),
          );
          inner = Math.min(inner, crossing);
          outer = Math.max(outer, crossing);
        }
      }
  }
  return { inner, outer };
}

/** How far from the chamber's axis and how high a point of the rack comes on its way. */
function tracks(motion: Motion, radius: number): { radiusMm: number; z: number }[] {
  if (motion.kind === 'dome') {
    const z = motion.centreHeightMm + Math.sqrt(motion.radiusMm ** 2 - radius ** 2);
    return [{ radiusMm: radius, z }];
  }
  if (motion.kind !== 'planetary') return [{ radiusMm: radius, z: motion.heightMm }];
  const hanging = {
    radius: motion.carrierRadiusMm,
    height: motion.heightMm,
    tilt: motion.tiltDeg * RAD_PER_DEG,
  };
  return Array.from({ length: ANGLES }, (_, step) => {
    const { x, y, z } = hung(turned(flatSeat(radius), (2 * Math.PI * step) / ANGLES), hanging);
    return { radiusMm: Math.hypot(x, y), z };
  });
}
