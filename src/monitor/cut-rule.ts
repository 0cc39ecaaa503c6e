/**
 * What closes the shutter of a layer:
 * - `level`: the signal passes the planned level on the planned branch;
 * - `swing`: the same, the level rescaled by the last two extrema that the instrument has seen in this layer (or by the
 *   start level alone where it has seen no turn yet), so that gain and offset errors drop out;
 * - `turning-point`: the signal has turned, found in the noise and so a little late;
 * - `crystal`: the crystal reads the planned thickness;
 * - `time`: the planned thickness over the planned rate has passed.
 */
export const CUT_RULES = ['level', 'swing', 'turning-point', 'crystal', 'time'] as const;

export type CutRule = (typeof CUT_RULES)[number];

/** Whether the rule looks at the light of the witness. */
export function isOptical(rule: CutRule): boolean {
  return rule !== 'crystal' && rule !== 'time';
}
