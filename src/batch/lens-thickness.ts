import type { Batch } from './document.ts';

/** Sag of a sphere at height h from its axis, positive towards the back where the centre lies behind. */
export function sagMm(radiusMm: number | undefined, heightMm: number): number {
  if (radiusMm === undefined) return 0;
  const inside = radiusMm * radiusMm - heightMm * heightMm;
  return radiusMm - Math.sign(radiusMm) * Math.sqrt(Math.max(inside, 0));
}

/** Thickness at the edge in mm; not above zero where the faces meet before the edge. */
export function edgeThicknessMm({
  diameterMm,
  centreThicknessMm,
  frontRadiusMm,
  backRadiusMm,
}: Batch['order']['lens']): number {
  return centreThicknessMm + sagMm(backRadiusMm, diameterMm / 2) - sagMm(frontRadiusMm, diameterMm / 2);
}
