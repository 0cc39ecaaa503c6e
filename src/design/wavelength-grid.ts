/** Evenly spaced wavelengths in nm, both ends included; one where the ends are equal or `points` is 1. */
export function bandGrid(bandNm: readonly [number, number], points: number): Float64Array {
  const [from, to] = bandNm;
  if (from === to || points < 2) return Float64Array.of(from === to ? from : (from + to) / 2);
  const grid = new Float64Array(points);
  for (let i = 0; i < points; i++) grid[i] = from + ((to - from) * i) / (points - 1);
  grid[points - 1] = to;
  return grid;
}

/**
 * How many evenly spaced points (odd) resolve every fringe of a stack of this optical thickness over the band:
 * 16 a fringe at its short end, where neighbouring orders of 2nd = mλ lie λ²/(2nd) apart, and at least `least`.
 */
export function pointsForBand(
  bandNm: readonly [number, number],
  opticalThicknessNm: number,
  least = 61,
  most = 8001,
): number {
  const [from, to] = bandNm;
  if (from === to) return 1;
  const fringes = (2 * opticalThicknessNm * (to - from)) / (from * from);
  const wanted = Math.max(least, Math.ceil(16 * fringes));
  return Math.min(most, wanted + ((wanted + 1) % 2));
}

/**
 * Shares of the points in the mean over an evenly spaced grid, adding up to 1: Simpson's rule for an odd number
 * from 3 on, else the trapezoidal rule. Unlike the plain average it does not count the ends twice.
 */
export function meanWeights(points: number): Float64Array {
  const weights = new Float64Array(points).fill(1);
  if (points === 1) return weights;
  const simpson = points % 2 === 1;
  let sum = 0;
  for (let i = 0; i < points; i++) {
    const isEnd = i === 0 || i === points - 1;
    if (simpson) weights[i] = isEnd ? 1 : i % 2 === 1 ? 4 : 2;
    else weights[i] = isEnd ? 1 : 2;
    sum += weights[i]!;
  }
  for (let i = 0; i < points; i++) weights[i]! /= sum;
  return weights;
}

/** Readings over a band that are usually averaged; common practice, no source. */
const USUAL_READINGS = 61;

/**
 * Shares of the points in the average of 61 even readings, ends included, as they are taken on a spectrometer: each end
 * counts as a full reading, so it weighs somewhat more than in the integral. The same for any number of points.
 */
export function readingWeights(points: number): Float64Array {
  const weights = meanWeights(points);
  if (points === 1) return weights;
  for (let i = 0; i < points; i++) weights[i]! *= 1 - 1 / USUAL_READINGS;
  for (const end of [0, points - 1]) weights[end]! += 0.5 / USUAL_READINGS;
  return weights;
}
