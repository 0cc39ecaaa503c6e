import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';
import { type NestCirclesRequest, nestCircles } from '../../src/chamber/nest.ts';
import { expectSound } from './nesting.ts';

/** Best-known radii; the file names its source. */
const table = JSON.parse(
  readFileSync(new URL('../fixtures/chamber/circle-packing.json', import.meta.url), 'utf8'),
) as { radiusRatio: number[] };

/** A rack that holds `count` parts of 10 mm at the very best. */
function rackFor(count: number, pattern: NestCirclesRequest['pattern']): NestCirclesRequest {
  const radiusRatio = table.radiusRatio[count - 1]! * (1 - 1e-9);
  return { rackDiameterMm: 10 / radiusRatio, rimMm: 0, partDiameterMm: 10, webMm: 0, pattern };
}

const shop: NestCirclesRequest = {
  rackDiameterMm: 300,
  rimMm: 6,
  partDiameterMm: 34,
  webMm: 2,
  pattern: 'best',
};

describe('round parts on a round rack', () => {
  it.each(['rings', 'hexagonal', 'best'] as const)('keep web and rim with the pattern %s', (pattern) => {
    for (const partDiameterMm of [3, 12.5, 34, 80, 141, 200, 288]) {
      const request = { ...shop, pattern, partDiameterMm };
      expectSound(request, nestCircles(request));
    }
  });

  it.each(['rings', 'hexagonal', 'best'] as const)('keep off zones with the pattern %s', (pattern) => {
    const keepOut = [
      { xMm: 0, yMm: 0, diameterMm: 20 },
      { xMm: 90, yMm: -40, diameterMm: 12 },
    ];
    const request = { ...shop, pattern, keepOut };
    const free = nestCircles({ ...shop, pattern });
    const held = nestCircles(request);
    expectSound(request, held);
    expect(held.count).toBeLessThanOrEqual(free.count);
    expect(held.count).toBeGreaterThanOrEqual(free.count - 8);
  });

  it('never outnumber the published best packings', () => {
    for (let count = 1; count < 120; count += 4) {
      const tighter = table.radiusRatio[count]! * (1 + 1e-9);
      for (const pattern of ['rings', 'hexagonal'] as const) {
        const request = { ...rackFor(count, pattern), rackDiameterMm: 10 / tighter };
        const limit = table.radiusRatio.findLastIndex((ratio) => ratio >= tighter) + 1;
        expect(nestCircles(request).count).toBeLessThanOrEqual(limit);
      }
    }
  });

  it('reach the published best where a simple pattern is the best known', () => {
    expect(nestCircles(rackFor(7, 'hexagonal')).count).toBe(7);
    expect(nestCircles(rackFor(19, 'rings')).count).toBe(19);
    for (const count of [1, 2, 3, 4, 5, 7, 8, 9])
      expect(nestCircles(rackFor(count, 'rings')).count).toBe(count);
  });

  it('reach every published best up to 91 and never outnumber it', () => {
    for (let count = 2; count <= 91; count++) {
      const request = {
        ...rackFor(count, 'best'),
        rackDiameterMm: (10 / table.radiusRatio[count - 1]!) * (1 + 1e-6),
      };
      const nesting = nestCircles(request);
      expectSound(request, nesting);
      const most = table.radiusRatio.findLastIndex(
        (ratio) => ratio * (1 + 1e-6) >= table.radiusRatio[count - 1]!,
      );
      expect(nesting.count, `${count} parts`).toBe(most + 1);
    }
  });

  it('of any optimised placement hold at least what the simple patterns do', () => {
    for (const partDiameterMm of [23.5, 41, 66]) {
      const best = nestCircles({ ...shop, partDiameterMm }).count;
      for (const pattern of ['rings', 'hexagonal'] as const)
        expect(best).toBeGreaterThanOrEqual(nestCircles({ ...shop, partDiameterMm, pattern }).count);
    }
  });

  it('come out the same each time', () => {
    expect(nestCircles(shop)).toEqual(nestCircles(shop));
  });

  it.each([
    [{ partDiameterMm: 310 }, 'part.diameterMm: 310 mm does not fit: inside the rim of the rack are 288 mm'],
    [{ rimMm: -1 }, 'rimMm: -1 mm is below 0 mm'],
    [{ webMm: Number.NaN }, 'webMm: NaN is not a finite number'],
    [{ partDiameterMm: 0.6, webMm: 0 }, 'part.diameterMm: 0.6 mm is too small for this rack'],
  ])('are refused with a sentence: %o', (change, sentence) => {
    expect(() => nestCircles({ ...shop, ...change })).toThrow(InputError);
    expect(() => nestCircles({ ...shop, ...change })).toThrow(sentence);
  });
});
