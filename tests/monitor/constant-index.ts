import type { IndexOf } from '../../src/monitor/witness.ts';

/** A material whose index is the same at every wavelength. */
export function constantIndex(n: number, k = 0): IndexOf {
  return (wavelengthNm) => ({ n: wavelengthNm.map(() => n), k: wavelengthNm.map(() => k) });
}
