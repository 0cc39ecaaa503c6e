/**
 * A small piece of surface in the chamber: where it is (mm, z up) and the unit vector that its coated side
 * looks along.
 */
export interface Element {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
}

/**
 * A piece of surface as its rack carries it: `along` and `aside` in the rack's plane from the rack's own axis,
 * `ahead` of that plane towards the vapour, with the unit normal in the same three directions.
 */
export interface Seat {
  readonly along: number;
  readonly aside: number;
  readonly ahead: number;
  readonly normalAlong: number;
  readonly normalAside: number;
  readonly normalAhead: number;
}

/** A flat piece of the rack itself, at `radiusMm` from its axis. */
export function flatSeat(radiusMm: number): Seat {
  return { along: radiusMm, aside: 0, ahead: 0, normalAlong: 0, normalAside: 0, normalAhead: 1 };
}

/** The seat after its rack has turned about its own axis by `angle` (rad, from `along` to `aside`). */
export function turned(seat: Seat, angle: number): Seat {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  return {
    along: seat.along * cos - seat.aside * sin,
    aside: seat.along * sin + seat.aside * cos,
    ahead: seat.ahead,
    normalAlong: seat.normalAlong * cos - seat.normalAside * sin,
    normalAside: seat.normalAlong * sin + seat.normalAside * cos,
    normalAhead: seat.normalAhead,
  };
}

/** Where a rack hangs: its middle at `radius` from the chamber's axis and `height` above the sources. */
export interface Hanging {
  readonly radius: number;
  readonly height: number;
  /** Lean of the coated side towards the chamber's axis, rad. */
  readonly tilt: number;
}

/**
 * The seat in the chamber, the rack's middle at azimuth 0. The rack looks along (−sin τ, 0, −cos τ), its
 * outward direction is (cos τ, 0, −sin τ), its sideways one (0, 1, 0).
 */
export function hung(seat: Seat, { radius, height, tilt }: Hanging): Element {
  const cos = Math.cos(tilt);
  const sin = Math.sin(tilt);
  return {
    x: radius + seat.along * cos - seat.ahead * sin,
    y: seat.aside,
    z: height - seat.along * sin - seat.ahead * cos,
    nx: seat.normalAlong * cos - seat.normalAhead * sin,
    ny: seat.normalAside,
    nz: -seat.normalAlong * sin - seat.normalAhead * cos,
  };
}
