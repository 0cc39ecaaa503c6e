import type { Shield } from '../../chamber/shield.ts';
import type { Batch, BatchShield } from '../document.ts';

/** The shields that stand in the way while a source fires. */
export function shieldsOf({ chamber }: Batch, sourceId: string): BatchShield[] {
  return (chamber.shields ?? []).filter(({ source }) => source === undefined || source === sourceId);
}

/** What the chamber's kernels need of shields. */
export function plainShields(shields: readonly BatchShield[]): Shield[] {
  return shields.map(({ heightMm, azimuthDeg, outline }) => ({ heightMm, azimuthDeg, outline }));
}
