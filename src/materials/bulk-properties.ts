import * as v from 'valibot';
import { list, quantity, text } from '../base/schema.ts';

const provenance = text(400, 'where the value comes from');

/** Linear thermal expansion over a range of temperatures. */
const expansion = v.strictObject({
  fromC: quantity('°C', { min: -273.15, max: 2000 }),
  toC: quantity('°C', { min: -273.15, max: 2000 }),
  perK: quantity('1/K', { min: -1e-4, max: 1e-3 }),
});

/** What is known of a glass, crystal or semiconductor besides its index. */
export const bulkProperties = v.strictObject({
  /** Six digits: nd − 1 in thousandths and the Abbe number in tenths. */
  glassCode: v.exactOptional(v.pipe(text(6), v.regex(/^\d{6}$/, 'a glass code has six digits'))),
  nd: v.exactOptional(quantity('', { min: 1, max: 6 }, 'index at 587.5618 nm')),
  abbeNumber: v.exactOptional(quantity('', { above: 0, max: 200 }, '(nd − 1)/(nF − nC)')),
  densityGPerCm3: v.exactOptional(quantity('g/cm³', { above: 0, max: 25 })),
  thermalExpansion: v.exactOptional(list(expansion, { max: 5 })),
  greatestTemperatureC: v.exactOptional(
    v.strictObject({
      value: quantity('°C', { min: 0, max: 2000 }, 'up to which shops heat it in vacuum'),
      provenance,
    }),
  ),
  provenance,
});

export type BulkProperties = v.InferOutput<typeof bulkProperties>;
