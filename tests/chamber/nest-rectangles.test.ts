import { describe, expect, it } from 'vitest';
import { type NestRectanglesRequest, nestRectangles } from '../../src/chamber/nest-rectangles.ts';
import { ROUNDING_MM } from './nesting.ts';

const prism: NestRectanglesRequest = { rackDiameterMm: 300, rimMm: 6, widthMm: 40, heightMm: 25, webMm: 2 };

/** Every corner inside the rim, every pair a web apart (edges parallel to x and y), every zone free. */
function expectSound(request: NestRectanglesRequest): number {
  const { positions, count, pattern, usedPercent } = nestRectangles(request);
  const { rackDiameterMm, rimMm, widthMm, heightMm, webMm, keepOut = [] } = request;
  expect(pattern).toBe('rows');
  expect(positions.length).toBe(count);
  const boxes = positions.map(({ xMm, yMm, angleDeg }) => {
    const [w, h] = angleDeg === 0 ? [widthMm, heightMm] : [heightMm, widthMm];
    return { left: xMm - w / 2, right: xMm + w / 2, low: yMm - h / 2, high: yMm + h / 2 };
  });
  boxes.forEach((box, index) => {
    const corner = Math.hypot(Math.max(-box.left, box.right), Math.max(-box.low, box.high));
    expect(rackDiameterMm / 2 - corner).toBeGreaterThanOrEqual(rimMm - ROUNDING_MM);
    for (const other of boxes.slice(index + 1)) {
      const across = Math.max(other.left - box.right, box.left - other.right);
      const up = Math.max(other.low - box.high, box.low - other.high);
      expect(Math.max(across, up)).toBeGreaterThanOrEqual(webMm - ROUNDING_MM);
    }
    for (const { xMm, yMm, diameterMm } of keepOut) {
      const dx = Math.max(box.left - xMm, xMm - box.right, 0);
      const dy = Math.max(box.low - yMm, yMm - box.high, 0);
      expect(Math.hypot(dx, dy)).toBeGreaterThanOrEqual(diameterMm / 2 - ROUNDING_MM);
    }
  });
  expect(usedPercent).toBeCloseTo(
    (100 * count * widthMm * heightMm) / (Math.PI * (rackDiameterMm / 2) ** 2),
    9,
  );
  return count;
}

describe('rectangles on a round rack', () => {
  it('keep web, rim and zones whatever their shape', () => {
    for (const widthMm of [5, 25, 40, 100, 250]) expectSound({ ...prism, widthMm });
    const keepOut = [{ xMm: 20, yMm: 10, diameterMm: 50 }];
    expect(expectSound({ ...prism, keepOut })).toBeLessThan(expectSound(prism));
  });

  it('come to the counts that a drawing shows', () => {
    // A square's diagonal fills the disc: one. Four unit squares need a disc of diameter 2√2; two need √5.
    const squares = { rimMm: 0, webMm: 0, widthMm: 10, heightMm: 10 };
    expect(expectSound({ ...squares, rackDiameterMm: 14.15 })).toBe(1);
    expect(expectSound({ ...squares, rackDiameterMm: 22.37 })).toBe(2);
    expect(expectSound({ ...squares, rackDiameterMm: 28.29 })).toBe(4);
  });

  it('stand a web apart in the middle of their chord, told from top to bottom and from left to right', () => {
    const squares = { rimMm: 3, webMm: 2, widthMm: 10, heightMm: 10 };
    // Two of 10 with a web of 2 between: √(22² + 10²) = 24.166 across, and the rim twice.
    expect(expectSound({ ...squares, rackDiameterMm: 30.16 })).toBe(1);
    const two = nestRectangles({ ...squares, rackDiameterMm: 30.17 }).positions;
    expect(two.map(({ xMm }) => xMm)).toEqual([-6, 6]);
    for (const { yMm } of two) expect(Math.abs(yMm)).toBeLessThan(0.02);
    // Four of them: 22 √2 = 31.113 across; a little less holds two and one above.
    expect(expectSound({ ...squares, rackDiameterMm: 37.1 })).toBe(3);
    const four = nestRectangles({ ...squares, rackDiameterMm: 37.12 }).positions;
    const expected = [
      [-6, 6],
      [6, 6],
      [-6, -6],
      [6, -6],
    ];
    expect(four).toHaveLength(4);
    four.forEach(({ xMm, yMm }, index) => {
      expect(xMm).toBeCloseTo(expected[index]![0]!, 9);
      expect(Math.abs(yMm - expected[index]![1]!)).toBeLessThan(0.05);
    });
    // Three, four, five: the diagonal is the rack's own diameter.
    expect(expectSound({ ...squares, rimMm: 0, rackDiameterMm: 50, widthMm: 30, heightMm: 40 })).toBe(1);
  });

  it.each([
    [12, 'without zones', []],
    [10, 'around one on the axis', [{ xMm: 0, yMm: 0, diameterMm: 20 }]],
    [12, 'beside one that reaches into standing rows alone', [{ xMm: 0, yMm: 85, diameterMm: 20 }]],
    [12, 'beneath one above it', [{ xMm: 0, yMm: 91, diameterMm: 20 }]],
    [12, 'beside one at the end of the chord', [{ xMm: 70.1, yMm: 0, diameterMm: 20 }]],
    [11, 'beside one just over the end of the chord', [{ xMm: -69, yMm: 0, diameterMm: 20 }]],
    [
      8,
      'around two',
      [
        { xMm: -20, yMm: 40, diameterMm: 20 },
        { xMm: 20, yMm: -40, diameterMm: 20 },
      ],
    ],
  ])('are %d staves of 10 by 160 on a rack of 200 %s', (count, _, keepOut) => {
    // The chord 80 above and below the middle is 120 long; lying, twelve rows have a chord of 160.
    const staves = { rackDiameterMm: 200, rimMm: 0, widthMm: 10, heightMm: 160, webMm: 0, keepOut };
    expect(expectSound(staves)).toBeGreaterThanOrEqual(count);
    expect(expectSound({ ...staves, widthMm: 160, heightMm: 10 })).toBe(expectSound(staves));
    expect(expectSound(staves)).toBeLessThanOrEqual(count + 1);
  });

  it('are as many left as right of a zone', () => {
    const squares = { rackDiameterMm: 100, rimMm: 2, widthMm: 10, heightMm: 10, webMm: 1 };
    const counts = [18, -18].map((xMm) =>
      expectSound({ ...squares, keepOut: [{ xMm, yMm: 5, diameterMm: 25 }] }),
    );
    expect(counts[0]).toBe(counts[1]);
    // The zone and the squares that it cuts: at most the sixteen of a square of four that covers it.
    expect(counts[0]).toBeGreaterThan(expectSound(squares) - 16);
  });

  it('lie or stand as suits the row', () => {
    const turned = new Set(
      nestRectangles({ ...prism, widthMm: 60 }).positions.map((place) => place.angleDeg),
    );
    expect(turned).toEqual(new Set([0, 90]));
  });

  it('that are too large are refused with their diagonal', () => {
    expect(() => nestRectangles({ ...prism, widthMm: 290 })).toThrow(
      'part.widthMm: 290 mm × 25 mm does not fit: its diagonal is 291.076 mm, inside the rim of the rack are 288 mm',
    );
  });
});
