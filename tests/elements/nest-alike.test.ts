import { expect, inject, it } from 'vitest';
import { nestCircles } from '../../src/chamber/nest.ts';
import type { Place } from '../../src/chamber/place.ts';
import { SHARED_NESTINGS } from '../fixtures/shared-request.ts';

it('a rack is filled with the same parts at the same places in the browser as under Node', () => {
  const nodes = JSON.parse(inject('nodeNestings')) as Place[][];
  SHARED_NESTINGS.forEach((request, rack) => {
    const ours = nestCircles(request).positions;
    expect(ours.length).toBe(nodes[rack]!.length);
    ours.forEach(({ xMm, yMm }, place) => {
      expect(xMm).toBeCloseTo(nodes[rack]![place]!.xMm, 6);
      expect(yMm).toBeCloseTo(nodes[rack]![place]!.yMm, 6);
    });
  });
}, 60_000);
