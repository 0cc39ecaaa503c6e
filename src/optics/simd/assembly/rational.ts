import { add, div, mul, placeOf, sub } from './lanes.ts';

/*
 * The functions of circular-rational.ts on two wavelengths at once, operation for operation. Its coefficients lie at the
 * bottom of the memory, where kernel-memory.ts puts them.
 */

const P: usize = 0;
const Q: usize = 32;
const ROUNDER: usize = 56;
const U: usize = 64;
const V: usize = 88;
const HALVES: usize = 128;
const POWERS: usize = 1152;
const MOST_OCTAVES: f64 = 63;
const LAST_POWER: f64 = 1075;

/** That of layer-boundaries.ts. */
export const GROWTH_PER_OCTAVE: f64 = 0.5 * Math.LN2;

/** The nearest whole numbers. */
export function nearest(x: v128): v128 {
  const rounder = v128.load64_splat(ROUNDER);
  return sub(add(x, rounder), rounder);
}

/** p of tan(π f / 2) = p / q. */
export function circularTop(f: v128): v128 {
  const z = mul(f, f);
  const low = add(v128.load64_splat(P), mul(z, v128.load64_splat(P, 8)));
  const high = add(v128.load64_splat(P, 16), mul(z, v128.load64_splat(P, 24)));
  return mul(f, add(low, mul(mul(z, z), high)));
}

/** q of tan(π f / 2) = p / q. */
export function circularBottom(f: v128): v128 {
  const z = mul(f, f);
  const low = add(f64x2.splat(1), mul(z, v128.load64_splat(Q)));
  const high = add(v128.load64_splat(Q, 8), mul(z, v128.load64_splat(Q, 16)));
  return add(low, mul(mul(z, z), high));
}

/** u of tanh(g ln 2 / 2) = u / v. */
export function hyperbolicTop(g: v128): v128 {
  const z = mul(g, g);
  const high = add(v128.load64_splat(U, 8), mul(z, v128.load64_splat(U, 16)));
  return mul(g, add(v128.load64_splat(U), mul(z, high)));
}

/** v of tanh(g ln 2 / 2) = u / v. */
export function hyperbolicBottom(g: v128): v128 {
  const z = mul(g, g);
  const high = add(v128.load64_splat(V), mul(z, v128.load64_splat(V, 8)));
  return add(f64x2.splat(1), mul(z, high));
}

/** (1 + 2^−whole) / 2. */
export function evenHalves(whole: v128): v128 {
  return f64x2(half(f64x2.extract_lane(whole, 0), 0), half(f64x2.extract_lane(whole, 1), 0));
}

/** (1 − 2^−whole) / 2. */
export function oddHalves(whole: v128): v128 {
  return f64x2(half(f64x2.extract_lane(whole, 0), 8), half(f64x2.extract_lane(whole, 1), 8));
}

function half(whole: f64, part: usize): f64 {
  return f64.load(HALVES + placeOf(<i32>min<f64>(whole, MOST_OCTAVES), 16) + part);
}

/** 2^−octaves for octaves from 0. */
export function halved(octaves: v128): v128 {
  const whole = nearest(octaves);
  const g = sub(octaves, whole);
  const u = hyperbolicTop(g);
  const v = hyperbolicBottom(g);
  const powers = f64x2(power(f64x2.extract_lane(whole, 0)), power(f64x2.extract_lane(whole, 1)));
  return mul(div(sub(v, u), add(v, u)), powers);
}

function power(whole: f64): f64 {
  return f64.load(POWERS + placeOf(<i32>min<f64>(whole, LAST_POWER), 8));
}
