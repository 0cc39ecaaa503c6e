import { expect } from 'vitest';
import type { NestCirclesRequest, Nesting } from '../../src/chamber/nest.ts';

/** Distances may fall short of what was asked by rounding only. */
export const ROUNDING_MM = 1e-9;

/** What every nesting of round parts must keep, whatever its pattern. */
export function expectSound(request: NestCirclesRequest, nesting: Nesting): void {
  const { rackDiameterMm, rimMm, partDiameterMm, webMm, keepOut = [] } = request;
  const places = nesting.positions;
  expect(nesting.count).toBe(places.length);
  let edge = Number.POSITIVE_INFINITY;
  let nearest = Number.POSITIVE_INFINITY;
  let zone = Number.POSITIVE_INFINITY;
  places.forEach((place, index) => {
    edge = Math.min(edge, rackDiameterMm / 2 - Math.hypot(place.xMm, place.yMm) - partDiameterMm / 2);
    // Squares, as thousands of parts make millions of pairs.
    for (let after = index + 1; after < places.length; after++) {
      const other = places[after]!;
      nearest = Math.min(nearest, (place.xMm - other.xMm) ** 2 + (place.yMm - other.yMm) ** 2);
    }
    for (const { xMm, yMm, diameterMm } of keepOut)
      zone = Math.min(zone, Math.hypot(place.xMm - xMm, place.yMm - yMm) - (diameterMm + partDiameterMm) / 2);
  });
  expect(edge).toBeGreaterThanOrEqual(rimMm - ROUNDING_MM);
  expect(Math.sqrt(nearest) - partDiameterMm).toBeGreaterThanOrEqual(webMm - ROUNDING_MM);
  expect(zone).toBeGreaterThanOrEqual(-ROUNDING_MM);
  const area = (places.length * partDiameterMm ** 2) / rackDiameterMm ** 2;
  expect(nesting.usedPercent).toBeCloseTo(100 * area, 10);
}
