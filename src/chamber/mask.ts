import { RAD_PER_DEG } from '../base/constants.ts';
import { InputError, requireWithin } from '../base/errors.ts';
import { integrate } from '../math/integrate.ts';
import { meanArrival } from './deposit.ts';
import { flatSeat, hung } from './element.ts';
import { type DomeMotion, type RotatingMotion, requireMotion } from './motion.ts';
import { arrivalAt, requireSource, type VapourSource } from './vapour-source.ts';

export interface MaskRequest {
  readonly source: VapourSource;
  readonly motion: RotatingMotion | DomeMotion;
  /** Distances from the axis between which the film is evened, mm. */
  readonly fromMm: number;
  readonly toMm: number;
  /** How far below the surface the shield hangs, default 20 mm. */
  readonly gapMm?: number;
  /** Direction of the shield's middle from the axis, default opposite to the source. */
  readonly azimuthDeg?: number;
  /** Points along each edge, default 60. */
  readonly points?: number;
}

export interface MaskPoint {
  readonly radiusMm: number;
  /** Half of the angle that the shield hides at this distance from the axis. */
  readonly halfAngleDeg: number;
  /** The part of the film that the shield takes there. */
  readonly takenPart: number;
  /** Edge of the shield on either side, mm from the axis, at its own height. */
  readonly left: { readonly xMm: number; readonly yMm: number; readonly zMm: number };
  readonly right: { readonly xMm: number; readonly yMm: number; readonly zMm: number };
}

export interface Mask {
  readonly outline: readonly MaskPoint[];
  /** Fraction of the mass per mm² that all of the zone gets behind the shield. */
  readonly perMassPerMm2: number;
  /** Largest deviation from the mean without the shield, percent. */
  readonly bareDeviationPercent: number;
}

const AXIS_MM = 1e-6;
const HALVINGS = 60;

/**
 * A static shield under a turning rack or dome that evens the film between two radii: at each radius it hides just
 * the angle whose vapour is too much, so that everywhere as much arrives as at the thinnest place. The angle is where
 * the integral of the arrival over the hidden azimuths reaches the surplus; the shield's edge lies where the rays
 * from the source to the ends of that angle cross the shield's height, so the shadow of a small source is exact.
 * @throws InputError for a value outside its range and where the axis itself would have to be thinned.
 */
export function evenOutMask(request: MaskRequest): Mask {
  const { source, motion, fromMm, toMm, gapMm = 20, points = 60 } = request;
  requireSource(source);
  requireMotion(motion);
  const farthest = motion.kind === 'dome' ? motion.radiusMm : 10_000;
  requireWithin('fromMm', fromMm, 'mm', { min: 0, below: toMm });
  requireWithin('toMm', toMm, 'mm', { above: 0, max: farthest });
  requireWithin('points', points, '', { min: 2, max: 2000 });
  requireWithin('gapMm', gapMm, 'mm', { min: 0, max: 1000 });
  const sourceDeg = source.azimuthDeg ?? 0;
  const middle = (request.azimuthDeg ?? sourceDeg + 180) * RAD_PER_DEG;
  const radii = Array.from(
    { length: points },
    (_, index) => fromMm + ((toMm - fromMm) * index) / (points - 1),
  );
  const bare = radii.map((radius) => meanArrival(source, motion, radius, flatSeat(0)));
  const least = Math.min(...bare);
  const mean = bare.reduce((sum, value) => sum + value, 0) / bare.length;
  if (least <= 0) throw new InputError('toMm', 'part of the zone gets nothing, so it cannot be evened');
  if (radii[0]! < AXIS_MM && bare[0]! > least * (1 + 1e-9))
    throw new InputError(
      'fromMm',
      'the film is thicker on the axis than elsewhere; a shield cannot thin one point of the axis, so begin further out',
    );
  const outline = radii.map((radius, index): MaskPoint => {
    const takenPart = 1 - least / bare[index]!;
    const element = elementAt(motion, radius);
    const half = hiddenHalfAngle(source, element, middle, takenPart * bare[index]!);
    const edge = (azimuth: number) => onShield(source, element, azimuth, gapMm);
    return {
      radiusMm: radius,
      halfAngleDeg: half / RAD_PER_DEG,
      takenPart,
      left: edge(middle + half),
      right: edge(middle - half),
    };
  });
  const bareDeviationPercent = 100 * Math.max(...bare.map((value) => Math.abs(value / mean - 1)));
  return { outline, perMassPerMm2: least, bareDeviationPercent };
}

