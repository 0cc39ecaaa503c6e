import { requireWithin } from '../base/errors.ts';
import type { Medium } from '../optics/medium.ts';
import type { SlitShape } from './slit.ts';

/** The index of one material at any wavelengths asked for, in nm: N = n - ik, k >= 0, one value a wavelength. */
export type IndexOf = (wavelengthNm: Float64Array) => Medium;

/** The piece of glass that the monitor's light looks at while layers grow on it (and on the lenses). */
export interface Witness {
  readonly incident: IndexOf;
  readonly substrate: IndexOf;
  /** Thickness of the glass, from 0 to 1000 mm; counts for absorption in the glass. */
  readonly thicknessMm: number;
  /** `none`: ground, blackened or wedged, so that only the coated face counts. `bare`: polished, adds incoherently. */
  readonly backSurface: 'none' | 'bare';
  /** Angle of the light in the incident medium, rad, from 0 to below π/2; unpolarized light. Default 0. */
  readonly incidenceRad?: number;
}

/** One layer as the monitor sees it. */
export interface MonitoredLayer {
  readonly material: IndexOf;
  /**
   * Where the layer is graded: factors on its complex index of equally thick parts of the planned thickness, first on
   * the glass's side. What grows beyond the plan is as the last part.
   */
  readonly profile?: Float64Array;
  /** Planned thickness on the lens, nm, from 0 to 1e6. */
  readonly thicknessNm: number;
  /** Centre wavelength of the monitor's light, nm, from 50 to 1e6. */
  readonly wavelengthNm: number;
  /** Which light is measured. */
  readonly signal: 'R' | 'T';
  /** Width of the monitor's band, nm, from 0 to wavelength/2, and its shape. Default 0, rectangular. */
  readonly bandwidthNm?: number;
  readonly bandShape?: SlitShape;
  /** Thickness on the witness / thickness on the lens, from 0.01 to 100. Default 1. */
  readonly tooling?: number;
  /** The layer starts on a fresh piece of bare glass. Default false; the first layer always does. */
  readonly newWitness?: boolean;
}

/** @throws InputError where the witness or a layer is out of its legal range. */
export function checkMonitored(witness: Witness, layers: readonly MonitoredLayer[]): void {
  requireWithin('witness.thicknessMm', witness.thicknessMm, 'mm', { min: 0, max: 1000 });
  requireWithin('witness.incidenceRad', witness.incidenceRad ?? 0, 'rad', { min: 0, below: Math.PI / 2 });
  for (const [index, layer] of layers.entries()) {
    const at = `layers[${index}]`;
    requireWithin(`${at}.thicknessNm`, layer.thicknessNm, 'nm', { min: 0, max: 1e6 });
    requireWithin(`${at}.wavelengthNm`, layer.wavelengthNm, 'nm', { min: 50, max: 1e6 });
    requireWithin(`${at}.bandwidthNm`, layer.bandwidthNm ?? 0, 'nm', { min: 0, max: layer.wavelengthNm / 2 });
    requireWithin(`${at}.tooling`, layer.tooling ?? 1, '', { min: 0.01, max: 100 });
  }
}

/** Number of the layer (from 0) that was the first on the witness on which layer `index` grows. */
export function firstOnWitness(layers: readonly MonitoredLayer[], index: number): number {
  let first = index;
  while (first > 0 && layers[first]!.newWitness !== true) first--;
  return first;
}
