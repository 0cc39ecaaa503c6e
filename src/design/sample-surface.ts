import { RAD_PER_DEG } from '../base/constants.ts';
import type { Medium } from '../optics/medium.ts';
import { SpectrumSolver } from '../optics/spectrum-solver.ts';
import type { CoatedSurface, IndexFunction } from './coated-surface.ts';
import type { Requirement } from './requirement.ts';

/** What a requirement speaks of, and for which light. */
export type Observed = Pick<Requirement, 'quantity' | 'polarization'>;

/** The observed quantity (0..1) at each wavelength (nm) and one angle in the incident medium. */
export type Sampler = (wavelengthNm: Float64Array, incidenceDeg: number, observed: Observed) => Float64Array;

/** Samples one coated surface; for absorptance the light that enters the substrate counts as transmitted. */
export function surfaceSampler(surface: CoatedSurface): Sampler {
  const thicknessNm = Float64Array.from(surface.layers, (layer) => layer.thicknessNm);
  return (wavelengthNm, incidenceDeg, { quantity, polarization }) => {
    const known = new Map<IndexFunction, Medium>();
    for (const { index } of surface.layers) if (!known.has(index)) known.set(index, index(wavelengthNm));
    const stack = {
      wavelengthNm,
      incident: surface.incident(wavelengthNm),
      layers: surface.layers.map((layer) => known.get(layer.index)!),
      substrate: surface.substrate(wavelengthNm),
    };
    const size = wavelengthNm.length;
    const result = new Float64Array(size);
    const [r, t] = [new Float64Array(size), new Float64Array(size)];
    const polarizations = polarizationsOf(polarization, incidenceDeg);
    for (const one of polarizations) {
      new SpectrumSolver(stack, incidenceDeg * RAD_PER_DEG, one).spectrum(thicknessNm, r, t);
      for (let i = 0; i < size; i++) {
        const value = quantity === 'R' ? r[i]! : quantity === 'T' ? t[i]! : 1 - r[i]! - t[i]!;
        result[i]! += value / polarizations.length;
      }
    }
    return result;
  };
}

/** The polarizations to compute: at normal incidence one stands for both. */
export function polarizationsOf(
  polarization: Requirement['polarization'],
  incidenceDeg: number,
): readonly ('s' | 'p')[] {
  if (incidenceDeg === 0) return ['s'];
  return polarization === 'mean' ? ['s', 'p'] : [polarization];
}

/** The stack's optical thickness in nm at one wavelength: what sets the distance of its fringes. */
export function opticalThicknessNm(surface: CoatedSurface, wavelengthNm: number): number {
  const at = Float64Array.of(wavelengthNm);
  return surface.layers.reduce((sum, layer) => sum + layer.index(at).n[0]! * layer.thicknessNm, 0);
}
