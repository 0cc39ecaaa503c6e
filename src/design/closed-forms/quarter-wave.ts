import { requireWithin } from '../../base/errors.ts';

/** Real indices from 1 (vacuum) to far above any film; what the closed forms accept. */
export const INDEX_LIMITS = { min: 1, max: 10 } as const;

/** The thickness in nm at which a layer of index `n` (1 to 10) is `quarters` quarter waves thick. */
export function quarterWaveNm(n: number, wavelengthNm: number, quarters = 1): number {
  requireWithin('n', n, '', INDEX_LIMITS);
  requireWithin('wavelengthNm', wavelengthNm, 'nm', { above: 0 });
  requireWithin('quarters', quarters, '', { min: 0 });
  return (quarters * wavelengthNm) / (4 * n);
}

/**
 * Reflectance (0..1) of one quarter wave of index `n` on a substrate at its own wavelength,
 * ((n0 ns - n²) / (n0 ns + n²))² (Born & Wolf, Principles of Optics, sec. 1.6.4). Zero where n² = n0 ns.
 */
export function quarterWaveReflectance(n: number, incident: number, substrate: number): number {
  const product = incident * substrate;
  return ((product - n * n) / (product + n * n)) ** 2;
}
