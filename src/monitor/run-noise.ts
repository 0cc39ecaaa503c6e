import { requireWithin } from '../base/errors.ts';

/** What goes wrong in a chamber, and how often the instrument looks. "One sigma" is drawn from normal deviates. */
export interface RunNoise {
  /** One sigma of every reading of the signal, in percent of the full light (0.1 means 0.001 in R or T), 0 to 50. */
  readonly signalPercent: number;
  /** Drift of the signal's gain per minute since the witness was put in, %/min, -100 to 100. */
  readonly driftPercentPerMin: number;
  /** One sigma of the rate in each sample, %, 0 to 100. A rate below zero counts as zero. */
  readonly rateNoisePercent: number;
  /** The true rate is off the set one by this, %, -90 to 200. */
  readonly rateBiasPercent: number;
  /** One sigma of the crystal's scale, drawn anew for each layer, %, 0 to 100. */
  readonly crystalPercent: number;
  /** Deposition goes on for this long after the decision to cut, s, 0 to 60. */
  readonly shutterDelayS: number;
  /** Time from one reading to the next, s, 0.001 to 60. */
  readonly sampleS: number;
  /** One sigma of the signal's gain, drawn once a witness, %, 0 to 50. Default 0. */
  readonly gainPercent?: number;
  /** Time over which the rate's noise keeps its value (first-order), s, 0 to 1000. Default 0: every sample anew. */
  readonly rateCorrelationS?: number;
  /** The source dies away within each layer: loss of rate per minute, exponential, %/min, -50 to 99. Default 0. */
  readonly rateDecayPercentPerMin?: number;
  /** Spits of the source per minute (Poisson), 0 to 600, and the thickness that each adds on the lens, nm, 0 to 100. */
  readonly spitsPerMin?: number;
  readonly spitNm?: number;
  /** One sigma of the tooling witness/lens, drawn for each layer, %, 0 to 50. Default 0. */
  readonly toolingPercent?: number;
  /** The tooling witness/lens wanders by this from one layer to the next, %, -20 to 20. Default 0. */
  readonly toolingDriftPercent?: number;
  /** One sigma of each material's index against its record, drawn once a run, %, 0 to 20. Default 0. */
  readonly indexPercent?: number;
  /** Fall at which a crystal is lost on average, % of its budget, 10 to 1000. Default: never. */
  readonly crystalLifePercent?: number;
  /** One sigma of that life, % of itself, 0 to 100. Default 0. */
  readonly crystalLifeScatterPercent?: number;
  /** Of a crystal whose budget is used up, in proportion before: jitter of each reading (one sigma, nm, 0 to 10) ... */
  readonly crystalAgedNoiseNm?: number;
  /** ... and by how much it reads off, %, -20 to 20. Default 0 both. */
  readonly crystalAgedShiftPercent?: number;
}

/** A quiet chamber that reads every tenth of a second. */
export const NO_NOISE: RunNoise = {
  signalPercent: 0,
  driftPercentPerMin: 0,
  rateNoisePercent: 0,
  rateBiasPercent: 0,
  crystalPercent: 0,
  shutterDelayS: 0,
  sampleS: 0.1,
};

/** Legal range and unit of each field. */
export const NOISE_LIMITS: Readonly<Record<keyof RunNoise, { unit: string; min: number; max: number }>> = {
  signalPercent: { unit: '%', min: 0, max: 50 },
  driftPercentPerMin: { unit: '%/min', min: -100, max: 100 },
  rateNoisePercent: { unit: '%', min: 0, max: 100 },
  rateBiasPercent: { unit: '%', min: -90, max: 200 },
  crystalPercent: { unit: '%', min: 0, max: 100 },
  shutterDelayS: { unit: 's', min: 0, max: 60 },
  sampleS: { unit: 's', min: 0.001, max: 60 },
  gainPercent: { unit: '%', min: 0, max: 50 },
  rateCorrelationS: { unit: 's', min: 0, max: 1000 },
  rateDecayPercentPerMin: { unit: '%/min', min: -50, max: 99 },
  spitsPerMin: { unit: '1/min', min: 0, max: 600 },
  spitNm: { unit: 'nm', min: 0, max: 100 },
  toolingPercent: { unit: '%', min: 0, max: 50 },
  toolingDriftPercent: { unit: '%', min: -20, max: 20 },
  indexPercent: { unit: '%', min: 0, max: 20 },
  crystalLifePercent: { unit: '%', min: 10, max: 1000 },
  crystalLifeScatterPercent: { unit: '%', min: 0, max: 100 },
  crystalAgedNoiseNm: { unit: 'nm', min: 0, max: 10 },
  crystalAgedShiftPercent: { unit: '%', min: -20, max: 20 },
};

/** @throws InputError where a field is out of its range. */
export function checkNoise(noise: RunNoise): void {
  for (const [field, { unit, min, max }] of Object.entries(NOISE_LIMITS)) {
    const value = noise[field as keyof RunNoise];
    if (value !== undefined) requireWithin(`noise.${field}`, value, unit, { min, max });
  }
}
