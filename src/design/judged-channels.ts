import type { Medium } from '../optics/medium.ts';
import type { CoatedSurface } from './coated-surface.ts';
import { type LightChannel, lightChannel } from './light-channel.ts';
import { type Light, lightStatistic } from './light-statistic.ts';
import type { Requirement } from './requirement.ts';
import { opticalThicknessNm } from './sample-surface.ts';
import { bandGrid, meanWeights, pointsForBand } from './wavelength-grid.ts';

/** A value met by rounding alone counts as met: 1e-9 of a percent. */
const ROUNDING_PERCENT = 1e-9;

/** A requirement as many coatings are judged by it; plain data. */
export interface JudgedGoal {
  readonly requirement: Requirement;
  /** Places of its channels in a `ChannelBook`, one an angle. */
  readonly channels: readonly number[];
  readonly weights: Float64Array;
}

/** The light that requirements on one surface ask for; those on the same band, angle and polarization share a channel. */
export class ChannelBook {
  readonly channels: LightChannel[] = [];
  readonly #surface: CoatedSurface;
  readonly #places = new Map<string, number>();

  constructor(surface: CoatedSurface) {
    this.#surface = surface;
  }

  /** The requirements on the grids and with the means of `evaluateRequirements`. */
  goals(requirements: readonly Requirement[]): JudgedGoal[] {
    return requirements.map((requirement) => {
      const { bandNm, incidenceDeg, polarization } = requirement;
      const points = pointsForBand(bandNm, opticalThicknessNm(this.#surface, bandNm[0]));
      const grid = bandGrid(bandNm, points);
      return {
        requirement,
        channels: incidenceDeg.map((angle) => this.placeOf(grid, angle, polarization)),
        weights: meanWeights(grid.length),
      };
    });
  }

  /** The place of the channel for this light, which is made where there is none yet. */
  placeOf(
    wavelengthNm: Float64Array,
    incidenceDeg: number,
    polarization: Requirement['polarization'],
  ): number {
    const seen = incidenceDeg === 0 ? 'mean' : polarization;
    const key = `${wavelengthNm[0]} ${wavelengthNm.at(-1)} ${wavelengthNm.length} ${incidenceDeg} ${seen}`;
    const known = this.#places.get(key);
    if (known !== undefined && isSame(this.channels[known]!.wavelengthNm, wavelengthNm)) return known;
    this.#places.set(key, this.channels.length);
    this.channels.push(lightChannel(this.#surface, wavelengthNm, incidenceDeg, seen));
    return this.channels.length - 1;
  }
}

/** Whether a goal is met by the light of its channels; `lightAt` gives that of a place and is asked no more than needed. */
export function isMet(
  { requirement, channels, weights }: JudgedGoal,
  lightAt: (place: number) => Light,
): boolean {
  const { sense, limit } = requirement;
  return channels.every((place) => {
    const value = 100 * lightStatistic(requirement, lightAt(place), weights);
    return (sense === 'below' ? limit - value : value - limit) >= -ROUNDING_PERCENT;
  });
}

/**
 * The channel with the index of each layer multiplied by its own factor; those of a plate's back follow the front's,
 * left out they are 1.
 * @param kFactors factors on k; left out: k stays.
 */
export function withIndexFactors(
  channel: LightChannel,
  nFactors: Float64Array,
  kFactors?: Float64Array,
): LightChannel {
  const scaled = (medium: Medium, layer: number): Medium => ({
    ...medium,
    n: times(medium.n, nFactors[layer]),
    k: times(medium.k, kFactors?.[layer]),
  });
  const { layers, plate } = channel;
  return {
    ...channel,
    layers: layers.map(scaled),
    ...(plate === undefined
      ? {}
      : {
          plate: {
            ...plate,
            backLayers: plate.backLayers.map((medium, layer) => scaled(medium, layers.length + layer)),
          },
        }),
  };
}

function times(values: Float64Array, factor = 1): Float64Array {
  return factor === 1 ? values : values.map((value) => value * factor);
}

function isSame(one: Float64Array, other: Float64Array): boolean {
  return one.length === other.length && one.every((value, i) => value === other[i]);
}
