import type { Batch } from '../document.ts';

/**
 * Film on the mean lens place over that of the stack: 1 where the batch names no aim. Everything that follows a
 * run (times, charge, cuts, virtual runs, verdict of the places) is of the aimed film; the drawing is judged with it.
 */
export function aimFactor({ process }: Batch): number {
  return 1 + (process.aimPercent ?? 0) / 100;
}

/** The layers as thick as the run makes them on the mean lens place. */
export function aimedLayers<Layer extends { readonly thicknessNm: number }>(
  document: Batch,
  layers: readonly Layer[],
): Layer[] {
  const factor = aimFactor(document);
  return layers.map((layer) => ({ ...layer, thicknessNm: factor * layer.thicknessNm }));
}

/** The aim in words, such as "2 % more film than the stack"; undefined where the batch names none. */
export function aimInWords({ process: { aimPercent = 0 } }: Batch): string | undefined {
  if (aimPercent === 0) return undefined;
  return `${Math.abs(aimPercent)} % ${aimPercent > 0 ? 'more' : 'less'} film than the stack`;
}
