import { spread } from '../support/spread.ts';

/** One layer of the cross-section. */
export interface SectionLayer {
  /** Name as it is read, such as "MgF₂". */
  readonly material: string;
  readonly thicknessNm: number;
  /** Refractive index at the design wavelength; shades the layer. */
  readonly index?: number;
  /** How much the index changes from the glass's side of the layer to its outer side, as a share of `index`. */
  readonly indexChange?: number;
  readonly locked?: boolean;
  /** How much an error of this layer costs, as a share (0..1) of the most sensitive one's. */
  readonly sensitivity?: number;
}

/** Where one layer lies in the picture, CSS pixels from its top. */
export interface LayerPlace {
  readonly topPx: number;
  readonly bottomPx: number;
  readonly labelPx: number;
}

/** The whole cross-section in CSS pixels. */
export interface SectionLayout {
  readonly heightPx: number;
  /** Height of the glass's surface. */
  readonly surfacePx: number;
  readonly pxPerNm: number;
  /** By layer, in the order of deposition. */
  readonly layers: readonly LayerPlace[];
}

/** Least distance between labels: a finger's target (WCAG 2.2, 2.5.8). */
export const LABEL_PX = 26;
const AIR_PX = 44;
const GLASS_PX = 48;

/**
 * Lays the stack out from the glass up, to scale: the film fills what the air above and the glass below leave
 * of `heightPx`, which grows where that many labels need more. `pxPerNm` holds the scale while a boundary moves.
 */
export function sectionLayout(
  layers: readonly Pick<SectionLayer, 'thicknessNm'>[],
  heightPx: number,
  pxPerNm?: number,
): SectionLayout {
  const height = Math.max(heightPx, AIR_PX + GLASS_PX + LABEL_PX * layers.length);
  const surfacePx = height - GLASS_PX;
  const totalNm = layers.reduce((sum, layer) => sum + layer.thicknessNm, 0);
  const scale = pxPerNm ?? (totalNm > 0 ? (surfacePx - AIR_PX) / totalNm : 0);
  let top = surfacePx;
  const edges = layers.map((layer) => {
    const bottomPx = top;
    top -= layer.thicknessNm * scale;
    return { topPx: top, bottomPx };
  });
  const wanted = edges.map((edge) => (edge.topPx + edge.bottomPx) / 2).reverse();
  const labels = spread(wanted, LABEL_PX, LABEL_PX / 2, height - LABEL_PX / 2).reverse();
  return {
    heightPx: height,
    surfacePx,
    pxPerNm: scale,
    layers: edges.map((edge, i) => ({ ...edge, labelPx: labels[i]! })),
  };
}

/** A round step for a ruler of `spanNm` with about six marks: 1, 2 or 5 times a power of ten. */
export function rulerStepNm(spanNm: number): number {
  const rough = spanNm / 6;
  const power = 10 ** Math.floor(Math.log10(rough));
  const share = rough / power;
  return power * (share > 5 ? 10 : share > 2 ? 5 : share > 1 ? 2 : 1);
}

/** How dark a film is drawn, 0..1, from its index (1.35 to 2.45 spans the usual films). */
export function filmShade(index: number | undefined): number {
  return index === undefined ? 0.5 : Math.min(1, Math.max(0, (index - 1.35) / 1.1));
}
