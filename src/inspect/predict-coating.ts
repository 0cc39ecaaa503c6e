import { RAD_PER_DEG } from '../base/constants.ts';
import type { Batch, MeasuredSpectrum, Surface } from '../batch/document.ts';
import { aimedLayers } from '../batch/plan/aim.ts';
import { IndexBook } from '../batch/plan/index-of.ts';
import { anglesOf, bandOf, chartGrid, coatedSurface } from '../batch/plan/surface-plan.ts';
import { evaluateRequirements, type RequirementResult } from '../design/evaluate.ts';
import { computeSpectrum } from '../optics/spectrum.ts';

/** How a layer is taken to differ from its plan. */
export interface LayerFactors {
  readonly thicknessFactor: number;
  readonly indexFactor?: number;
}

/** A coating that is expected, on the given wavelengths and against its requirements. */
export interface PredictedCoating {
  readonly wavelengthNm: Float64Array;
  readonly curves: readonly {
    readonly incidenceDeg: number;
    readonly mean: { readonly R: Float64Array; readonly T: Float64Array; readonly A: Float64Array };
  }[];
  /** One a requirement of the surface. */
  readonly results: readonly RequirementResult[];
}

/** Nothing differs from the plan. */
export function asPlanned({ layers }: Surface): LayerFactors[] {
  return layers.map(() => ({ thicknessFactor: 1 }));
}

/** The wavelengths that some spectra reach over; undefined where there are none. */
export function reachOf(spectra: readonly MeasuredSpectrum[]): [number, number] | undefined {
  if (spectra.length === 0) return undefined;
  return [
    Math.min(...spectra.map(({ wavelengthNm }) => wavelengthNm[0]!)),
    Math.max(...spectra.map(({ wavelengthNm }) => wavelengthNm.at(-1)!)),
  ];
}

/**
 * Light and requirements of a surface whose layers differ by `factors`, one a layer, from what the batch aims
 * at on the mean lens place. The curves
 * cover the requirements' bands, and `reachNm` where that is wider.
 */
export function predictCoating(
  batch: Batch,
  surface: Surface,
  factors: readonly LayerFactors[],
  reachNm?: readonly [number, number],
): PredictedCoating {
  const optical = coatedSurface(
    batch,
    { ...surface, layers: aimedLayers(batch, surface.layers) },
    new IndexBook(batch.materials),
  );
  const built = {
    ...optical,
    layers: optical.layers.map(({ index, thicknessNm }, place) => {
      const { thicknessFactor, indexFactor = 1 } = factors[place]!;
      return {
        thicknessNm: thicknessNm * thicknessFactor,
        index: (nm: Float64Array) => {
          const plain = index(nm);
          return indexFactor === 1 ? plain : { ...plain, n: plain.n.map((value) => value * indexFactor) };
        },
      };
    }),
  };
  const wavelengthNm = chartGrid(bandOf(surface.requirements), reachNm);
  const angles = anglesOf(surface.requirements);
  const light = computeSpectrum(
    {
      wavelengthNm,
      incident: built.incident(wavelengthNm),
      layers: built.layers.map(({ index }) => index(wavelengthNm)),
      substrate: built.substrate(wavelengthNm),
    },
    Float64Array.from(built.layers, ({ thicknessNm }) => thicknessNm),
    { incidenceRad: angles.map((angle) => angle * RAD_PER_DEG) },
  );
  return {
    wavelengthNm,
    curves: angles.map((incidenceDeg, place) => ({ incidenceDeg, mean: light[place]!.mean })),
    results: evaluateRequirements(surface.requirements, built),
  };
}
