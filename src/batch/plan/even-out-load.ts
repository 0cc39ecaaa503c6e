import type { EvenedFilm, EvenOutRequest } from '../../chamber/even-out.ts';
import type { Shield } from '../../chamber/shield.ts';
import type { Batch, BatchShield } from '../document.ts';
import { coatedSides } from '../sides.ts';
import { lowestRackMm, motionOf } from './load-motion.ts';
import { placeRadiiMm } from './place-films.ts';
import type { LoadPlan } from './plan-types.ts';
import { plainShields } from './shields-of.ts';
import { sourceOf, vapourOf } from './vapour-of.ts';

/** A fresh shield hangs so far below the racks' lowest point (common practice, no source). */
const ROOM_BELOW_MM = 40;

/** Where a shield is to be made, and for which source; without one it stands still for all that the coating uses. */
export type WantedShield = Pick<BatchShield, 'id' | 'source' | 'heightMm' | 'azimuthDeg'>;

/** The sources that the coatings of the batch use, in the chamber's order. */
export function usedSources(document: Batch): string[] {
  const used = new Set(
    coatedSides(document).flatMap(({ surface }) =>
      surface.layers.flatMap(({ material }) => vapourOf(document, material).map(({ id }) => id)),
    ),
  );
  return document.chamber.sources.map(({ id }) => id).filter((id) => used.has(id));
}

/** Where a shield for a source (or for all) hangs at first: below the racks, on the source's side. */
export function firstShield(document: Batch, id: string, source: string | undefined): WantedShield {
  const side = document.chamber.sources.find((one) => one.id === (source ?? usedSources(document)[0]));
  return {
    id,
    ...(source === undefined ? {} : { source }),
    heightMm: Math.max(1, Math.floor((lowestRackMm(document) - ROOM_BELOW_MM) / 10) * 10),
    azimuthDeg: side?.azimuthDeg ?? 0,
  };
}

/** The question for the shield's shape: the zone is all that lenses of the load cover. */
export function evenOutRequest(document: Batch, load: LoadPlan, wanted: WantedShield): EvenOutRequest {
  const ids = wanted.source === undefined ? usedSources(document) : [wanted.source];
  const outermost = Math.max(0, ...placeRadiiMm(load)) + document.order.lens.clearApertureMm / 2;
  const others = (document.chamber.shields ?? []).filter(
    ({ id, source }) => id !== wanted.id && (source === undefined || source === wanted.source),
  );
  return {
    sources: ids.map((id) => sourceOf(document, id)),
    motion: motionOf(document),
    fromMm: 0,
    toMm: Math.min(outermost, load.rackDiameterMm / 2),
    heightMm: wanted.heightMm,
    azimuthDeg: wanted.azimuthDeg,
    others: plainShields(others),
  };
}

/** The answer as the batch keeps it: radii to 0.01 mm, angles to 0.001°, far below what a workshop holds. */
export function madeShield(wanted: WantedShield, { outline }: Shield): BatchShield {
  return {
    ...wanted,
    outline: outline.map(({ radiusMm, halfAngleDeg }) => ({
      radiusMm: Number(radiusMm.toFixed(2)),
      halfAngleDeg: Number(halfAngleDeg.toFixed(3)),
    })),
  };
}

/** Whether the worst film of those is better with the shield than without. */
export function isBetter(films: readonly EvenedFilm[]): boolean {
  const worst = (pick: (film: EvenedFilm) => number) => Math.max(...films.map(pick));
  return (
    worst(({ deviationPercent }) => deviationPercent) <
    worst(({ bareDeviationPercent }) => bareDeviationPercent)
  );
}
