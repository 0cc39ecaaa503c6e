import type { RunRecord } from '../batch/document.ts';

/** The stages of a run whose times are planned and written down, in the order of work. */
export const STAGES = [
  { field: 'pumpMin', name: 'pump' },
  { field: 'heatMin', name: 'heat' },
  { field: 'coatMin', name: 'coat' },
  { field: 'coolMin', name: 'cool' },
  { field: 'totalMin', name: 'door to door' },
] as const;

export type StageField = (typeof STAGES)[number]['field'];

/** A stage that took this much longer or shorter than planned, in per cent, is named as a deviation. */
export const NAMED_FROM_PERCENT = 10;

/** What a figure came to against its plan. */
export interface Deviation {
  readonly by: number;
  /** Of the plan; undefined where nothing was planned. */
  readonly percent: number | undefined;
  readonly isNamed: boolean;
}

/** How far a stage, or the lenses loaded, were off the plan; undefined where one of the two is not known. */
export function deviationOf(
  { planned, actual }: Pick<RunRecord, 'planned' | 'actual'>,
  field: StageField | 'lenses',
): Deviation | undefined {
  const [wanted, was] = [planned?.[field], actual?.[field]];
  if (wanted === undefined || was === undefined) return undefined;
  const by = was - wanted;
  const percent = wanted === 0 ? undefined : (100 * by) / wanted;
  const isNamed =
    field === 'lenses' ? by !== 0 : Math.abs(percent ?? (by === 0 ? 0 : 100)) >= NAMED_FROM_PERCENT;
  return { by, percent, isNamed };
}
