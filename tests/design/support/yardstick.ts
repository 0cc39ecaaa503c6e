import type { IndexFunction } from '../../../src/design/coated-surface.ts';
import type { Requirement } from '../../../src/design/requirement.ts';

/** n = A + B/λ² + C/λ⁴, λ in µm. */
export function cauchyIndex(a: number, b: number, c = 0): IndexFunction {
  return (wavelengthNm) => ({
    n: wavelengthNm.map((nm) => a + b / (nm / 1000) ** 2 + c / (nm / 1000) ** 4),
    k: new Float64Array(wavelengthNm.length),
  });
}

/** Smooth stand-ins for usual films and a crown glass, invented to be easy to state. */
export const FILMS: readonly { readonly id: string; readonly index: IndexFunction }[] = [
  { id: 'low', index: cauchyIndex(1.37, 0.003) },
  { id: 'lowish', index: cauchyIndex(1.448, 0.0036) },
  { id: 'middle', index: cauchyIndex(1.612, 0.0056) },
  { id: 'highish', index: cauchyIndex(2.05, 0.015) },
  { id: 'high', index: cauchyIndex(2.195, 0.025, 0.002) },
];
export const GLASS = cauchyIndex(1.504595, 0.004214);
export const AIR = cauchyIndex(1, 0);

/** A requirement on reflectance, 420-680 nm at normal incidence unless changed. */
export function reflectance(change: Partial<Requirement> = {}): Requirement {
  return {
    quantity: 'R',
    statistic: 'mean',
    limit: 0.4,
    sense: 'below',
    bandNm: [420, 680],
    incidenceDeg: [0],
    polarization: 'mean',
    weight: 1,
    ...change,
  };
}
