import { RAD_PER_DEG } from '../../base/constants.ts';
import { remember } from '../../base/remember.ts';
import type { CoatedSurface } from '../../design/coated-surface.ts';
import { evaluateRequirements } from '../../design/evaluate.ts';
import { describeRequirement, type Requirement } from '../../design/requirement.ts';
import { gradedIndex } from '../../materials/grading.ts';
import { findMaterial } from '../../materials/library.ts';
import { computeSpectrum } from '../../optics/spectrum.ts';
import type { Batch, Surface } from '../document.ts';
import type { CoatedSide } from '../sides.ts';
import { labelOf } from './film-facts.ts';
import type { IndexBook } from './index-of.ts';
import type { LayerPlan, SurfacePlan } from './plan-types.ts';
import { residualColour } from './residual-colour.ts';

/** Where a surface has no requirement, the visible range is shown. */
const VISIBLE_NM: readonly [number, number] = [400, 700];
/** Points of the charted spectrum. */
const CHART_POINTS = 281;

/** Everything about one coated side that follows from glass, stack and requirements. */
export function planSurface(
  document: Batch,
  { surface }: Pick<CoatedSide, 'surface'>,
  book: IndexBook,
): Omit<SurfacePlan, 'side' | 'own'> {
  const bandNm = bandOf(surface.requirements);
  const referenceWavelengthNm = referenceOf(bandNm);
  const optical = coatedSurface(document, surface, book);
  const results = evaluateRequirements(surface.requirements, optical);
  const requirements = surface.requirements.map((requirement, index) => {
    const result = results[index]!;
    return {
      text: describeRequirement(requirement),
      valuePercent: result.value,
      limitPercent: result.limit,
      sense: requirement.sense,
      met: result.met,
      marginPercent: result.margin,
      worstIncidenceDeg: result.worstIncidenceDeg,
      worstWavelengthNm: result.worstWavelengthNm,
    };
  });
  const layers = surface.layers.map((layer): LayerPlan => {
    const referenceIndex = book.indexAt(layer.material, referenceWavelengthNm);
    return {
      id: layer.id,
      material: layer.material,
      label: labelOf(findMaterial(layer.material, document.materials), layer.material),
      thicknessNm: layer.thicknessNm,
      locked: layer.locked ?? false,
      ...(layer.grading && { grading: layer.grading }),
      referenceIndex,
      quarterWaves: (4 * referenceIndex * layer.thicknessNm) / referenceWavelengthNm,
      inRange: book.reaches(layer.material, bandNm),
    };
  });
  const wavelengthNm = chartGrid(bandNm);
  const onGrid = {
    wavelengthNm,
    incident: optical.incident(wavelengthNm),
    layers: optical.layers.map(({ index }) => index(wavelengthNm)),
    substrate: optical.substrate(wavelengthNm),
  };
  const thicknessNm = Float64Array.from(surface.layers, (layer) => layer.thicknessNm);
  const angles = anglesOf(surface.requirements);
  const coated = computeSpectrum(onGrid, thicknessNm, {
    incidenceRad: angles.map((angle) => angle * RAD_PER_DEG),
  });
  const bare = computeSpectrum({ ...onGrid, layers: [] }, new Float64Array(0), {
    incidenceRad: [angles[0]! * RAD_PER_DEG],
  });
  return {
    substrateLabel: labelOf(
      findMaterial(document.order.lens.substrate, document.materials),
      document.order.lens.substrate,
    ),
    layers,
    totalThicknessNm: surface.layers.reduce((sum, layer) => sum + layer.thicknessNm, 0),
    referenceWavelengthNm,
    requirements,
    allMet: requirements.every(({ met }) => met),
    wavelengthNm,
    curves: angles.map((incidenceDeg, index) => ({ incidenceDeg, ...coated[index]! })),
    bare: bare[0]!.mean.R,
    residual: residualColour(optical, angles[0]! * RAD_PER_DEG),
  };
}

/** The surface as the light meets it. */
export function coatedSurface({ order }: Batch, surface: Surface, book: IndexBook): CoatedSurface {
  const shortestNm = chartGrid(bandOf(surface.requirements))[0]!;
  return {
    incident: book.of(surface.incident),
    layers: surface.layers.map(({ id, material, thicknessNm, grading }) => ({
      index: gradedIndex(book.of(material), grading, thicknessNm, shortestNm, `layer "${id}"`),
      thicknessNm,
    })),
    substrate: book.of(order.lens.substrate),
  };
}

/** The least band that holds all the requirements' bands. */
export function bandOf(requirements: readonly Requirement[]): readonly [number, number] {
  if (requirements.length === 0) return VISIBLE_NM;
  return [
    Math.min(...requirements.map(({ bandNm }) => bandNm[0])),
    Math.max(...requirements.map(({ bandNm }) => bandNm[1])),
  ];
}

/** The middle of the band on the scale of wave numbers, which is where quarter waves are counted. */
export function referenceOf([from, to]: readonly [number, number]): number {
  return Math.round((2 * from * to) / (from + to));
}

/** The angles that the requirements name, ascending; normal incidence where there are none. */
export function anglesOf(requirements: readonly Requirement[]): number[] {
  const angles = new Set(requirements.flatMap(({ incidenceDeg }) => incidenceDeg));
  return angles.size === 0 ? [0] : [...angles].sort((first, second) => first - second);
}

/** Most edits leave the bands alone: on the same grid the indices are known from the plan before. */
const gridOver = remember(
  ({ start, end }: { readonly start: number; readonly end: number }): Float64Array =>
    Float64Array.from(
      { length: CHART_POINTS },
      (_, index) => start + ((end - start) * index) / (CHART_POINTS - 1),
    ),
);

/** Wavelengths of a chart: the band and a little beyond on both sides, or as far as `reachNm` goes. Not to be changed. */
export function chartGrid(
  [from, to]: readonly [number, number],
  [least, most]: readonly [number, number] = [from, to],
): Float64Array {
  const margin = Math.max(0.15 * (to - from), 0.03 * from);
  const start = Math.min(least, Math.max(Math.round(from - margin), 150));
  const end = Math.max(most, Math.round(to + margin));
  return gridOver({ start, end });
}
