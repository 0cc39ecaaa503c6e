import * as v from 'valibot';
import { choice, list, quantity, shown } from '../base/schema.ts';
import { WIDEST_HALF_ANGLE_DEG } from '../chamber/shield.ts';

export const length = (note: string) => quantity('mm', { min: 0, max: 10_000 }, note);
const height = quantity('mm', { min: 1, max: 10_000 }, 'height of the rack above the source');

const kinds = {
  fixed: v.strictObject({ kind: v.literal('fixed'), heightMm: height }),
  rotating: v.strictObject({ kind: v.literal('rotating'), heightMm: height }),
  dome: v.strictObject({
    kind: v.literal('dome'),
    radiusMm: quantity('mm', { above: 0, max: 10_000 }, 'radius of the sphere, coated inside'),
    centreHeightMm: quantity('mm', { min: -10_000, max: 10_000 }, 'height of its centre above the source'),
  }),
  planetary: v.strictObject({
    kind: v.literal('planetary'),
    carrierRadiusMm: length("distance of the planets' centres from the chamber's axis"),
    heightMm: quantity('mm', { min: 1, max: 10_000 }, "height of the planets' centres above the source"),
    tiltDeg: quantity(
      '°',
      { min: -90, max: 90 },
      "positive turns the coated face towards the carrier's axis",
    ),
    gearRatio: v.exactOptional(
      quantity(
        '',
        { min: -1000, max: 1000 },
        'planet turns per carrier turn, seen from the carrier; left out: incommensurate',
      ),
    ),
    carrierTurns: v.exactOptional(
      quantity('', { above: 0, max: 20_000 }, 'left out: until the path closes on itself'),
    ),
    startDeg: v.exactOptional(
      quantity('°', { min: -3600, max: 3600 }, 'angle of the points in the planet at the start, default 0'),
    ),
  }),
};
type Kind = (typeof kinds)[keyof typeof kinds];

const noKind = v.never((issue) => {
  const words = Object.keys(kinds).map((kind) => `"${kind}"`);
  if (typeof issue.input !== 'object' || issue.input === null)
    return `${shown(issue.input)} is not an object`;
  return `its kind ${shown((issue.input as { kind?: unknown }).kind)} is not one of ${words.join(', ')}`;
});

export const motion = choice<Kind | typeof noKind>(
  Object.values(kinds),
  (input) => {
    if (typeof input !== 'object' || input === null) return noKind;
    const { kind } = input as { kind?: unknown };
    return typeof kind === 'string' && Object.hasOwn(kinds, kind)
      ? kinds[kind as keyof typeof kinds]
      : noKind;
  },
  'how the rack moves',
);

export const shield = v.strictObject({
  heightMm: quantity('mm', { min: -10_000, max: 10_000 }, "of the level sheet above the source's level"),
  azimuthDeg: quantity('°', { min: -360, max: 360 }, 'direction of its middle line'),
  outline: list(
    v.strictObject({
      radiusMm: length("distance from the chamber's axis, rising"),
      halfAngleDeg: quantity('°', { min: 0, max: WIDEST_HALF_ANGLE_DEG }, 'half of the angle that it spans'),
    }),
    { min: 2, max: 60 },
  ),
});