/** The outline as delimited text, once around: down the left edge, back up the right one. */
export function maskCsv(mask: Mask): string {
  const around = [
    ...mask.outline.map(({ left }) => left),
    ...mask.outline.map(({ right }) => right).reverse(),
  ];
  const lines = around.map(({ xMm, yMm, zMm }) => [xMm, yMm, zMm].map((value) => value.toFixed(3)).join(','));
  return `${['x_mm,y_mm,z_mm', ...lines].join('\r\n').replaceAll('-0.000', '0.000')}\r\n`;
}

/** The outline from above to scale: an SVG whose user unit is 1 mm. */
export function maskSvg(mask: Mask): string {
  const around = [
    ...mask.outline.map(({ left }) => left),
    ...mask.outline.map(({ right }) => right).reverse(),
  ];
  const xs = around.map((point) => point.xMm);
  const ys = around.map((point) => -point.yMm);
  const [x, y] = [Math.min(...xs) - 5, Math.min(...ys) - 5];
  const [width, height] = [Math.max(...xs) + 5 - x, Math.max(...ys) + 5 - y];
  const size = [x, y, width, height].map((value) => value.toFixed(3));
  const path = around.map((point) => `${point.xMm.toFixed(3)} ${(-point.yMm).toFixed(3)}`).join('L');
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${size[2]}mm" height="${size[3]}mm" viewBox="${size.join(' ')}" role="img"><title>Shield from above, to scale</title><path d="M${path}Z" fill="none" stroke="#000" stroke-width=".25"/></svg>`;
}

function elementAt(motion: RotatingMotion | DomeMotion, radius: number) {
  if (motion.kind === 'rotating')
    return hung(flatSeat(radius), { radius: 0, height: motion.heightMm, tilt: 0 });
  const tilt = Math.asin(Math.min(1, radius / motion.radiusMm));
  const height = motion.centreHeightMm + motion.radiusMm * Math.cos(tilt);
  return hung(flatSeat(0), { radius, height, tilt });
}

/** Half the angle around `middle` (of the surface's azimuth) in which `surplus` of the mean arrival comes. */
function hiddenHalfAngle(
  source: VapourSource,
  element: ReturnType<typeof elementAt>,
  middle: number,
  surplus: number,
): number {
  if (surplus <= 0) return 0;
  const azimuth = (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  const arrival = (at: number) => arrivalAt(source, element, azimuth - at);
  const taken = (half: number) => integrate(arrival, middle - half, middle + half, 1e-10, 4) / (2 * Math.PI);
  let [low, high] = [0, Math.PI];
  for (let count = 0; count < HALVINGS && high - low > 1e-13; count++) {
    const half = (low + high) / 2;
    if (taken(half) < surplus) low = half;
    else high = half;
  }
  return (low + high) / 2;
}

/** Where the ray to the surface at this azimuth crosses the shield, `gapMm` below the surface. */
function onShield(
  source: VapourSource,
  element: ReturnType<typeof elementAt>,
  azimuth: number,
  gapMm: number,
) {
  const radius = Math.hypot(element.x, element.y);
  const from = (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  const [sx, sy, sz] = [
    source.offsetMm * Math.cos(from),
    source.offsetMm * Math.sin(from),
    source.heightMm ?? 0,
  ];
  const part = 1 - gapMm / (element.z - sz);
  if (part <= 0)
    throw new InputError(
      'gapMm',
      `${gapMm} mm is above ${element.z - sz} mm: the shield would hang below the source`,
    );
  return {
    xMm: sx + part * (radius * Math.cos(azimuth) - sx),
    yMm: sy + part * (radius * Math.sin(azimuth) - sy),
    zMm: sz + part * (element.z - sz),
  };
}
