import * as v from 'valibot';
import { atPath, InputError } from '../base/errors.ts';
import { list, parse, quantity, text, word } from '../base/schema.ts';
import { bulkProperties } from './bulk-properties.ts';
import { dispersion, extinction } from './dispersion.ts';
import { filmProperties, hazard } from './film-properties.ts';
import { variant } from './variant.ts';

/** An id: lower case letters, digits and hyphens. */
export const materialId = v.pipe(
  text(60, 'lower case letters, digits and hyphens'),
  v.regex(
    /^[a-z0-9]+(-[a-z0-9]+)*$/,
    (issue) => `"${issue.input}" is not an id of lower case letters, digits and single hyphens`,
  ),
);

const wavelengthNm = quantity('nm', { min: 1, max: 1e6 });

/** A published or computed value to hold the record against; `k` where the data give it. */
const check = v.strictObject({
  wavelengthNm,
  n: quantity('', { above: 0 }),
  k: v.exactOptional(quantity('', { min: 0 })),
});

/** Where the numbers come from. */
const source = v.strictObject({
  /** The paper, catalogue or page, as one would cite it. */
  cites: text(1000),
  doi: v.exactOptional(list(text(100), { max: 10 })),
  /** The collection of data that the numbers were taken over from, its state and the file in it. */
  dataset: v.exactOptional(text(300)),
  commit: v.exactOptional(text(64)),
  file: v.exactOptional(text(300)),
  /** What was done to the numbers on the way: rows left out, range cut. */
  note: v.exactOptional(text(500)),
  /** How the numbers came here: "dataset", "from memory", "measured by the shop", … */
  provenance: text(300),
});

/** One material: its dispersion with range and source, and what the shop needs to know about it. */
export const materialRecord = v.strictObject({
  id: materialId,
  name: text(120, 'as a person says it'),
  formula: v.exactOptional(text(60, 'chemical formula')),
  role: word(['film', 'metal', 'substrate'], 'what the material is mostly used as'),
  kind: word(['film', 'crystal', 'glass', 'semiconductor'], 'what the data were measured on'),
  description: v.exactOptional(text(300)),
  caution: v.exactOptional(text(500, 'what the data are not good for')),
  rangeNm: v.pipe(
    v.tuple([wavelengthNm, wavelengthNm]),
    v.check(
      ([from, to]) => from <= to,
      (issue) => `the range begins at ${issue.input[0]} nm, above its end at ${issue.input[1]} nm`,
    ),
  ),
  dispersion,
  extinction: v.exactOptional(extinction),
  /** What the shop's chamber makes of it, where the record is a variant of what the data were measured on. */
  variant: v.exactOptional(variant),
  /** What the index is relative to where it is not vacuum. */
  relativeTo: v.exactOptional(text(200)),
  temperatureC: v.exactOptional(quantity('°C', { min: -273.15, max: 2000 }, 'of the measurement')),
  checks: v.exactOptional(list(check, { max: 100 })),
  source,
  hazards: v.exactOptional(list(hazard, { max: 20 })),
  /** The film whose properties this record shares, where it is another data set of the same material. */
  propertiesOf: v.exactOptional(materialId),
  film: v.exactOptional(filmProperties),
  bulk: v.exactOptional(bulkProperties),
});

export type MaterialRecord = v.InferOutput<typeof materialRecord>;
export type MaterialRole = MaterialRecord['role'];

/**
 * Reads one record from a value that JSON gave.
 * @throws InputError at the first fault.
 */
export function parseMaterialRecord(input: unknown, path = ''): MaterialRecord {
  try {
    return parse(materialRecord, input);
  } catch (error) {
    throw error instanceof InputError ? atPath(path, error) : error;
  }
}
