import { describe, expect, it } from 'vitest';
import {
  BEST_RADIUS_RATIO,
  MOST_KNOWN_CENTRES,
  mostKnown,
  roughCentres,
} from '../../src/chamber/best-packings.ts';

describe('the best-known packings', () => {
  /** Half a step of the grid of 512 by 512 on which the centres stand, both ways and across. */
  const COARSE = Math.SQRT2 / 511;

  it('have rough centres that lie apart and within the container as their radius ratio says, as far as three letters tell', () => {
    for (let count = 1; count <= MOST_KNOWN_CENTRES; count++) {
      const centres = roughCentres(count)!;
      const radius = BEST_RADIUS_RATIO[count - 1]!;
      expect(centres).toHaveLength(count);
      const outermost = Math.max(...centres.map(({ x, y }) => Math.hypot(x, y)));
      expect(outermost, `${count}`).toBeLessThan(1 - radius + COARSE);
      const nearest = centres.flatMap((one, index) =>
        centres.slice(index + 1).map((other) => Math.hypot(one.x - other.x, one.y - other.y)),
      );
      expect(Math.min(2, ...nearest), `${count}`).toBeGreaterThan(2 * radius - 2 * COARSE);
    }
  });

  it('have rough centres up to 91 circles and none beyond', () => {
    expect(MOST_KNOWN_CENTRES).toBe(91);
    expect(roughCentres(92)).toBeUndefined();
    expect(roughCentres(0)).toBeUndefined();
  });

  it('hold one circle of the container’s own size, two of half of it, seven of a third', () => {
    // Exact: 1, 1/2, 1/(1 + 2/√3), 1/(1 + √2) for one to four; six and seven of a third touch each other and the rim.
    expect(mostKnown(1)).toBe(1);
    expect(mostKnown(0.5)).toBe(2);
    expect(mostKnown(0.5 * (1 + 1e-9))).toBe(1);
    expect(mostKnown(0.464101615137)).toBe(3);
    expect(mostKnown(Math.SQRT2 - 1)).toBe(4);
    expect(mostKnown(1 / 3)).toBe(7);
    expect(mostKnown(0.3334)).toBe(5);
  });

  it('are unknown beyond 199 circles, where the table ends', () => {
    expect(BEST_RADIUS_RATIO).toHaveLength(200);
    expect(mostKnown(BEST_RADIUS_RATIO[198]!)).toBe(199);
    expect(mostKnown(BEST_RADIUS_RATIO[199]!)).toBeUndefined();
    expect(mostKnown(0.001)).toBeUndefined();
  });
});
