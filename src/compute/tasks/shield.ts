import * as v from 'valibot';
import { list, quantity } from '../../base/schema.ts';
import { evenOut } from '../../chamber/even-out.ts';
import { length, motion, shield } from '../chamber-shapes.ts';
import { defineTask } from '../task.ts';

export default defineTask({
  name: 'shield',
  summary: 'A static shield whose shape evens the film over a moving rack, and what it leaves and takes.',
  request: v.strictObject({
    sources: list(
      v.strictObject({
        offsetMm: length("from the chamber's axis"),
        exponent: quantity('', { min: 0, max: 50 }, 'n of the cos^n emission law'),
        azimuthDeg: v.exactOptional(quantity('°', { min: -360, max: 360 })),
        heightMm: v.exactOptional(quantity('mm', { min: -10_000, max: 10_000 })),
      }),
      { min: 1, max: 8 },
      'whose films the one sheet is to even',
    ),
    motion,
    fromMm: length("the zone begins here, from the rack's own axis"),
    toMm: length('the zone ends here'),
    heightMm: quantity('mm', { min: -10_000, max: 10_000 }, 'of the sheet'),
    azimuthDeg: v.exactOptional(
      quantity('°', { min: -360, max: 360 }, "of its middle line; left out: the first source's side"),
    ),
    others: v.exactOptional(list(shield, { max: 8 }, 'sheets that already stand there')),
  }),
  example: {
    sources: [{ offsetMm: 250, exponent: 2 }],
    motion: { kind: 'rotating', heightMm: 700 },
    fromMm: 60,
    toMm: 260,
    heightMm: 640,
  },
  run(request) {
    const { shield: found, films } = evenOut(request);
    const warnings = films.flatMap(({ deviationPercent, bareDeviationPercent }, index) =>
      deviationPercent < bareDeviationPercent
        ? []
        : [`sources[${index}]: no shield at this height and azimuth evens this film`],
    );
    return { shield: found, films, warnings };
  },
});
