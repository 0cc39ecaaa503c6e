import * as v from 'valibot';
import { choice, count, hasKey, list, quantity, word } from '../../base/schema.ts';
import { nestCircles } from '../../chamber/nest.ts';
import { nestRectangles } from '../../chamber/nest-rectangles.ts';
import { defineTask } from '../task.ts';

const size = (note: string) => quantity('mm', { min: 0.5, max: 5000 }, note);
const round = v.strictObject({ diameterMm: size('of a round part, or of the pocket that its holder needs') });
const rectangle = v.strictObject({
  widthMm: size('of a rectangular part'),
  heightMm: size('of a rectangular part'),
});

export default defineTask({
  name: 'nest',
  summary: 'How many parts fit on a round rack, and where.',
  request: v.strictObject({
    rackDiameterMm: quantity('mm', { above: 0, max: 5000 }),
    rimMm: quantity('mm', { min: 0, max: 1000 }, "no part comes nearer to the rack's edge"),
    part: choice<typeof round | typeof rectangle>(
      [round, rectangle],
      (input) => (hasKey(input, 'widthMm') || hasKey(input, 'heightMm') ? rectangle : round),
      'a round or a rectangular part',
    ),
    webMm: quantity('mm', { min: 0, max: 1000 }, 'no two parts come closer'),
    pattern: word(['rings', 'hexagonal', 'best'], 'for round parts; rectangles always stand in rows'),
    keepOut: v.exactOptional(
      list(
        v.strictObject({
          xMm: quantity('mm', { min: -5000, max: 5000 }, "from the rack's centre"),
          yMm: quantity('mm', { min: -5000, max: 5000 }, "from the rack's centre"),
          diameterMm: quantity('mm', { above: 0, max: 5000 }),
        }),
        { max: 100 },
        'round zones over which no part may lie',
      ),
    ),
    seed: v.exactOptional(
      count({ min: 0, max: Number.MAX_SAFE_INTEGER }, 'of the optimised placement, default 1'),
    ),
  }),
  example: { rackDiameterMm: 300, rimMm: 6, part: { diameterMm: 34 }, webMm: 2, pattern: 'best' },
  run({ part, pattern, seed, ...rack }) {
    if (!('widthMm' in part)) {
      const options = seed === undefined ? {} : { seed };
      return {
        ...nestCircles({ ...rack, ...options, pattern, partDiameterMm: part.diameterMm }),
        warnings: [],
      };
    }
    const warnings =
      pattern === 'best'
        ? []
        : [`The pattern "${pattern}" is for round parts; the rectangles stand in rows.`];
    return { ...nestRectangles({ ...rack, ...part }), warnings };
  },
});
