import * as v from 'valibot';
import { list, quantity, yesOrNo } from '../../base/schema.ts';
import { depositOn } from '../../chamber/deposit.ts';
import { length, motion, shield } from '../chamber-shapes.ts';
import { defineTask } from '../task.ts';

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
    shields: v.exactOptional(list(shield, { max: 8 }, 'sheets at rest between source and rack')),
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
