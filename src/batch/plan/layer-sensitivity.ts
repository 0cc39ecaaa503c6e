import type { CoatedSurface } from '../../design/coated-surface.ts';
import { Merit } from '../../design/merit.ts';
import { meritGrid } from '../../design/merit-grid.ts';
import type { Requirement } from '../../design/requirement.ts';

/** The change of thickness that the sensitivity speaks of. */
const CHANGE = 0.01;

/**
 * For every layer, how much the merit rises when the layer is 1 % thicker or thinner, whichever is worse; the
 * merit is that of the search (a share of the limit). Zeros where there is no requirement.
 */
export function layerSensitivity(surface: CoatedSurface, requirements: readonly Requirement[]): number[] {
  if (requirements.length === 0) return surface.layers.map(() => 0);
  const palette = [...new Set(surface.layers.map(({ index }) => index))];
  const merit = new Merit(
    meritGrid(requirements, surface.incident, surface.substrate, palette),
    surface.layers.map(({ index }) => palette.indexOf(index)),
  );
  const thicknessNm = Float64Array.from(surface.layers, (layer) => layer.thicknessNm);
  const planned = merit.exact(thicknessNm);
  return surface.layers.map((layer, index) => {
    const worst = Math.max(
      ...[1 + CHANGE, 1 - CHANGE].map((factor) => {
        thicknessNm[index] = layer.thicknessNm * factor;
        return merit.exact(thicknessNm);
      }),
    );
    thicknessNm[index] = layer.thicknessNm;
    return Math.max(0, worst - planned);
  });
}
