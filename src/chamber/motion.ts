import { RAD_PER_DEG } from '../base/constants.ts';
import { InputError, requireWithin } from '../base/errors.ts';

/** A flat rack at rest; its points lie on the side on which the source stands. */
export interface FixedMotion {
  readonly kind: 'fixed';
  readonly heightMm: number;
}

/** A flat rack that turns about the chamber's axis. */
export interface RotatingMotion {
  readonly kind: 'rotating';
  readonly heightMm: number;
}

/** A sphere around the chamber's axis, coated inside, that turns about the axis; lenses sit on its upper half. */
export interface DomeMotion {
  readonly kind: 'dome';
  readonly radiusMm: number;
  readonly centreHeightMm: number;
}

/** Racks that turn about their own axes while a carrier takes them around the chamber's axis. */
export interface PlanetaryMotion {
  readonly kind: 'planetary';
  /** Of the planets' centres. */
  readonly carrierRadiusMm: number;
  readonly heightMm: number;
  /** Positive: the coated side leans towards the carrier's axis. */
  readonly tiltDeg: number;
  /**
   * Turns of a planet for each turn of the carrier, seen from the carrier; positive: both turn the same way.
   * Left out: never the same place twice, every pair of angles equally often.
   */
  readonly gearRatio?: number;
  /** How long it runs, in turns of the carrier; left out: until the path closes. */
  readonly carrierTurns?: number;
  /** Angle of the points in their planet at the start, from the outward direction, default 0. */
  readonly startDeg?: number;
}

export type Motion = FixedMotion | RotatingMotion | DomeMotion | PlanetaryMotion;

/** Most turns (of carrier and planet together) that are followed one by one. */
export const MOST_TURNS = 20_000;

/** @throws InputError for a value outside its range. */
export function requireMotion(motion: Motion): void {
  if (motion.kind === 'dome') {
    requireWithin('motion.radiusMm', motion.radiusMm, 'mm', { above: 0, max: 10_000 });
    requireWithin('motion.centreHeightMm', motion.centreHeightMm, 'mm', { min: -10_000, max: 10_000 });
    if (motion.centreHeightMm + motion.radiusMm <= 0)
      throw new InputError(
        'motion.centreHeightMm',
        `${motion.centreHeightMm} mm puts the top of the dome at ${motion.centreHeightMm + motion.radiusMm} mm, not above the source`,
      );
    return;
  }
  requireWithin('motion.heightMm', motion.heightMm, 'mm', { min: 1, max: 10_000 });
  if (motion.kind !== 'planetary') return;
  requireWithin('motion.carrierRadiusMm', motion.carrierRadiusMm, 'mm', { min: 0, max: 10_000 });
  requireWithin('motion.tiltDeg', motion.tiltDeg, '°', { min: -90, max: 90 });
  requireWithin('motion.gearRatio', motion.gearRatio ?? 1, '', { min: -1000, max: 1000 });
  requireWithin('motion.carrierTurns', motion.carrierTurns ?? 1, '', { above: 0, max: MOST_TURNS });
  requireWithin('motion.startDeg', motion.startDeg ?? 0, '°', { min: -3600, max: 3600 });
  if (motion.carrierTurns === undefined) return;
  if (motion.gearRatio === undefined)
    throw new InputError('motion.carrierTurns', 'means nothing without motion.gearRatio');
  const turns = motion.carrierTurns * (1 + Math.abs(motion.gearRatio));
  if (turns > MOST_TURNS)
    throw new InputError(
      'motion.carrierTurns',
      `${motion.carrierTurns} turns with the gear ratio ${motion.gearRatio} make ${turns} turns in all, more than ${MOST_TURNS}`,
    );
}

/** How low a point of the rack comes on its way, at `radiusMm` from the rack's own axis (on a dome: the chamber's). */
export function lowestPointMm(motion: Motion, radiusMm: number): number {
  if (motion.kind === 'dome')
    return motion.centreHeightMm + Math.sqrt(Math.max(0, motion.radiusMm ** 2 - radiusMm ** 2));
  if (motion.kind !== 'planetary') return motion.heightMm;
  return motion.heightMm - radiusMm * Math.abs(Math.sin(motion.tiltDeg * RAD_PER_DEG));
}

/**
 * Turns of the carrier after which a planet stands as at the start: the denominator of the gear ratio as a
 * fraction, by its continued fraction, or `undefined` where there is none up to `most`.
 */
export function closingTurns(gearRatio: number, most = 1000): number | undefined {
  let [before, denominator] = [0, 1];
  let rest = gearRatio - Math.floor(gearRatio);
  for (let step = 0; step < 40; step++) {
    const turns = denominator * gearRatio;
    if (Math.abs(turns - Math.round(turns)) <= 1e-10 * Math.max(1, Math.abs(turns))) return denominator;
    if (rest === 0) return undefined;
    const inverse = 1 / rest;
    const whole = Math.floor(inverse);
    [before, denominator] = [denominator, whole * denominator + before];
    rest = inverse - whole;
    if (denominator > most) return undefined;
  }
  return undefined;
}
