import * as v from 'valibot';
import { list, quantity, yesOrNo } from '../../base/schema.ts';
import { depositOn } from '../../chamber/deposit.ts';
import { length, motion, shield } from '../chamber-shapes.ts';
import { defineTask } from '../task.ts';

const source = {
  offsetMm: length("distance of the source from the chamber's axis; it lies at height 0 and looks up"),
  exponent: quantity('', { min: 0, max: 50 }, 'n of the cos^n emission law; 1 is a small flat source'),
};
const azimuth = quantity(
  '°',
  { min: -360, max: 360 },
  'where it stands around the axis from the first, default 0',
);
const direction = (note: string) => quantity('°', { min: -3600, max: 3600 }, note);

export default defineTask({
  name: 'deposit',
  summary: 'How the vapour spreads over a moving rack and over a curved lens on it.',
  request: v.strictObject({
    source: v.strictObject(source),
    alongside: v.exactOptional(
      list(
        v.strictObject({
          source: v.strictObject({ ...source, azimuthDeg: v.exactOptional(azimuth) }),
          share: quantity('', { above: 0, below: 1 }, 'part of the whole evaporated mass that leaves it'),
          shields: v.exactOptional(list(shield, { max: 8 }, 'sheets in its way')),
        }),
        { max: 7 },
        'sources that fire at the same time as the first, which gives the rest of the mass',
      ),
    ),
    motion,
    points: list(length("distance from the rack's own axis"), { min: 1, max: 10_000 }),
    pointsDeg: v.exactOptional(
      list(
        direction("of each point about the rack's axis, at the start"),
        { max: 10_000 },
        'counts where the rack stands still or gears bring it back; left out: 0',
      ),
    ),
    shields: v.exactOptional(list(shield, { max: 8 }, 'sheets at rest between source and rack')),
    lens: v.exactOptional(
      v.strictObject({
        seatRadiusMm: length("distance of the lens's vertex from the rack's own axis"),
        radiusOfCurvatureMm: quantity('mm', { above: 0, max: 1e7 }),
        convex: yesOrNo(),
        points: list(length("distance from the lens's axis"), { min: 1, max: 10_000 }),
        pointsDeg: v.exactOptional(
          list(
            direction("of each point about the lens's axis"),
            { max: 10_000 },
            "from outward along the rack's radius; left out: 0",
          ),
        ),
        seatDeg: v.exactOptional(direction("of the lens about the rack's axis, as pointsDeg")),
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
