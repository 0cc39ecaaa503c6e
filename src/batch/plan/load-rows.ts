import { type FilledRack, filledRun, runsNeeded, type WaitingLot } from '../../chamber/fill-load.ts';
import type { LoadPlan, LoadRow } from './plan-types.ts';

/** Loads that are looked at one by one; beyond, those in between are taken as the one before. */
const MOST_LOADS = 400;

/** The batch's own lot and those that share the carrier, in the order in which they go in. */
function waitingLots(load: LoadPlan, ownLot: string, lensesToStart: number): WaitingLot[] {
  const own = { lot: ownLot, lenses: lensesToStart, places: load.places };
  const all = [
    own,
    ...load.otherLots.map(({ lot, quantity, places }) => ({ lot, lenses: quantity, places })),
  ];
  return all.map((lot) => ({
    ...lot,
    witnessesPerRack: lot.places.filter(({ use }) => use === 'witness').length,
  }));
}

/** How many loads all lots take together. */
export function loadsOf(load: LoadPlan, ownLot: string, lensesToStart: number): number {
  return runsNeeded(waitingLots(load, ownLot, lensesToStart), load.racks);
}

/** What stands in every load, loads that stand alike in one row; the last load always has its true racks. */
export function loadRows(load: LoadPlan, ownLot: string, lensesToStart: number, loads: number): LoadRow[] {
  const lots = waitingLots(load, ownLot, lensesToStart);
  const rows: LoadRow[] = [];
  for (let run = 0; run < loads; run++) {
    if (run >= MOST_LOADS && run < loads - 1) run = loads - 1;
    const { racks } = filledRun(lots, load.racks, run);
    const before = rows.at(-1);
    if (before !== undefined && sameRacks(before.racks, racks))
      rows[rows.length - 1] = { ...before, to: run + 1 };
    else {
      if (before !== undefined) rows[rows.length - 1] = { ...before, to: run };
      rows.push({ from: run + 1, to: run + 1, racks });
    }
  }
  return rows;
}

/** Lenses of all lots in one load, counted from 1. */
export function lensesOfLoad(rows: readonly LoadRow[], number: number): number {
  const row = rows.find(({ from, to }) => from <= number && number <= to);
  return row?.racks.reduce((sum, { lenses }) => sum + lenses, 0) ?? 0;
}

/** Part of the racks in use that hold the order's own lenses. */
export function orderShareOf(load: LoadPlan, lensesToStart: number): number {
  const own = Math.ceil(lensesToStart / load.lensesPerRack);
  const others = load.otherLots.reduce(
    (sum, { quantity, lensesPerRack }) => sum + Math.ceil(quantity / lensesPerRack),
    0,
  );
  return own / (own + others);
}

function sameRacks(first: readonly FilledRack[], second: readonly FilledRack[]): boolean {
  return first.every(
    ({ lot, lenses }, index) => second[index]!.lot === lot && second[index]!.lenses === lenses,
  );
}

/** Racks of one load that stand alike side by side, in words: "racks 1–3: 65 of LW-1 each; rack 4: dummies alone". */
export function rowWords({ racks }: LoadRow): string {
  const parts: string[] = [];
  for (let from = 0; from < racks.length; ) {
    const rack = racks[from]!;
    let to = from;
    while (to + 1 < racks.length && sameRacks([racks[to + 1]!], [rack])) to++;
    const which = from === to ? `rack ${from + 1}` : `racks ${from + 1}–${to + 1}`;
    parts.push(`${which}: ${rackWords(rack, from === to ? '' : ' each')}`);
    from = to + 1;
  }
  return parts.join('; ');
}

function rackWords({ lot, lenses, dummies }: FilledRack, each: string): string {
  if (lenses === 0) return 'dummies alone';
  return `${lenses} of ${lot}${each}${dummies === 0 ? '' : ` and ${dummies} dummies`}`;
}
