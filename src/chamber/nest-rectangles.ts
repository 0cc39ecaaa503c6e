import { InputError, requireWithin } from '../base/errors.ts';
import type { Nesting } from './nest.ts';
import { type KeepOut, type Place, requireKeepOut } from './place.ts';

export interface NestRectanglesRequest {
  readonly rackDiameterMm: number;
  readonly rimMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly webMm: number;
  readonly keepOut?: readonly KeepOut[];
}

/** A row of parts: `length` along x, `rise` along y. */
interface RowKind {
  readonly length: number;
  readonly rise: number;
  readonly angleDeg: number;
}

/** Heights tried for a row, across the rack. */
const LEVELS = 2000;
const MOST_PLACES = 10_000;

/**
 * Places rectangles on a round rack in rows, each row as full as its chord and the zones allow, upright or lying as
 * suits the row. Which row goes where is decided by dynamic programming over the height (R. Bellman, 1957): the
 * most parts below each level. Rows centred on the middle line are tried beside it.
 * @throws InputError for a value outside its range, and where not even one part fits.
 */
export function nestRectangles(request: NestRectanglesRequest): Nesting {
  const { rackDiameterMm, rimMm, widthMm, heightMm, webMm, keepOut = [] } = request;
  requireWithin('rackDiameterMm', rackDiameterMm, 'mm', { above: 0, max: 5000 });
  requireWithin('rimMm', rimMm, 'mm', { min: 0, max: 1000 });
  requireWithin('part.widthMm', widthMm, 'mm', { min: 0.5, max: 5000 });
  requireWithin('part.heightMm', heightMm, 'mm', { min: 0.5, max: 5000 });
  requireWithin('webMm', webMm, 'mm', { min: 0, max: 1000 });
  requireKeepOut(keepOut);
  const radius = rackDiameterMm / 2 - rimMm;
  const diagonal = Math.hypot(widthMm, heightMm);
  if (diagonal > 2 * radius)
    throw new InputError(
      'part.widthMm',
      `${widthMm} mm × ${heightMm} mm does not fit: its diagonal is ${Number(diagonal.toPrecision(6))} mm, inside the rim of the rack are ${2 * radius} mm`,
    );
  if ((Math.PI * radius * radius) / ((widthMm + webMm) * (heightMm + webMm)) > MOST_PLACES)
    throw new InputError(
      'part.widthMm',
      `the part is too small: the rack would hold more than ${MOST_PLACES}`,
    );
  const rack = { radius, web: webMm, keepOut };
  const kinds: RowKind[] = [{ length: widthMm, rise: heightMm, angleDeg: 0 }];
  if (widthMm !== heightMm) kinds.push({ length: heightMm, rise: widthMm, angleDeg: 90 });
  const candidates = [stacked(rack, kinds)];
  for (const kind of kinds)
    for (const shift of [0, 0.5]) candidates.push(evenRows(rack, kind, shift * (kind.rise + webMm)));
  const positions = candidates.reduce((best, next) => (next.length > best.length ? next : best));
  return {
    count: positions.length,
    pattern: 'rows',
    positions: positions.toSorted((a, b) => b.yMm - a.yMm || a.xMm - b.xMm),
    usedPercent: (100 * positions.length * widthMm * heightMm) / (Math.PI * (rackDiameterMm / 2) ** 2),
  };
}

interface Rack {
  readonly radius: number;
  readonly web: number;
  readonly keepOut: readonly KeepOut[];
}

/** The best mix of rows, from the bottom up. */
function stacked(rack: Rack, kinds: readonly RowKind[]): Place[] {
  const step = (2 * rack.radius) / LEVELS;
  const most = new Int32Array(LEVELS + 1);
  const taken: (readonly Place[] | undefined)[] = new Array(LEVELS + 1);
  const below = new Int32Array(LEVELS + 1);
  for (let level = 1; level <= LEVELS; level++) {
    most[level] = most[level - 1]!;
    below[level] = level - 1;
    const top = -rack.radius + level * step;
    for (const kind of kinds) {
      if (top - kind.rise < -rack.radius) continue;
      const places = row(rack, kind, top - kind.rise);
      const from = Math.max(0, Math.floor(level - (kind.rise + rack.web) / step + 1e-9));
      if (places.length + most[from]! <= most[level]!) continue;
      most[level] = places.length + most[from]!;
      below[level] = from;
      taken[level] = places;
    }
  }
  const all: Place[] = [];
  for (let level = LEVELS; level > 0; level = below[level]!) all.push(...(taken[level] ?? []));
  return all;
}

/** Rows of one kind at equal distance, one of them with its lower edge at `shift` − rise/2. */
function evenRows(rack: Rack, kind: RowKind, shift: number): Place[] {
  const pitch = kind.rise + rack.web;
  const rows = Math.ceil(rack.radius / pitch) + 1;
  const all: Place[] = [];
  for (let index = -rows; index <= rows; index++)
    all.push(...row(rack, kind, shift - kind.rise / 2 + index * pitch));
  return all;
}

/** A row with its lower edge at `bottom`, spread evenly over each free stretch of its chord. */
function row(rack: Rack, kind: RowKind, bottom: number): Place[] {
  const top = bottom + kind.rise;
  const far = Math.max(Math.abs(bottom), Math.abs(top));
  if (far >= rack.radius) return [];
  const half = Math.sqrt(rack.radius ** 2 - far ** 2);
  let stretches: [number, number][] = [[-half, half]];
  for (const { xMm, yMm, diameterMm } of rack.keepOut) {
    const away = Math.max(0, bottom - yMm, yMm - top);
    const reach = Math.sqrt(Math.max(0, (diameterMm / 2) ** 2 - away ** 2));
    if (reach === 0) continue;
    stretches = stretches.flatMap(([left, right]): [number, number][] => {
      if (right <= xMm - reach || left >= xMm + reach) return [[left, right]];
      return [
        [left, xMm - reach],
        [xMm + reach, right],
      ];
    });
  }
  return stretches.flatMap(([left, right]) => {
    const length = right - left;
    const count = Math.max(0, Math.floor((length + rack.web) / (kind.length + rack.web) + 1e-12));
    const start = (left + right) / 2 - ((count - 1) * (kind.length + rack.web)) / 2;
    return Array.from({ length: count }, (_, index) => ({
      xMm: start + index * (kind.length + rack.web),
      yMm: bottom + kind.rise / 2,
      angleDeg: kind.angleDeg,
    }));
  });
}
