import { describe, expect, it } from 'vitest';
import { fillRuns, runsNeeded, witnessPlaces } from '../../src/chamber/fill-load.ts';
import { nestCircles } from '../../src/chamber/nest.ts';

const places = (partDiameterMm: number) =>
  nestCircles({ rackDiameterMm: 300, rimMm: 5, partDiameterMm, webMm: 2, pattern: 'best' }).positions;

describe('lots on racks', () => {
  const small = { lot: 'L1', lenses: 120, places: places(34), witnessesPerRack: 1 };
  const large = { lot: 'L2', lenses: 9, places: places(60) };

  it('are all placed, none twice, and every rack is full with dummies', () => {
    const runs = fillRuns([small, large], 3);
    const racks = runs.flatMap((run) => run.racks);
    for (const lot of [small, large]) {
      const own = racks.filter((rack) => rack.lot === lot.lot);
      expect(own.reduce((sum, rack) => sum + rack.lenses, 0)).toBe(lot.lenses);
      for (const rack of own) expect(rack.lenses + rack.dummies + rack.witnesses).toBe(lot.places.length);
    }
    expect(runs.every((run) => run.racks.length === 3)).toBe(true);
  });

  it('of different lenses share a run, and planets without work are idle', () => {
    const runs = fillRuns([{ ...small, lenses: 60 }, large], 4);
    expect(runs.map((run) => run.racks.map((rack) => rack.lot))).toEqual([['L1', 'L1', 'L2', '']]);
  });

  it('of 5 lenses on racks of 3 places, one for a witness, fill three racks, the last with a dummy', () => {
    const three = [0, 10, 20].map((xMm) => ({ xMm, yMm: 0, angleDeg: 0 }));
    const lots = [{ lot: 'L1', lenses: 5, places: three, witnessesPerRack: 1 }];
    const full = { lot: 'L1', lenses: 2, witnesses: 1, dummies: 0 };
    expect(runsNeeded(lots, 2)).toBe(2);
    expect(fillRuns(lots, 2)).toEqual([
      { racks: [full, full] },
      {
        racks: [
          { ...full, lenses: 1, dummies: 1 },
          { lot: '', lenses: 0, witnesses: 0, dummies: 0 },
        ],
      },
    ]);
    expect(fillRuns([{ lot: 'L2', lenses: 3, places: three }], 1)).toEqual([
      { racks: [{ lot: 'L2', lenses: 3, witnesses: 0, dummies: 0 }] },
    ]);
  });

  it('with no room beside the witnesses are refused', () => {
    expect(() => fillRuns([{ ...large, witnessesPerRack: large.places.length }], 4)).toThrow(
      'lots[0]: a rack with 16 places, 16 of them for witnesses, has no place for a lens',
    );
  });
});

describe('witness places', () => {
  it('lie at even steps of the distance from the axis', () => {
    const on = [30, 0, -10, 20].map((xMm) => ({ xMm, yMm: 0, angleDeg: 0 }));
    expect(witnessPlaces(on, 0)).toEqual([]);
    expect(witnessPlaces(on, 1)).toEqual([2]); // half way, where 10 and 20 mm are as near: the first of them
    expect(witnessPlaces(on, 2)).toEqual([1, 0]);
    expect(witnessPlaces(on, 3)).toEqual([1, 2, 0]);
    expect(witnessPlaces(on, 4)).toEqual([1, 2, 3, 0]);
  });

  it('reach from the innermost to the outermost', () => {
    const on = places(34);
    const radii = on.map((place) => Math.hypot(place.xMm, place.yMm));
    const chosen = witnessPlaces(on, 3);
    expect(new Set(chosen).size).toBe(3);
    expect(radii[chosen[0]!]).toBe(Math.min(...radii));
    expect(radii[chosen[2]!]).toBe(Math.max(...radii));
    expect(() => witnessPlaces(on, on.length + 1)).toThrow('count');
  });
});
