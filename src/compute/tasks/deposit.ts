import * as v from 'valibot';
import { choice, list, quantity, shown, yesOrNo } from '../../base/schema.ts';
import { depositOn } from '../../chamber/deposit.ts';
import { defineTask } from '../task.ts';

const length = (note: string) => quantity('mm', { min: 0, max: 10_000 }, note);
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

const motion = choice<Kind | typeof noKind>(
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

export default defineTask({
  name: 'deposit',
  summary: 'How the vapour spreads over a moving rack and over a curved lens on it.',
  request: v.strictObject({
    source: v.strictObject({
      offsetMm: length("distance of the source from the chamber's axis; it lies at height 0 and looks up"),
      exponent: quantity('', { min: 0, max: 50 }, 'n of the cos^n emission law; 1 is a small flat source'),
    }),
    motion,
    points: list(length("distance from the rack's own axis"), { min: 1, max: 10_000 }),
    lens: v.exactOptional(
      v.strictObject({
        seatRadiusMm: length("distance of the lens's vertex from the rack's own axis"),
        radiusOfCurvatureMm: quantity('mm', { above: 0, max: 1e7 }),
        convex: yesOrNo(),
        points: list(length("distance from the lens's axis, outward along the rack's radius"), {
          min: 1,
          max: 10_000,
        }),
        diameterMm: v.exactOptional(
          length('of the curved face; left out: it ends at the outermost of the points'),
        ),
        rim: v.exactOptional(
          v.strictObject({
            openingMm: quantity('mm', { above: 0, max: 10_000 }, "free opening of the holder's lip"),
            heightMm: quantity(
              'mm',
              { min: 0, max: 1000 },
              "how far the lip stands out from the lens's vertex",
            ),
          }),
        ),
      }),
    ),
  }),
  example: {
    source: { offsetMm: 250, exponent: 2 },
    motion: { kind: 'planetary', carrierRadiusMm: 320, heightMm: 700, tiltDeg: 15 },
    points: [0, 50, 100, 150],
    lens: { seatRadiusMm: 100, radiusOfCurvatureMm: 60, convex: true, points: [0, 8, 16] },
  },
  run(request) {
    return { ...depositOn(request), warnings: [] };
  },
});
