import type { CoatedSurface } from './coated-surface.ts';
import { ChannelLight, lightChannel, quantityOf } from './light-channel.ts';
import type { Requirement } from './requirement.ts';

/** What a requirement speaks of, and for which light. */
export type Observed = Pick<Requirement, 'quantity' | 'polarization'>;

/** The observed quantity (0..1) at each wavelength (nm) and one angle in the incident medium. */
export type Sampler = (wavelengthNm: Float64Array, incidenceDeg: number, observed: Observed) => Float64Array;

/** Samples one coated surface or plate. Without a plate, light that enters the substrate counts as transmitted. */
export function surfaceSampler(surface: CoatedSurface): Sampler {
  const { frontNm, backNm } = thicknessesOf(surface);
  return (wavelengthNm, incidenceDeg, { quantity, polarization }) => {
    const light = new ChannelLight(lightChannel(surface, wavelengthNm, incidenceDeg, polarization));
    light.update(frontNm, backNm);
    return light.R.map((r, i) => quantityOf(quantity, r, light.T[i]!));
  };
}

/** The surface's thicknesses in nm, in the order of deposition. */
export function thicknessesOf({ layers, plate }: CoatedSurface): {
  readonly frontNm: Float64Array;
  readonly backNm: Float64Array;
} {
  return {
    frontNm: Float64Array.from(layers, ({ thicknessNm }) => thicknessNm),
    backNm: Float64Array.from(plate?.backLayers ?? [], ({ thicknessNm }) => thicknessNm),
  };
}

/** The stack's optical thickness in nm at one wavelength: what sets the distance of its fringes. */
export function opticalThicknessNm({ layers, plate }: CoatedSurface, wavelengthNm: number): number {
  const at = Float64Array.of(wavelengthNm);
  const sum = (list: CoatedSurface['layers']) =>
    list.reduce((total, layer) => total + layer.index(at).n[0]! * layer.thicknessNm, 0);
  return Math.max(sum(layers), sum(plate?.backLayers ?? []));
}
