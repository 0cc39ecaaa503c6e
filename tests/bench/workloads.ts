import { Random } from '../../src/math/random.ts';
import type { Polarization, StackOnGrid } from '../../src/optics/stack-on-grid.ts';

/** One computation that all contestants repeat: the whole spectrum for thicknesses that changed. */
export interface Workload {
  readonly name: string;
  readonly what: string;
  readonly stack: StackOnGrid;
  readonly incidenceRad: number;
  readonly polarizations: readonly Polarization[];
  readonly absorbing: boolean;
  readonly thicknessNm: Float64Array;
}

/** Nanoseconds are counted for each layer, wavelength and polarization. */
export function unitsOf({ stack, polarizations }: Workload): number {
  return stack.layers.length * stack.wavelengthNm.length * polarizations.length;
}

/** W1, W2 and W3: smooth invented indices of a high and a low film, thicknesses drawn with a seed. */
export function workloads(): Workload[] {
  return [
    workload('W1', '8 layers, 401 wavelengths, normal, lossless', 8, 401, 0, ['s'], 0),
    workload(
      'W2',
      '24 layers, 1001 wavelengths, 45°, s and p, lossless',
      24,
      1001,
      Math.PI / 4,
      ['s', 'p'],
      0,
    ),
    workload('W3', 'as W2, every layer absorbing', 24, 1001, Math.PI / 4, ['s', 'p'], 1e-3),
  ];
}

function workload(
  name: string,
  what: string,
  layerCount: number,
  wavelengthCount: number,
  incidenceRad: number,
  polarizations: readonly Polarization[],
  k: number,
): Workload {
  const random = new Random(1);
  const wavelengthNm = Float64Array.from(
    { length: wavelengthCount },
    (_, i) => 400 + (400 * i) / (wavelengthCount - 1),
  );
  const film = (a: number, b: number) => ({
    n: wavelengthNm.map((nm) => a + b / (nm / 1000) ** 2),
    k: wavelengthNm.map((nm) => (k * 500) / nm),
  });
  const constant = (n: number) => ({ n: wavelengthNm.map(() => n), k: wavelengthNm.map(() => 0) });
  const [high, low] = [film(2.1, 0.02), film(1.45, 0.004)];
  return {
    name,
    what,
    stack: {
      wavelengthNm,
      incident: constant(1),
      layers: Array.from({ length: layerCount }, (_, j) => (j % 2 === 0 ? high : low)),
      substrate: constant(1.52),
    },
    incidenceRad,
    polarizations,
    absorbing: k > 0,
    thicknessNm: Float64Array.from({ length: layerCount }, () => 40 + 80 * random.uniform()),
  };
}
