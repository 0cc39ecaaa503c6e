import { InputError, requireWithin } from '../base/errors.ts';
import type { CoatedSurface, IndexFunction } from './coated-surface.ts';
import { refuseContradictions } from './contradictions.ts';
import { meritGrid } from './merit-grid.ts';
import type { Requirement } from './requirement.ts';
import type { SearchProblem } from './search/search-problem.ts';

/** A material that the search may use. */
export interface PoolMaterial {
  readonly id: string;
  readonly index: IndexFunction;
}

/** What is wanted, on what glass, from which materials, within which limits of manufacture. */
export interface DesignProblem {
  readonly incident: IndexFunction;
  readonly substrate: IndexFunction;
  /** Materials for new layers. */
  readonly pool: readonly PoolMaterial[];
  /** Materials that only a given stack uses; the search keeps them but makes no new layers of them. */
  readonly others?: readonly PoolMaterial[];
  readonly requirements: readonly Requirement[];
  /** 1 to MOST_LAYERS. */
  readonly maxLayers: number;
  /** Thinnest layer in nm, from 0.1. */
  readonly minNm: number;
  /** Thickest layer in nm; left out: 0.7 wavelengths of the longest band edge, but at least 350 nm. */
  readonly maxNm?: number;
  readonly maxTotalNm?: number;
  /** Most different materials: the pockets of the chamber. */
  readonly maxMaterials?: number;
}

export const MOST_LAYERS = 100;

/** Points of the search's grid, the same where there are many angles, and of the grid on which stacks are finished. */
export const SEARCH_POINTS = 21;
export const OBLIQUE_SEARCH_POINTS = 17;
export const FINAL_POINTS = 121;

/**
 * Checks the problem and lays it out for the search.
 * @throws InputError where it can't be worked on: no requirement, no material, limits that exclude one another.
 */
export function searchProblem(problem: DesignProblem, points = SEARCH_POINTS): SearchProblem {
  const { requirements, pool, others = [], maxLayers, minNm, maxTotalNm } = problem;
  if (requirements.length === 0)
    throw new InputError('requirements', 'the list is empty, so there is no goal');
  if (pool.length === 0)
    throw new InputError('pool', 'the list is empty, so there is nothing to make layers of');
  requireWithin('maxLayers', maxLayers, 'layers', { min: 1, max: MOST_LAYERS });
  requireWithin('minThicknessNm', minNm, 'nm', { min: 0.1, max: 1000 });
  refuseContradictions(requirements);
  const longest = Math.max(...requirements.map(({ bandNm }) => bandNm[1]));
  const maxNm = problem.maxNm ?? Math.max(350, 0.7 * longest);
  requireWithin('maxThicknessNm', maxNm, 'nm', { min: minNm });
  if (maxTotalNm !== undefined) requireWithin('maxTotalNm', maxTotalNm, 'nm', { min: minNm });
  const maxMaterials = problem.maxMaterials ?? Number.POSITIVE_INFINITY;
  requireWithin('maxMaterials', Math.min(maxMaterials, 100), 'materials', { min: 1 });
  const referenceNm = referenceWavelength(requirements);
  const at = Float64Array.of(referenceNm);
  const palette = [...pool, ...others];
  const grid = meritGrid(
    requirements,
    problem.incident,
    problem.substrate,
    palette.map(({ index }) => index),
    points,
  );
  requireTransparentIncident(grid.channels);
  return {
    grid,
    poolSize: pool.length,
    paletteIndex: palette.map(({ index }) => index(at).n[0]!),
    incidentIndex: problem.incident(at).n[0]!,
    substrateIndex: problem.substrate(at).n[0]!,
    referenceNm,
    // One material can only make one layer: layers of the same material lie together as one.
    maxLayers: palette.length === 1 ? 1 : maxLayers,
    maxMaterials: Math.min(maxMaterials, palette.length),
    minNm,
    maxNm,
    ...(maxTotalNm === undefined ? {} : { maxTotalNm }),
  };
}

function requireTransparentIncident(
  channels: readonly { wavelengthNm: Float64Array; incident: { k: Float64Array } }[],
): void {
  for (const { wavelengthNm, incident } of channels) {
    const at = incident.k.findIndex((k) => k !== 0);
    if (at >= 0)
      throw new InputError(
        'incident',
        `k is ${incident.k[at]} at ${wavelengthNm[at]} nm; the medium that the light comes from must not absorb`,
      );
  }
}

/** The wavelength in nm that stands for the requirements: the middle, in wavenumber, of all bands together. */
export function referenceWavelength(requirements: readonly Requirement[]): number {
  const shortest = Math.min(...requirements.map(({ bandNm }) => bandNm[0]));
  const longest = Math.max(...requirements.map(({ bandNm }) => bandNm[1]));
  return 2 / (1 / shortest + 1 / longest);
}

/** A stack of the search as a surface that can be evaluated. */
export function surfaceOf(
  problem: DesignProblem,
  { materials, thicknessNm }: { materials: readonly number[]; thicknessNm: Float64Array },
): CoatedSurface {
  const palette = [...problem.pool, ...(problem.others ?? [])];
  return {
    incident: problem.incident,
    layers: materials.map((place, layer) => ({
      index: palette[place]!.index,
      thicknessNm: thicknessNm[layer]!,
    })),
    substrate: problem.substrate,
  };
}
