import type { VapourSource } from '../../chamber/vapour-source.ts';
import type { Batch, BatchShield } from '../document.ts';
import { processOf } from './film-facts.ts';
import { shieldsOf } from './shields-of.ts';

/** A source that a material comes from. */
export interface VapourShare {
  readonly id: string;
  /** Part of the evaporated mass that leaves it; all shares of a material make 1. */
  readonly share: number;
  readonly source: VapourSource;
  /** What stands in its way. */
  readonly shields: readonly BatchShield[];
}

/** The sources from which a material comes at the same time: one, or two that fire together. */
export function vapourOf(document: Batch, material: string): VapourShare[] {
  const { source, partner } = processOf(document, material);
  const one = (id: string, share: number): VapourShare => ({
    id,
    share,
    source: sourceOf(document, id),
    shields: shieldsOf(document, id),
  });
  if (partner === undefined) return [one(source, 1)];
  const share = partner.sharePercent / 100;
  return [one(source, 1 - share), one(partner.source, share)];
}

/** A source of the chamber as its kernels read it. */
export function sourceOf({ chamber }: Batch, id: string): VapourSource {
  const { offsetMm, azimuthDeg, exponent, heightMm } =
    chamber.sources.find((candidate) => candidate.id === id) ?? chamber.sources[0]!;
  return { offsetMm, azimuthDeg, exponent, ...(heightMm === undefined ? {} : { heightMm }) };
}
