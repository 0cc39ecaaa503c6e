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
