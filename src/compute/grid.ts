import * as v from 'valibot';
import type { Limits } from '../base/errors.ts';
import { choice, list, quantity, shown } from '../base/schema.ts';

/** The most points that a grid may have. */
export const MOST_GRID_POINTS = 20_000;

/** A grid as a request gives it: its points, or a range with both ends included. */
export type GridRequest = readonly number[] | GridRange;

/** Equally spaced points from `from` to `to`; where the step does not divide the range, `to` is added. */
export interface GridRange {
  readonly from: number;
  readonly to: number;
  readonly step: number;
}

/** The schema of a grid of one quantity (CONTRACT's GRID); parsing expands it into a Float64Array. */
export function grid(unit: string, limits: Limits, note?: string) {
  const point = quantity(unit, limits);
  const points = list(point, { min: 1, max: MOST_GRID_POINTS }, `the points themselves, in ${unit}`);
  const range = v.pipe(
    v.strictObject({
      from: point,
      to: quantity(unit, limits, 'included too'),
      step: quantity(unit, { above: 0 }),
    }),
    v.check(
      ({ from, to }) => from <= to,
      (issue) =>
        `the range begins at ${issue.input.from} ${unit}, above its end at ${issue.input.to} ${unit}`,
    ),
    v.check(
      (given) => spans(given) < MOST_GRID_POINTS,
      (issue) => `the range has ${Math.ceil(spans(issue.input)) + 1} points, more than ${MOST_GRID_POINTS}`,
    ),
  );
  const neither = v.never(
    (issue) => `${shown(issue.input)} is neither a list of points nor a range {"from", "to", "step"}`,
  );
  return v.pipe(
    choice<typeof points | typeof range | typeof neither>(
      [points, range],
      (input) => {
        if (Array.isArray(input)) return points;
        return typeof input === 'object' && input !== null ? range : neither;
      },
      note === undefined ? `in ${unit}` : `${note}, in ${unit}`,
    ),
    v.transform((given) => expandGrid(given)),
  );
}

/** The wavelengths of a request in nm, from the X-ray's edge to 1 mm. */
export const wavelengthGrid = grid('nm', { min: 1, max: 1e6 }, 'vacuum wavelengths');

/** The points of a grid, in the order given; `from` and `to` are met exactly. */
export function expandGrid(request: GridRequest): Float64Array {
  if (!('from' in request)) return Float64Array.from(request);
  const { from, to } = request;
  const whole = spans(request);
  const steps = Math.ceil(whole);
  return Float64Array.from({ length: steps + 1 }, (_, i) => {
    if (i === steps) return to;
    return from + ((to - from) * i) / whole;
  });
}

/** How many steps a range has; a whole number where it is one but for rounding. */
function spans({ from, to, step }: GridRange): number {
  const exact = (to - from) / step;
  const whole = Math.round(exact);
  return Math.abs(exact - whole) <= 1e-9 * Math.max(1, whole) ? whole : exact;
}
