import type { MeritGrid } from '../merit-grid.ts';

/** What a search job needs, all of it plain data that can cross to another thread. */
export interface SearchProblem {
  readonly grid: MeritGrid;
  /** The palette's first `poolSize` materials may be used for new layers. */
  readonly poolSize: number;
  /** Real index of each palette material in the middle of the first band: for scaling thicknesses and ordering. */
  readonly paletteIndex: readonly number[];
  readonly incidentIndex: number;
  readonly substrateIndex: number;
  /** The wavelength in nm that stands for the requirements in closed forms and first guesses. */
  readonly referenceNm: number;
  readonly maxLayers: number;
  /** Most different materials in a stack: the pockets of the chamber. */
  readonly maxMaterials: number;
  readonly minNm: number;
  readonly maxNm: number;
  readonly maxTotalNm?: number;
}

/** A stack as the search handles it. `materials[i]` is a place in the palette; both lists from the substrate on. */
export interface Draft {
  readonly materials: readonly number[];
  readonly thicknessNm: Float64Array;
  readonly merit: number;
}

/** Points × polarizations of all channels: what one evaluation costs a layer. */
export function pointsOf(grid: MeritGrid): number {
  return grid.channels.reduce(
    (sum, { wavelengthNm, incidenceDeg, polarization }) =>
      sum + wavelengthNm.length * (incidenceDeg > 0 && polarization === 'mean' ? 2 : 1),
    0,
  );
}
