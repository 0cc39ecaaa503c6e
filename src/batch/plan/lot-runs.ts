import type { CalendarEntry } from '../../chamber/calendar.ts';
import type { Batch, Side } from '../document.ts';
import { lensesOfLoad } from './load-rows.ts';
import { isCleanedAfter } from './lot-plan.ts';
import type { Plan } from './plan-types.ts';

/** One run of the lot with what belongs to it before, within and after. */
export interface LotRun {
  /** From 1. */
  readonly number: number;
  readonly load: number;
  readonly side: Side;
  /** Lenses in this load. */
  readonly lenses: number;
  /** Pockets to fill up before it, such as "MgF₂ (boat-1)". */
  readonly refills: readonly string[];
  /** Numbers of the layers before which a fresh crystal is turned in. */
  readonly crystalBeforeLayers: readonly number[];
  /** The chamber is cleaned and its liners are changed after it. */
  readonly isCleanedAfter: boolean;
  /** When it is due; undefined where the batch holds no shifts. */
  readonly calendar?: CalendarEntry;
}

/** The runs of the whole lot in their order: load by load, the sides of a load one after the other. */
export function lotRuns(document: Batch, { lot, runs }: Pick<Plan, 'lot' | 'runs'>): LotRun[] {
  return Array.from({ length: lot.runs }, (_, index) => {
    const number = index + 1;
    const { side, cuts } = runs[index % runs.length]!;
    const loadNumber = Math.floor(index / runs.length) + 1;
    const calendar = lot.calendar?.[index];
    return {
      number,
      load: loadNumber,
      side,
      lenses: lensesOfLoad(lot.rows, loadNumber),
      refills: lot.pockets
        .filter(({ refillBeforeRun }) => refillBeforeRun.includes(number))
        .map(({ label, source }) => `${label} (${source})`),
      crystalBeforeLayers: cuts.flatMap(({ freshCrystal }, layer) => (freshCrystal ? [layer + 1] : [])),
      isCleanedAfter: isCleanedAfter(document, number, lot.runs),
      ...(calendar === undefined ? {} : { calendar }),
    };
  });
}
