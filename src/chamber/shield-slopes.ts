import { RAD_PER_DEG } from '../base/constants.ts';
import { type Element, flatSeat, hung, turned } from './element.ts';
import type { Motion } from './motion.ts';
import type { ShieldShape } from './shield.ts';
import { arrivalAt, type VapourSource } from './vapour-source.ts';

/** Angles of a planet over which the slopes are averaged. */
const ANGLES = 48;
/** Rounds in which the shadow's edge settles (each brings it nearer by the part of the way that lies above the sheet). */
const ROUNDS = 6;

/**
 * How the film at `radiusMm` of the rack changes with the shield's half angles: the mean over the motion of what
 * arrives along both edges of the shadow, times how much each point of the outline moves the edge there. The edge is taken to
 * turn by as much as the half angle grows: it turns by up to some tens of per cent more or less where the source stands far
 * out, which the steps of a search bear (a geared planet is taken as a free one).
 * @param influence how much the half angle at a radius rises with that of each point. @param slopes of the film, per
 * rad of each point, added to.
 */
export function addShadowSlopes(
  shape: ShieldShape,
  influence: readonly ((radius: number) => number)[],
  source: VapourSource,
  motion: Motion,
  radiusMm: number,
  slopes: Float64Array,
): void {
  const ways = waysOf(motion, radiusMm);
  const middle = shape.middle - (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  for (const element of ways) {
    const facing = Math.atan2(element.y, element.x);
    for (const side of [-1, 1]) {
      const edge = shadowEdge(shape, source, element, middle, side);
      if (edge === undefined) continue;
      const along = arrivalAt(source, element, facing - edge.turn) / (2 * Math.PI * ways.length);
      influence.forEach((of, index) => {
        slopes[index]! -= along * of(edge.radius);
      });
    }
  }
}

/** The element at its places seen from the carrier: one on an axis, many on a planet. */
function waysOf(motion: Motion, radiusMm: number): Element[] {
  if (motion.kind === 'dome') {
    const tilt = Math.asin(Math.min(1, radiusMm / motion.radiusMm));
    const height = motion.centreHeightMm + motion.radiusMm * Math.cos(tilt);
    return [hung(flatSeat(0), { radius: radiusMm, height, tilt })];
  }
  if (motion.kind !== 'planetary')
    return [hung(flatSeat(radiusMm), { radius: 0, height: motion.heightMm, tilt: 0 })];
  const hanging = {
    radius: motion.carrierRadiusMm,
    height: motion.heightMm,
    tilt: motion.tiltDeg * RAD_PER_DEG,
  };
  return Array.from({ length: ANGLES }, (_, step) =>
    hung(turned(flatSeat(radiusMm), (2 * Math.PI * (step + 0.5)) / ANGLES), hanging),
  );
}

/** The turn of the element against the source at which its ray grazes one edge of the sheet, and how far out. */
function shadowEdge(
  shape: ShieldShape,
  source: VapourSource,
  element: Element,
  middle: number,
  side: number,
): { turn: number; radius: number } | undefined {
  const sourceZ = source.heightMm ?? 0;
  const part = (shape.height - sourceZ) / (element.z - sourceZ);
  if (!(part > 0 && part < 1)) return undefined;
  const away = part * Math.hypot(element.x, element.y);
  const lead = (1 - part) * source.offsetMm;
  let turn = middle + side * shape.widest * 0.5;
  let radius = away;
  for (let round = 0; round < ROUNDS; round++) {
    const x = lead + away * Math.cos(turn);
    const y = away * Math.sin(turn);
    radius = Math.sqrt(x * x + y * y);
    const wanted = middle + side * shape.halfAngleAt(radius);
    // Whole turns that come in here change nothing.
    turn += wanted - Math.atan2(y, x);
  }
  return radius < shape.inner || radius > shape.outer ? undefined : { turn, radius };
}
