import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { list, quantity, word, yesOrNo } from '../base/schema.ts';
import { FINER_FOR_GROWTH, layerGrading, layerProfile } from '../materials/grading.ts';
import { type IndexSpec, indexSpec, resolveIndex } from '../materials/index-spec.ts';
import { CUT_RULES } from '../monitor/cut-rule.ts';
import { NOISE_LIMITS } from '../monitor/run-noise.ts';
import type { IndexOf, MonitoredLayer, Witness } from '../monitor/witness.ts';

/** The witness of a request. */
export const witnessShape = v.strictObject({
  substrate: indexSpec,
  thicknessMm: v.optional(quantity('mm', { min: 0, max: 1000 }, 'counts for absorption in the glass'), 1),
  backSurface: v.optional(
    word(['none', 'bare'], 'none: ground or wedged, not seen; bare: polished, adds incoherently'),
    'none',
  ),
});

/** How one layer is monitored, without its material and thickness. */
export const sightFields = {
  wavelengthNm: quantity('nm', { min: 50, max: 1e6 }, "centre of the monitor's light"),
  signal: word(['R', 'T'], 'the light that is measured'),
  bandwidthNm: v.optional(
    quantity('nm', { min: 0, max: 1000 }, "width of the monitor's band, at most half the wavelength"),
    0,
  ),
  bandShape: v.optional(
    word(['rectangular', 'triangular'], 'triangular: equal slits, the width is that at half height'),
    'rectangular',
  ),
  tooling: v.optional(
    quantity('', { min: 0.01, max: 100 }, 'thickness on the witness / thickness on the lens'),
    1,
  ),
  newWitness: v.optional(yesOrNo(), false),
};

/** One layer of the task `monitor`. */
export const monitoredLayerShape = v.strictObject({
  material: indexSpec,
  thicknessNm: quantity('nm', { min: 0, max: 1e6 }, 'on the lens'),
  grading: v.exactOptional(layerGrading),
  ...sightFields,
});

export const incidenceField = v.optional(
  quantity('°', { min: 0, max: 89 }, "angle of the monitor's light, unpolarized"),
  0,
);

export const cutRule = word(
  CUT_RULES,
  'level; swing: level rescaled by the last extrema; turning-point; crystal thickness; time',
);

/** The noise of a virtual run; every field may be left out. */
export const noiseShape = v.strictObject({
  signalPercent: noiseField('signalPercent', 0, 'one sigma of each reading, of the full light'),
  driftPercentPerMin: noiseField('driftPercentPerMin', 0, "drift of the signal's gain"),
  rateNoisePercent: noiseField('rateNoisePercent', 0, 'one sigma of the rate in each sample'),
  rateBiasPercent: noiseField('rateBiasPercent', 0, 'true rate against the set one'),
  crystalPercent: noiseField('crystalPercent', 0, "one sigma of the crystal's scale, anew each layer"),
  shutterDelayS: noiseField('shutterDelayS', 0, 'deposition goes on for so long after the cut'),
  sampleS: noiseField('sampleS', 0.25, 'time from one reading to the next'),
  gainPercent: noiseField('gainPercent', 0, "one sigma of the signal's gain, once a witness"),
  rateCorrelationS: noiseField('rateCorrelationS', 0, "time over which the rate's noise lasts"),
  rateDecayPercentPerMin: noiseField('rateDecayPercentPerMin', 0, 'the source dies away within a layer'),
  spitsPerMin: noiseField('spitsPerMin', 0, 'spits of the source'),
  spitNm: noiseField('spitNm', 0, 'thickness that a spit adds'),
  toolingPercent: noiseField('toolingPercent', 0, 'one sigma of the tooling, anew each layer'),
  toolingDriftPercent: noiseField('toolingDriftPercent', 0, 'the tooling wanders from layer to layer'),
  indexPercent: noiseField('indexPercent', 0, "one sigma of each material's index, once a run"),
  crystalLifePercent: v.exactOptional(
    limitedNoise('crystalLifePercent', 'of the budget, where a crystal is lost on average; left out: never'),
  ),
  crystalLifeScatterPercent: noiseField('crystalLifeScatterPercent', 0, 'one sigma of that life'),
  crystalAgedNoiseNm: noiseField('crystalAgedNoiseNm', 0, 'jitter of a crystal whose budget is used up'),
  crystalAgedShiftPercent: noiseField(
    'crystalAgedShiftPercent',
    0,
    'a crystal whose budget is used up reads off by this',
  ),
});

function noiseField(field: keyof typeof NOISE_LIMITS, usual: number, note: string) {
  return v.optional(limitedNoise(field, note), usual);
}

function limitedNoise(field: keyof typeof NOISE_LIMITS, note: string) {
  const { unit, min, max } = NOISE_LIMITS[field];
  return quantity(unit, { min, max }, note);
}

/** Looks up materials once each, so that layers of one material share one function, and keeps their warnings. */
export class MaterialBook {
  readonly #known = new Map<string, IndexOf>();
  readonly #warnings = new Set<string>();

  /** The material's index at any wavelengths. @throws InputError at `path` where it is not known. */
  of(spec: IndexSpec, path: string): IndexOf {
    const key = JSON.stringify(spec);
    const found = this.#known.get(key);
    if (found !== undefined) return found;
    resolveIndex(spec, Float64Array.of(550), [], path);
    const index: IndexOf = (wavelengthNm) => {
      const resolved = resolveIndex(spec, wavelengthNm, [], path);
      for (const warning of resolved.warnings) this.#warnings.add(warning);
      return resolved;
    };
    this.#known.set(key, index);
    return index;
  }

  get warnings(): string[] {
    return [...this.#warnings];
  }
}

/** A request's witness ready for the monitor. */
export function resolveWitness(
  witness: v.InferOutput<typeof witnessShape>,
  incident: IndexSpec,
  incidenceDeg: number,
  book: MaterialBook,
  path: string,
): Witness {
  return {
    incident: book.of(incident, 'incident'),
    substrate: book.of(witness.substrate, `${path}.substrate`),
    thicknessMm: witness.thicknessMm,
    backSurface: witness.backSurface,
    incidenceRad: (incidenceDeg * Math.PI) / 180,
  };
}

/** A request's layer ready for the monitor. @throws InputError where its band is wider than it can be. */
export function resolveMonitored(
  layer: v.InferOutput<typeof monitoredLayerShape>,
  book: MaterialBook,
  path: string,
): MonitoredLayer {
  const { wavelengthNm, bandwidthNm, grading, ...sight } = layer;
  if (bandwidthNm > wavelengthNm / 2)
    throw new InputError(`${path}.bandwidthNm`, `${bandwidthNm} nm is above ${wavelengthNm / 2} nm`);
  const material = book.of(layer.material, `${path}.material`);
  const { thicknessNm } = layer;
  const profile = layerProfile(
    material,
    grading,
    thicknessNm,
    wavelengthNm,
    `${path}.grading`,
    FINER_FOR_GROWTH,
  );
  return { ...sight, wavelengthNm, bandwidthNm, material, ...(profile && { profile }) };
}

/** The layers of the task `monitor`. */
export const monitoredLayers = list(
  monitoredLayerShape,
  { max: 1000 },
  'in the order of deposition, thickness that on the lens',
);
