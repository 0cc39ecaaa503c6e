import { RAD_PER_DEG } from '../base/constants.ts';
import { turnRound } from '../optics/graded-stack.ts';
import type { Medium } from '../optics/medium.ts';
import { crossingSeries, internalTransmittance } from '../optics/plate.ts';
import { SpectrumSolver } from '../optics/spectrum-solver.ts';
import type { Polarization } from '../optics/stack-on-grid.ts';
import type { CoatedSurface, IndexFunction } from './coated-surface.ts';
import type { Requirement } from './requirement.ts';

/** A surface or plate with its indices on one grid of wavelengths, for one kind of light; plain data. */
export interface LightChannel {
  readonly wavelengthNm: Float64Array;
  readonly incidenceDeg: number;
  readonly polarization: Requirement['polarization'];
  readonly incident: Medium;
  readonly layers: readonly Medium[];
  readonly substrate: Medium;
  readonly plate?: {
    readonly thicknessMm: number;
    readonly backLayers: readonly Medium[];
    readonly exit: Medium;
  };
}

/** Looks a surface's indices up on a grid of wavelengths (nm); equal materials share one medium. */
export function lightChannel(
  surface: CoatedSurface,
  wavelengthNm: Float64Array,
  incidenceDeg: number,
  polarization: Requirement['polarization'],
): LightChannel {
  const known = new Map<IndexFunction, Medium>();
  const medium = (index: IndexFunction): Medium => {
    const found = known.get(index) ?? index(wavelengthNm);
    known.set(index, found);
    return found;
  };
  const { plate } = surface;
  return {
    wavelengthNm,
    incidenceDeg,
    polarization,
    incident: medium(surface.incident),
    layers: surface.layers.map(({ index }) => medium(index)),
    substrate: medium(surface.substrate),
    ...(plate === undefined
      ? {}
      : {
          plate: {
            thicknessMm: plate.thicknessMm,
            backLayers: plate.backLayers.map(({ index }) => medium(index)),
            exit: medium(plate.exit),
          },
        }),
  };
}

/** The polarizations to compute: at normal incidence one stands for both. */
export function polarizationsOf(
  polarization: Requirement['polarization'],
  incidenceDeg: number,
): readonly Polarization[] {
  if (incidenceDeg === 0) return ['s'];
  return polarization === 'mean' ? ['s', 'p'] : [polarization];
}

/** R and T of a channel for thicknesses that change, averaged over its polarizations, in place. */
export class ChannelLight {
  readonly R: Float64Array;
  readonly T: Float64Array;
  readonly #polarized: readonly PolarizedLight[];

  constructor(channel: LightChannel) {
    const size = channel.wavelengthNm.length;
    this.#polarized = polarizationsOf(channel.polarization, channel.incidenceDeg).map(
      (polarization) => new PolarizedLight(channel, polarization),
    );
    const [first] = this.#polarized;
    this.R = this.#polarized.length === 1 ? first!.R : new Float64Array(size);
    this.T = this.#polarized.length === 1 ? first!.T : new Float64Array(size);
  }

  /** Thicknesses in nm in the order of deposition; those of the back only where there is a plate. */
  update(frontNm: Float64Array, backNm: Float64Array): void {
    for (const light of this.#polarized) light.update(frontNm, backNm);
    const [first, second] = this.#polarized;
    if (second === undefined) return;
    for (let i = 0; i < this.R.length; i++) {
      this.R[i] = (first!.R[i]! + second.R[i]!) / 2;
      this.T[i] = (first!.T[i]! + second.T[i]!) / 2;
    }
  }
}

/**
 * One polarization. The plate's second surface adds the geometric series of intensities (as `addSecondSurface` of the
 * optics, with its solvers kept): R = R1 + T1² τ² R2 / (1 - τ² R1' R2), T = T1 T2 τ / (1 - τ² R1' R2).
 */
class PolarizedLight {
  readonly R: Float64Array;
  readonly T: Float64Array;
  readonly #front: SpectrumSolver;
  readonly #back:
    | {
        readonly fromWithin: SpectrumSolver;
        readonly beyond: SpectrumSolver;
        readonly once: Float64Array;
        readonly r1: Float64Array;
        readonly r2: Float64Array;
        readonly t2: Float64Array;
        readonly spare: Float64Array;
      }
    | undefined;

  constructor(channel: LightChannel, polarization: Polarization) {
    const { wavelengthNm, incident, layers, substrate, plate } = channel;
    const size = wavelengthNm.length;
    const angle = channel.incidenceDeg * RAD_PER_DEG;
    const stack = { wavelengthNm, incident, layers, substrate };
    this.R = new Float64Array(size);
    this.T = new Float64Array(size);
    this.#front = new SpectrumSolver(stack, angle, polarization);
    if (plate === undefined) return;
    const within = (outward: readonly Medium[], outside: Medium) =>
      new SpectrumSolver(
        { wavelengthNm, incident: substrate, layers: turnRound(outward), substrate: outside },
        angle,
        polarization,
        incident,
      );
    const array = () => new Float64Array(size);
    this.#back = {
      fromWithin: within(layers, incident),
      beyond: within(plate.backLayers, plate.exit),
      once: internalTransmittance(stack, plate.thicknessMm, angle),
      r1: array(),
      r2: array(),
      t2: array(),
      spare: array(),
    };
  }

  update(frontNm: Float64Array, backNm: Float64Array): void {
    this.#front.spectrum(frontNm, this.R, this.T);
    const back = this.#back;
    if (back === undefined) return;
    const { once, r1, r2, t2, spare } = back;
    back.fromWithin.spectrum(frontNm.toReversed(), r1, spare);
    back.beyond.spectrum(backNm.toReversed(), r2, t2);
    for (let i = 0; i < once.length; i++) {
      const t1 = this.T[i]!;
      if (t1 === 0) continue;
      const crossing = once[i]!;
      const series = t1 * crossingSeries(t1, r1[i]!, t2[i]!, r2[i]!, crossing);
      this.R[i]! += series * t1 * crossing * crossing * r2[i]!;
      this.T[i] = series * t2[i]! * crossing;
    }
  }
}

/** The quantity that a requirement speaks of, from R and T at one wavelength. */
export function quantityOf(quantity: Requirement['quantity'], r: number, t: number): number {
  return quantity === 'R' ? r : quantity === 'T' ? t : 1 - r - t;
}
