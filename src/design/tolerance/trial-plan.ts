import type { CoatedSurface } from '../coated-surface.ts';
import { ChannelBook, type JudgedGoal } from '../judged-channels.ts';
import type { LightChannel } from '../light-channel.ts';
import type { Requirement } from '../requirement.ts';
import { thicknessesOf } from '../sample-surface.ts';
import { bandGrid } from '../wavelength-grid.ts';

/** One sigma of normal errors, independent from layer to layer; all from 0. */
export interface LayerErrors {
  readonly relativePercent: number;
  readonly absoluteNm: number;
  /** Of the index n. */
  readonly indexPercent: number;
}

/** Everything that one trial needs; plain data that can cross to another thread. */
export interface TrialPlan {
  readonly channels: readonly LightChannel[];
  readonly goals: readonly JudgedGoal[];
  /** The channel whose reflectance is kept for the bands. */
  readonly shownChannel: number;
  readonly frontNm: Float64Array;
  readonly backNm: Float64Array;
  readonly errors: LayerErrors;
  readonly seed: number;
}

/**
 * Lays a surface out for trials. The shown spectrum shares a requirement's channel where it can.
 * @param shownNm wavelengths of the shown spectrum; left out: 61 points over all bands.
 */
export function trialPlan(
  surface: CoatedSurface,
  requirements: readonly Requirement[],
  errors: LayerErrors,
  seed: number,
  shownNm?: Float64Array,
): TrialPlan {
  const book = new ChannelBook(surface);
  const goals = book.goals(requirements);
  const first = requirements[0];
  const from = Math.min(...requirements.map(({ bandNm }) => bandNm[0]));
  const to = Math.max(...requirements.map(({ bandNm }) => bandNm[1]));
  const shown = shownNm ?? bandGrid([from, to], 61);
  return {
    channels: book.channels,
    goals,
    shownChannel: book.placeOf(shown, first?.incidenceDeg[0] ?? 0, first?.polarization ?? 'mean'),
    ...thicknessesOf(surface),
    errors,
    seed,
  };
}
