import type { Medium } from '../optics/medium.ts';
import type { IndexFunction } from './coated-surface.ts';
import type { Requirement } from './requirement.ts';
import { bandGrid, readingWeights } from './wavelength-grid.ts';

/** One spectrum that the merit needs: a band, an angle and a polarization, with every medium's index on it. */
export interface MeritChannel {
  readonly wavelengthNm: Float64Array;
  readonly incidenceDeg: number;
  readonly polarization: Requirement['polarization'];
  readonly incident: Medium;
  readonly substrate: Medium;
  /** The palette's materials on this band. */
  readonly palette: readonly Medium[];
}

/** One requirement as the merit sees it. */
export interface MeritGoal {
  readonly requirement: Requirement;
  /** Places of its channels, one an angle. */
  readonly channels: readonly number[];
  /** Shares of the wavelengths in a mean (`readingWeights`), adding up to 1. */
  readonly shares: Float64Array;
  /** Share of the requirement's weight in all weights. */
  readonly weight: number;
  /** The loss (0..1) that the limit allows: the limit itself where less is good, else what it leaves to 1. */
  readonly allowedLoss: number;
}

/** Everything about the requirements and media that doesn't depend on the stack. */
export interface MeritGrid {
  readonly channels: readonly MeritChannel[];
  readonly goals: readonly MeritGoal[];
}

/** A limit of 0 (or, where more is good, of 100 %) can't be met; the merit then measures against 0.01 %. */
export const LEAST_ALLOWED_LOSS = 1e-4;

/**
 * Lays the requirements out on wavelengths: `points` for the widest band in wavenumber and fewer, but at least 9,
 * for narrower ones. Requirements on the same band, angle and polarization share a channel.
 */
export function meritGrid(
  requirements: readonly Requirement[],
  incident: IndexFunction,
  substrate: IndexFunction,
  palette: readonly IndexFunction[],
  points = 61,
): MeritGrid {
  const channels: MeritChannel[] = [];
  const places = new Map<string, number>();
  const bands = new Map<string, Pick<MeritChannel, 'wavelengthNm' | 'incident' | 'substrate' | 'palette'>>();
  const widest = Math.max(...requirements.map(({ bandNm }) => 1 / bandNm[0] - 1 / bandNm[1]));
  const totalWeight = requirements.reduce((sum, { weight }) => sum + weight, 0);
  const goals = requirements.map((requirement): MeritGoal => {
    const { bandNm, polarization, sense, limit } = requirement;
    const share = widest > 0 ? (1 / bandNm[0] - 1 / bandNm[1]) / widest : 0;
    const count = bandNm[0] === bandNm[1] ? 1 : 2 * Math.max(4, Math.round((share * (points - 1)) / 2)) + 1;
    const bandKey = `${bandNm[0]} ${bandNm[1]}`;
    let band = bands.get(bandKey);
    if (band === undefined) {
      const wavelengthNm = bandGrid(bandNm, count);
      band = {
        wavelengthNm,
        incident: incident(wavelengthNm),
        substrate: substrate(wavelengthNm),
        palette: palette.map((index) => index(wavelengthNm)),
      };
      bands.set(bandKey, band);
    }
    const ownChannels = requirement.incidenceDeg.map((incidenceDeg) => {
      const seen = incidenceDeg === 0 ? 'mean' : polarization;
      const key = `${bandKey} ${incidenceDeg} ${seen}`;
      const known = places.get(key);
      if (known !== undefined) return known;
      places.set(key, channels.length);
      channels.push({ ...band, incidenceDeg, polarization: seen });
      return channels.length - 1;
    });
    const allowed = sense === 'below' ? limit / 100 : 1 - limit / 100;
    return {
      requirement,
      channels: ownChannels,
      shares: readingWeights(count),
      weight: requirement.weight / totalWeight,
      allowedLoss: Math.max(allowed, LEAST_ALLOWED_LOSS),
    };
  });
  return { channels, goals };
}
