import { describe, expect, it } from 'vitest';
import { depositOn } from '../../src/chamber/deposit.ts';
import { type EvenOutRequest, evenOut } from '../../src/chamber/even-out.ts';
import type { Shield } from '../../src/chamber/shield.ts';
import { crossingRadii } from '../../src/chamber/shield-reach.ts';

const source = { offsetMm: 260, exponent: 2, azimuthDeg: 35 };
const rack: EvenOutRequest = {
  sources: [source],
  motion: { kind: 'rotating', heightMm: 700 },
  fromMm: 80,
  toMm: 320,
  heightMm: 660,
};
const dome: EvenOutRequest = {
  ...rack,
  motion: { kind: 'dome', radiusMm: 600, centreHeightMm: 0 },
  heightMm: 480,
};
const pair: EvenOutRequest = {
  ...rack,
  sources: [source, { offsetMm: 180, azimuthDeg: 60, exponent: 1 }],
  motion: { kind: 'rotating', heightMm: 900 },
  heightMm: 800,
  azimuthDeg: -20,
};
const other: Shield = {
  ...{ heightMm: 600, azimuthDeg: 190 },
  outline: [60, 200].map((radiusMm) => ({ radiusMm, halfAngleDeg: 6 })),
};

/** The films at 24 even steps of the zone, by the sum over the motion that the plan uses. */
function filmsUnder(
  { sources, motion, fromMm, toMm }: EvenOutRequest,
  shields: readonly Shield[],
): number[][] {
  const points = Array.from({ length: 24 }, (_, index) => fromMm + ((toMm - fromMm) * index) / 23);
  return sources.map((one) => [...depositOn({ source: one, motion, points, shields }).perMassPerMm2]);
}

const meanOf = (film: readonly number[]) => film.reduce((sum, value) => sum + value, 0) / film.length;
/** Largest distance from the mean, in per cent of it. */
const deviationOf = (film: readonly number[]) =>
  Math.max(...film.map((value) => Math.abs(100 * (value / meanOf(film) - 1))));

describe('a sheet that evens a film', () => {
  it.each([
    ['a turning rack', rack, 0.02],
    ['a dome', dome, 0.02],
    ['two sources', pair, 3],
    // That sheet ends in the zone, so its film has kinks.
    ['a rack under a sheet that stands there already', { ...rack, others: [other] }, 0.5],
    ['a raised source', { ...rack, sources: [{ ...source, heightMm: 80 }] }, 0.02],
  ])('tells the deviations of %s without and with it, and what it takes', (_, request, leftPercent) => {
    const { shield, films } = evenOut(request);
    const bare = filmsUnder(request, request.others ?? []);
    const evened = filmsUnder(request, [...(request.others ?? []), shield]);
    expect(films).toHaveLength(request.sources.length);
    films.forEach(({ bareDeviationPercent, deviationPercent, takenPercent }, index) => {
      expect(bareDeviationPercent).toBeCloseTo(deviationOf(bare[index]!), 8);
      expect(deviationPercent).toBeCloseTo(deviationOf(evened[index]!), 8);
      expect(takenPercent).toBeCloseTo(100 * (1 - meanOf(evened[index]!) / meanOf(bare[index]!)), 8);
      expect(bareDeviationPercent).toBeGreaterThan(3);
      expect(deviationPercent).toBeLessThan(leftPercent);
    });
  });

  it.each([
    [rack, 20],
    [dome, 10],
    [{ ...rack, others: [other] }, 20],
  ])('takes no more of the film than it must (%#)', (request, percent) => {
    const { films } = evenOut(request);
    expect(films[0]!.takenPercent).toBeGreaterThan(0);
    expect(films[0]!.takenPercent).toBeLessThan(percent);
  });

  it.each([
    ['a turning rack', rack, 35],
    ['a dome', dome, 35],
    ['two sources', pair, -20],
    ['a source in no direction', { ...rack, sources: [{ offsetMm: 260, exponent: 2 }] }, 0],
  ])(
    'under %s spans the rays to the zone and 6 mm more at both ends, in fourteen points',
    (_, request, deg) => {
      const { shield } = evenOut(request);
      const { sources, motion, fromMm, toMm, heightMm } = request;
      const { inner, outer } = crossingRadii(sources, motion, toMm, fromMm, heightMm, deg);
      expect([shield.heightMm, shield.azimuthDeg]).toEqual([heightMm, deg]);
      expect(shield.outline).toHaveLength(14);
      const [from, to] = [Math.max(0, inner - 6), outer + 6];
      shield.outline.forEach(({ radiusMm, halfAngleDeg }, index) => {
        expect(radiusMm).toBeCloseTo(from + ((to - from) * index) / 13, 9);
        // It is 8 mm wide at least, but for its tip by the axis, and bounded by 110 degrees to each side.
        const narrowest = Math.min(55, (Math.atan2(4, radiusMm) * 180) / Math.PI);
        expect(halfAngleDeg).toBeGreaterThan(narrowest - 1e-9);
        expect(halfAngleDeg).toBeLessThan(110 + 1e-9);
      });
    },
  );

  it('bends evenly where the film leaves it free to', () => {
    const { outline } = evenOut(rack).shield;
    const bends = outline.slice(1, -1).map(({ halfAngleDeg }, index) => {
      const [before, after] = [outline[index]!.halfAngleDeg, outline[index + 2]!.halfAngleDeg];
      return before - 2 * halfAngleDeg + after;
    });
    expect(Math.max(...bends.map(Math.abs))).toBeLessThan(6);
  });

  it('hangs between the highest source and the lowest point of the zone, the ends of the zone in order', () => {
    const tilted: EvenOutRequest = {
      ...rack,
      motion: { kind: 'planetary', carrierRadiusMm: 200, heightMm: 700, tiltDeg: 30 },
      fromMm: 0,
      toMm: 100,
    };
    expect(() => evenOut({ ...tilted, heightMm: 651 })).toThrow('heightMm: 651 mm is not below 650');
    expect(() => evenOut({ ...rack, sources: [source, { ...source, heightMm: -5 }], heightMm: 0 })).toThrow(
      'heightMm: 0 mm is not above 0 mm',
    );
    expect(() => evenOut({ ...rack, sources: [{ ...source, heightMm: -50 }], heightMm: -50 })).toThrow(
      'heightMm: -50 mm is not above -50 mm',
    );
    expect(() => evenOut({ ...rack, toMm: 0 })).toThrow('toMm: 0 mm is not above 0 mm');
    expect(() => evenOut({ ...rack, fromMm: -1 })).toThrow('fromMm: -1 mm is below 0 mm');
    expect(() => evenOut({ ...rack, azimuthDeg: -361 })).toThrow('azimuthDeg: -361 ° is below -360 °');
  });
});
