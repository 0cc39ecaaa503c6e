import type { CoatedSurface } from '../../design/coated-surface.ts';
import { COLOUR_WAVELENGTHS_NM, colourOf } from '../../optics/colour.ts';
import { computeSpectrum } from '../../optics/spectrum.ts';
import type { SurfacePlan } from './plan-types.ts';

/** Luminance (white has 100) to which the weak residual is brightened so that its hue can be seen. */
const VIVID_Y = 40;

/** The colour of what a coated surface still reflects, under daylight, unpolarized. */
export function residualColour(surface: CoatedSurface, incidenceRad: number): SurfacePlan['residual'] {
  const stack = {
    wavelengthNm: COLOUR_WAVELENGTHS_NM,
    incident: surface.incident(COLOUR_WAVELENGTHS_NM),
    layers: surface.layers.map(({ index }) => index(COLOUR_WAVELENGTHS_NM)),
    substrate: surface.substrate(COLOUR_WAVELENGTHS_NM),
  };
  const thicknessNm = Float64Array.from(surface.layers, (layer) => layer.thicknessNm);
  const reflectance = computeSpectrum(stack, thicknessNm, { incidenceRad: [incidenceRad] })[0]!.mean.R;
  const { srgb, L, a, b, Y } = colourOf(reflectance, 'D65');
  const gain = Y > 0 ? VIVID_Y / Y : 1;
  const vivid = colourOf(
    reflectance.map((value) => gain * value),
    'D65',
  ).srgb;
  return { srgb, vivid, L, a, b };
}
