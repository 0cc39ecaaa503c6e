import { RAD_PER_DEG } from '../base/constants.ts';
import { InputError, requireWithin } from '../base/errors.ts';
import { naturalSpline } from '../math/natural-spline.ts';
import type { Element } from './element.ts';
import type { VapourSource } from './vapour-source.ts';

/**
 * A flat sheet at rest between sources and load, level, that takes part of the vapour: at each distance from the
 * chamber's axis it spans the same angle to both sides of its middle, a smooth curve through the outline's points, which
 * nowhere goes below nothing or beyond 1.28 times its widest point.
 */
export interface Shield {
  /** Above the level from which heights count. */
  readonly heightMm: number;
  /** Direction of its middle line from the chamber's axis. */
  readonly azimuthDeg: number;
  /** Radii rising, at least two. */
  readonly outline: readonly ShieldPoint[];
}

export interface ShieldPoint {
  readonly radiusMm: number;
  /** Half of the angle that the sheet spans there, seen from the chamber's axis. */
  readonly halfAngleDeg: number;
}

/** A shield as the kernels read it, angles in rad. */
export interface ShieldShape {
  readonly height: number;
  readonly middle: number;
  readonly inner: number;
  readonly outer: number;
  /** Every half angle is smaller, unless all are 0. */
  readonly widest: number;
  readonly halfAngleAt: (radius: number) => number;
}

/** Most that a sheet may span to one side of its middle. */
export const WIDEST_HALF_ANGLE_DEG = 120;

/**
 * Through points at even distances a spline swings up to 0.275 of the widest beyond it; through others it would without any
 * bound. What is searched for the sides goes a little further than they can lie.
 */
const MOST_SWING = 1.28;
const WIDEST = 1.3;

/** @throws InputError for a value outside its range. */
export function requireShield(shield: Shield, path = 'shield'): void {
  requireWithin(`${path}.heightMm`, shield.heightMm, 'mm', { min: -10_000, max: 10_000 });
  requireWithin(`${path}.azimuthDeg`, shield.azimuthDeg, '°', { min: -360, max: 360 });
  const { outline } = shield;
  if (outline.length < 2)
    throw new InputError(`${path}.outline`, `has ${outline.length} points; it needs at least 2`);
  outline.forEach(({ radiusMm, halfAngleDeg }, index) => {
    const before = outline[index - 1]?.radiusMm;
    const at = `${path}.outline[${index}]`;
    requireWithin(`${at}.radiusMm`, radiusMm, 'mm', {
      min: 0,
      max: 10_000,
      ...(before === undefined ? {} : { above: before }),
    });
    requireWithin(`${at}.halfAngleDeg`, halfAngleDeg, '°', { min: 0, max: WIDEST_HALF_ANGLE_DEG });
  });
}

/** The shield for the kernels; nothing is checked. */
export function shieldShape({ heightMm, azimuthDeg, outline }: Shield): ShieldShape {
  const radii = Float64Array.from(outline, ({ radiusMm }) => radiusMm);
  const half = Float64Array.from(outline, ({ halfAngleDeg }) => halfAngleDeg * RAD_PER_DEG);
  const curve = naturalSpline(radii, half);
  const most = Math.max(...half);
  return {
    height: heightMm,
    middle: azimuthDeg * RAD_PER_DEG,
    inner: radii[0]!,
    outer: radii.at(-1)!,
    widest: WIDEST * most,
    halfAngleAt: (radius) => Math.min(MOST_SWING * most, Math.max(0, curve(radius))),
  };
}

/**
 * How deep in the shield's shadow an element lies, the source turned by `azimuth` (rad) about the chamber's axis and
 * the shield with it: positive where the ray meets the sheet, zero at the shadow's edge, continuous. Where the shield
 * is not between both, −1.
 */
export function shadeAt(shape: ShieldShape, source: VapourSource, element: Element, azimuth: number): number {
  const sourceZ = source.heightMm ?? 0;
  const part = (shape.height - sourceZ) / (element.z - sourceZ);
  if (!(part > 0 && part < 1)) return -1;
  const sourceX = source.offsetMm * Math.cos(azimuth);
  const sourceY = source.offsetMm * Math.sin(azimuth);
  const x = sourceX + part * (element.x - sourceX);
  const y = sourceY + part * (element.y - sourceY);
  const radius = Math.sqrt(x * x + y * y);
  const turn = Math.atan2(y, x) - azimuth - shape.middle + (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  const aside = Math.abs(turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI)));
  const ends = Math.min(radius - shape.inner, shape.outer - radius) / shape.outer;
  return Math.min(ends, shape.halfAngleAt(radius) - aside);
}

/** Whether any of the shields stands between the source and an element at rest. */
export function isShaded(shapes: readonly ShieldShape[], source: VapourSource, element: Element): boolean {
  const azimuth = (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  return shapes.some((shape) => shadeAt(shape, source, element, azimuth) > 0);
}
