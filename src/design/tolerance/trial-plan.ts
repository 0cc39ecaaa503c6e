import type { CoatedSurface } from '../coated-surface.ts';
import { type LightChannel, lightChannel } from '../light-channel.ts';
import type { Requirement } from '../requirement.ts';
import { opticalThicknessNm, thicknessesOf } from '../sample-surface.ts';
import { bandGrid, meanWeights, pointsForBand } from '../wavelength-grid.ts';

/** One sigma of normal errors, independent from layer to layer; all from 0. */
export interface LayerErrors {
  readonly relativePercent: number;
  readonly absoluteNm: number;
  /** Of the index n. */
  readonly indexPercent: number;
}

/** A requirement as the trials judge it. */
export interface TrialGoal {
  readonly requirement: Requirement;
  /** Places of its channels, one an angle. */
  readonly channels: readonly number[];
  readonly weights: Float64Array;
}

/** Everything that one trial needs; plain data that can cross to another thread. */
export interface TrialPlan {
  readonly channels: readonly LightChannel[];
  readonly goals: readonly TrialGoal[];
  /** The channel whose reflectance is kept for the bands. */
  readonly shownChannel: number;
  readonly frontNm: Float64Array;
  readonly backNm: Float64Array;
  readonly errors: LayerErrors;
  readonly seed: number;
}

/**
 * Lays a surface out for trials. Requirements on the same band, angle and polarization share a channel, and so does
 * the shown spectrum where it can.
 * @param shownNm wavelengths of the shown spectrum; left out: 61 points over all bands.
 */
export function trialPlan(
  surface: CoatedSurface,
  requirements: readonly Requirement[],
  errors: LayerErrors,
  seed: number,
  shownNm?: Float64Array,
): TrialPlan {
  const channels: LightChannel[] = [];
  const places = new Map<string, number>();
  const placeOf = (wavelengthNm: Float64Array, angle: number, polarization: Requirement['polarization']) => {
    const seen = angle === 0 ? 'mean' : polarization;
    const key = `${wavelengthNm[0]} ${wavelengthNm.at(-1)} ${wavelengthNm.length} ${angle} ${seen}`;
    const known = places.get(key);
    if (known !== undefined && isSame(channels[known]!.wavelengthNm, wavelengthNm)) return known;
    places.set(key, channels.length);
    channels.push(lightChannel(surface, wavelengthNm, angle, seen));
    return channels.length - 1;
  };
  const goals = requirements.map((requirement): TrialGoal => {
    const { bandNm, incidenceDeg, polarization } = requirement;
    const grid = bandGrid(bandNm, pointsForBand(bandNm, opticalThicknessNm(surface, bandNm[0])));
    return {
      requirement,
      channels: incidenceDeg.map((angle) => placeOf(grid, angle, polarization)),
      weights: meanWeights(grid.length),
    };
  });
  const first = requirements[0];
  const from = Math.min(...requirements.map(({ bandNm }) => bandNm[0]));
  const to = Math.max(...requirements.map(({ bandNm }) => bandNm[1]));
  const shown = shownNm ?? bandGrid([from, to], 61);
  return {
    channels,
    goals,
    shownChannel: placeOf(shown, first?.incidenceDeg[0] ?? 0, first?.polarization ?? 'mean'),
    ...thicknessesOf(surface),
    errors,
    seed,
  };
}

function isSame(one: Float64Array, other: Float64Array): boolean {
  return one.length === other.length && one.every((value, i) => value === other[i]);
}
