import type { MaterialRecord } from './record.ts';

/** Difference in °C below which room temperatures count as one. */
const SAME_ROOM_C = 10;

/**
 * A sentence where a material is used at another temperature than its data were measured at: the index is
 * not corrected. `undefined` where the temperatures agree; without a temperature in the record, room
 * temperature (20 °C) is assumed and said so.
 * @param usedAtC temperature of use in °C, e.g. of the substrate while the monitor looks at it.
 */
export function temperatureNote(
  { name, temperatureC }: Pick<MaterialRecord, 'name' | 'temperatureC'>,
  usedAtC: number,
): string | undefined {
  const measuredC = temperatureC ?? 20;
  if (Math.abs(usedAtC - measuredC) <= SAME_ROOM_C) return undefined;
  const basis = temperatureC === undefined ? 'taken to be of 20 °C' : `of ${temperatureC} °C`;
  return `${name}: the index is ${basis} and is not corrected to ${usedAtC} °C; oxides and fluorides change by about 1e-5 per K, semiconductors by 1e-4 and more (from memory).`;
}
