import type { ColourToken } from '../tokens/token-names.ts';

/** How a curve is stroked. */
export type Dash = 'solid' | 'dashed' | 'dotted' | 'dash-dot';

/** One curve. `x` ascends; `y[i]` belongs to `x[i]`; a y that is not finite leaves a gap. */
export interface LineSeries {
  readonly name: string;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  /** Lower edge of a band whose upper edge is `y`; the area between is filled. */
  readonly lower?: ArrayLike<number>;
  /** Default: the next of the six curve colours. */
  readonly colour?: ColourToken;
  readonly dash?: Dash;
  /** What it was before the last edit: drawn faint, behind the others, and not counted among them. */
  readonly ghost?: boolean;
  /** Single readings rather than a course: dots without a line. */
  readonly points?: boolean;
}

/** A scale with its title and unit; limits that are left out follow the data. */
export interface ChartAxis {
  readonly title: string;
  readonly unit: string;
  readonly min?: number;
  readonly max?: number;
  readonly log?: boolean;
  /** What a value of x is called where its figure says too little, such as the run behind a number. */
  readonly nameOf?: (value: number) => string | undefined;
}

/** A limit over a stretch of x: the side that a curve must not enter is hatched. */
export interface LimitZone {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly limit: number;
  /** Where the curve has to stay. */
  readonly sense: 'below' | 'above';
  readonly met: boolean;
}

/** A place on the chart: `boundary` is a hairline over the whole height, the others are signs at (x, y). */
export interface ChartMarker {
  readonly kind: 'boundary' | 'cut' | 'turning' | 'note';
  readonly x: number;
  readonly y?: number;
  readonly label?: string;
}

/** A stretch of the x axis. */
export interface ViewRange {
  readonly min: number;
  readonly max: number;
}

export const NO_AXIS: ChartAxis = { title: '', unit: '' };

/** "Wavelength / nm": title and unit as the axis says them (ISO 80000-1: quantity divided by unit). */
export function axisTitle(axis: ChartAxis): string {
  return axis.unit === '' ? axis.title : `${axis.title} / ${axis.unit}`;
}
