import * as v from 'valibot';
import type { Limits } from '../base/errors.ts';
import { quantity, text, word, yesOrNo } from '../base/schema.ts';

/** Where a value comes from: a publication, "from memory", "common practice, no source", … */
const provenance = text(400, 'where the value comes from');

/** A value with its usual range and its provenance. */
function sourced(unit: string, limits: Limits) {
  return v.strictObject({
    value: quantity(unit, limits),
    range: v.exactOptional(v.tuple([quantity(unit, limits), quantity(unit, limits)])),
    note: v.exactOptional(text(300)),
    provenance,
  });
}

/** One of a few words with its provenance. */
function sourcedWord<const Words extends readonly string[]>(words: Words) {
  return v.strictObject({ value: word(words), note: v.exactOptional(text(300)), provenance });
}

/** A reminder, not a safety data sheet. */
export const hazard = v.strictObject({ fact: text(300), provenance });

/** What a shop needs to know to deposit a film: starting values that every chamber calibrates for itself. */
export const filmProperties = v.strictObject({
  cas: v.exactOptional(text(20, 'registry number of the Chemical Abstracts Service')),
  densityBulkGPerCm3: v.exactOptional(sourced('g/cm³', { above: 0, max: 25 })),
  /** Of the film as deposited: what crystal and charge are computed with. */
  densityGPerCm3: sourced('g/cm³', { above: 0, max: 25 }),
  /** Acoustic impedance of quartz over that of the film; 1 with `known` false where nobody measured it. */
  zRatio: v.strictObject({ value: quantity('', { above: 0, max: 10 }), known: yesOrNo(), provenance }),
  meltingPointC: v.exactOptional(sourced('°C', { min: -273.15, max: 4500 })),
  /** Where the vapour pressure is 1e-4 Torr (0.0133 Pa). */
  vapourTemperatureC: v.exactOptional(sourced('°C', { min: -273.15, max: 4500 })),
  evaporation: v.exactOptional(v.strictObject({ note: text(300), provenance })),
  vapourSource: sourcedWord(['e-beam', 'boat', 'sputter', 'chemical vapour']),
  rateNmPerS: sourced('nm/s', { above: 0, max: 100 }),
  substrateTemperatureC: sourced('°C', { min: -50, max: 800 }),
  /** Partial pressure of oxygen let in while the layer grows; 0 where none is let in. */
  oxygenPa: sourced('Pa', { min: 0, max: 10 }),
  stress: sourcedWord(['tensile', 'compressive', 'either']),
  waterUptake: sourcedWord(['low', 'moderate', 'high']),
});

export type FilmProperties = v.InferOutput<typeof filmProperties>;

/** Stands wherever hazards are shown. */
export const HAZARD_CAUTION =
  'These are reminders, not instructions: work by the safety data sheet of the lot in hand, the equipment’s manual and the local rules.';
