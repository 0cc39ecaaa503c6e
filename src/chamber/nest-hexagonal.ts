import { type Disc, isFree, type Point } from './place.ts';

/** Offsets tried along each edge of the lattice's cell; a multiple of 6, so that the symmetric ones are hit. */
const OFFSETS = 36;
/** Turns tried where zones break the rack's symmetry. */
const TURNS = 12;
/** Above this reach in spacings the racks are so full that fewer offsets tell the same. */
const LARGE = 12;

/**
 * Places on straight hexagonal rows, the rows shifted under the rack to where most places fall inside: onto a
 * place, between two, between three, and a fine grid of offsets; with zones to keep free the rows are also
 * turned.
 */
export function nestHexagonal(disc: Disc): Point[] {
  const turns = disc.zones.length === 0 ? 1 : TURNS;
  const offsets = disc.reach > LARGE * disc.spacing ? OFFSETS / 3 : OFFSETS;
  let best: Point[] = [];
  for (let turn = 0; turn < turns; turn++) {
    const angle = (Math.PI * turn) / (3 * turns);
    for (let along = 0; along < offsets; along++) {
      for (let across = 0; across < offsets; across++) {
        const points = lattice(disc, along / offsets, across / offsets, angle);
        if (points.length > best.length) best = points;
      }
    }
  }
  return best;
}

function lattice(disc: Disc, along: number, across: number, angle: number): Point[] {
  const { reach, spacing } = disc;
  const rise = (spacing * Math.sqrt(3)) / 2;
  const rows = Math.ceil(reach / rise) + 1;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const points: Point[] = [];
  for (let row = -rows; row <= rows; row++) {
    const y = (row + across) * rise;
    if (Math.abs(y) > reach * (1 + 1e-12) + 1e-12 * spacing) continue;
    const half = Math.sqrt(Math.max(0, reach * reach - y * y));
    const shift = along + (row + across) / 2;
    const first = Math.floor(-half / spacing - shift) - 1;
    const last = Math.ceil(half / spacing - shift) + 1;
    for (let column = first; column <= last; column++) {
      const x = (column + shift) * spacing;
      const point = { x: cos * x - sin * y, y: sin * x + cos * y };
      if (isFree(disc, point)) points.push(point);
    }
  }
  return points;
}
