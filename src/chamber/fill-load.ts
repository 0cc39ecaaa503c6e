import { InputError, requireWithin } from '../base/errors.ts';
import type { Place } from './place.ts';

/** A lot that waits to be coated together with others. */
export interface WaitingLot {
  readonly lot: string;
  readonly lenses: number;
  /** Places of one rack for this lot's holders (from nesting); racks of different lots may differ. */
  readonly places: readonly Place[];
  /** Places of each rack that are kept for witness glasses, default 0; see `witnessPlaces`. */
  readonly witnessesPerRack?: number;
}

export interface FilledRack {
  readonly lot: string;
  readonly lenses: number;
  readonly witnesses: number;
  /** Empty places that get a dummy, so that no vapour passes and the racks stay balanced. */
  readonly dummies: number;
}

export interface FilledRun {
  /** One rack for each planet; a planet without work carries a rack of dummies (lot ''). */
  readonly racks: readonly FilledRack[];
}

/**
 * Shares lots out over runs of `planets` racks, each rack for one lot: lots in the order given, every rack as full as
 * its lot allows, the last rack of a lot filled up with dummies. A new lot takes the next free planet of the same run.
 * @throws InputError for a value outside its range and for a lot whose rack has no place for a lens.
 */
export function fillRuns(lots: readonly WaitingLot[], planets: number): FilledRun[] {
  return Array.from({ length: runsNeeded(lots, planets) }, (_, run) => filledRun(lots, planets, run));
}

/** How many runs `fillRuns` comes to, without filling them. */
export function runsNeeded(lots: readonly WaitingLot[], planets: number): number {
  requireWithin('planets', planets, '', { min: 1, max: 1000 });
  const racks = lots.reduce((sum, lot, index) => sum + Math.ceil(lot.lenses / roomOf(lot, index)), 0);
  return Math.ceil(racks / planets);
}

/** One run of `fillRuns`, counted from 0. */
export function filledRun(lots: readonly WaitingLot[], planets: number, run: number): FilledRun {
  requireWithin('planets', planets, '', { min: 1, max: 1000 });
  const rooms = lots.map(roomOf);
  return {
    racks: Array.from({ length: planets }, (_, planet): FilledRack => {
      let rack = run * planets + planet;
      for (const [index, lot] of lots.entries()) {
        const room = rooms[index]!;
        const needed = Math.ceil(lot.lenses / room);
        if (rack < needed) {
          const lenses = Math.min(room, lot.lenses - rack * room);
          return { lot: lot.lot, lenses, witnesses: lot.witnessesPerRack ?? 0, dummies: room - lenses };
        }
        rack -= needed;
      }
      return { lot: '', lenses: 0, witnesses: 0, dummies: 0 };
    }),
  };
}

/** Places of a lot's rack that hold a lens. */
function roomOf(lot: WaitingLot, index: number): number {
  const at = `lots[${index}]`;
  requireWithin(`${at}.lenses`, lot.lenses, '', { min: 0, max: 1e7 });
  const witnesses = lot.witnessesPerRack ?? 0;
  const room = lot.places.length - witnesses;
  requireWithin(`${at}.witnessesPerRack`, witnesses, '', { min: 0, max: 1000 });
  if (room < 1)
    throw new InputError(
      at,
      `a rack with ${lot.places.length} places, ${witnesses} of them for witnesses, has no place for a lens`,
    );
  return room;
}

/**
 * Indices of the places that show the spread over the rack best when given to witnesses: the innermost, the outermost,
 * then those whose distance from the axis lies nearest to even steps between.
 * @throws InputError where more are asked for than there are places.
 */
export function witnessPlaces(places: readonly Place[], count: number): number[] {
  requireWithin('count', count, '', { min: 0, max: places.length });
  const radii = places.map((place) => Math.hypot(place.xMm, place.yMm));
  const [inner, outer] = [Math.min(...radii), Math.max(...radii)];
  const chosen: number[] = [];
  for (let step = 0; step < count; step++) {
    const aim = count === 1 ? (inner + outer) / 2 : inner + ((outer - inner) * step) / (count - 1);
    const free = radii.map((_, index) => index).filter((index) => !chosen.includes(index));
    chosen.push(
      free.reduce((best, next) =>
        Math.abs(radii[next]! - aim) < Math.abs(radii[best]! - aim) ? next : best,
      ),
    );
  }
  return chosen;
}
