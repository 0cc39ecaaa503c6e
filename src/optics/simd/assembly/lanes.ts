/** Arithmetic on two wavelengths at once, under short names; the compiler puts each in its place. */

export function add(a: v128, b: v128): v128 {
  return f64x2.add(a, b);
}

export function sub(a: v128, b: v128): v128 {
  return f64x2.sub(a, b);
}

export function mul(a: v128, b: v128): v128 {
  return f64x2.mul(a, b);
}

export function div(a: v128, b: v128): v128 {
  return f64x2.div(a, b);
}

export function abs(a: v128): v128 {
  return f64x2.abs(a);
}

export function neg(a: v128): v128 {
  return f64x2.neg(a);
}

/** Stores the first lane at `to` and the second `apart` bytes behind it. */
export function storeLanes(to: usize, apart: usize, a: v128): void {
  v128.store64_lane(to, a, 0);
  v128.store64_lane(to + apart, a, 1);
}

/** How far into an array its element `j` of so many bytes lies. */
export function placeOf(j: i32, bytes: i32): usize {
  return <usize>(j * bytes);
}
