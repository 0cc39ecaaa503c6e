import type { Element, Hanging, Seat } from './element.ts';

/**
 * How freely an element sees the source at (x, y, z): positive where it does, continuous, zero at the edge of
 * what stands in the way. Asked only where the element looks towards the source.
 */
export type Sight = (element: Element, x: number, y: number, z: number) => number;

/** What hides the source from a seat of a rack that hangs so; the seat is given as its rack has turned it. */
export type SeatSight = (seat: Seat, hanging: Hanging) => Sight;

/** Seen only where both see it. */
export function both(first: Sight | undefined, second: Sight | undefined): Sight | undefined {
  if (first === undefined || second === undefined) return first ?? second;
  return (element, x, y, z) => Math.min(first(element, x, y, z), second(element, x, y, z));
}

/**
 * From outside its sphere the upper half of a dome can stand in the way of a `place` on its inside: the ray then
 * enters the sphere above its middle. `undefined` where the source stands inside and nothing can be hidden.
 */
export function domeSight(
  radius: number,
  centreHeight: number,
  place: Element,
  offset: number,
  height: number,
): Sight | undefined {
  if (Math.hypot(offset, height - centreHeight) <= radius) return undefined;
  return (_element, x, y, z) => {
    const crossing = secondCrossing(place, radius, x, y, z);
    return Math.max(crossing - 1, (centreHeight - place.z - crossing * (z - place.z)) / radius);
  };
}

/**
 * A ray leaves a point of a sphere (of `radius`, its normal looking inwards) towards (x, y, z): the part of the
 * way after which it meets the sphere again, 2 R N·D / D².
 */
export function secondCrossing(element: Element, radius: number, x: number, y: number, z: number): number {
  const dx = x - element.x;
  const dy = y - element.y;
  const dz = z - element.z;
  const facing = element.nx * dx + element.ny * dy + element.nz * dz;
  return (2 * radius * facing) / (dx * dx + dy * dy + dz * dz);
}
