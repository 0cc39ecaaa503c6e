import type { ColourToken } from '../tokens/token-names.ts';
import type { Dash, LineSeries } from './line-chart-data.ts';

/** How one curve of a chart is to be drawn. */
export interface SeriesStyle {
  readonly token: ColourToken;
  readonly dash: readonly number[];
  readonly widthPx: number;
}

const DASHES: Readonly<Record<Dash, readonly number[]>> = {
  solid: [],
  dashed: [7, 4],
  dotted: [2, 3],
  'dash-dot': [9, 3, 2, 3],
};
const ORDER: readonly Dash[] = ['solid', 'dashed', 'dotted', 'dash-dot'];

/**
 * Colours and dashes of all curves: what a curve asks for, else the next colour in turn. `patterns` tells
 * curves apart by dashes too, for themes and papers whose colours cannot: by those that no curve has asked for, while there are any.
 */
export function seriesStyles(series: readonly LineSeries[], patterns: boolean): SeriesStyle[] {
  const asked = new Set(series.flatMap(({ ghost, dash }) => (ghost || dash === undefined ? [] : [dash])));
  const open = ORDER.filter((dash) => !asked.has(dash));
  const free = open.length > 0 ? open : ORDER;
  let turn = 0;
  let patterned = 0;
  return series.map((item) => {
    if (item.ghost)
      return { token: item.colour ?? 'ghost', dash: DASHES[item.dash ?? 'solid'], widthPx: 1.25 };
    const own = turn;
    turn += 1;
    const dash = item.dash ?? (patterns ? free[patterned++ % free.length]! : 'solid');
    return {
      token: item.colour ?? (`curve-${(own % 6) + 1}` as ColourToken),
      dash: DASHES[dash],
      widthPx: 2,
    };
  });
}
