/**
 * Vapour leaves a source of exponent n with the intensity (n+1) cos^n φ / 2π per steradian and unit of mass
 * (φ from the source's own axis), and condenses wholly where it strikes. A surface element at the distance r,
 * tilted by θ against the ray, therefore receives
 *
 *   (n + 1) cos^n φ cos θ / (2π r²)
 *
 * of the evaporated mass per unit of area. n = 1 is the small flat (Knudsen) source, larger exponents are
 * beams of hot electron-beam sources. (L. Holland & W. Steckelmacher, Vacuum 2, 346-364, 1952.)
 *
 * @param exponent n >= 0; @param cosEmission cos φ; @param cosIncidence cos θ; @param distanceMm r > 0.
 * @returns fraction of the mass per mm²; 0 where the element lies behind the source or turns its back to it.
 */
export function arrivalPerMm2(
  exponent: number,
  cosEmission: number,
  cosIncidence: number,
  distanceMm: number,
): number {
  if (cosEmission <= 0 || cosIncidence <= 0) return 0;
  return ((exponent + 1) * cosEmission ** exponent * cosIncidence) / (2 * Math.PI * distanceMm * distanceMm);
}

/**
 * Fraction of the mass per mm² on a plane that faces the source at `heightMm`, at the distance `radiusMm`
 * from the source's axis; the closed form of `arrivalPerMm2` with cos φ = cos θ = h / r.
 */
export function arrivalOnFixedPlane(exponent: number, heightMm: number, radiusMm: number): number {
  const distanceMm = Math.hypot(heightMm, radiusMm);
  return arrivalPerMm2(exponent, heightMm / distanceMm, heightMm / distanceMm, distanceMm);
}

/**
 * The same on a plane that turns about the vertical axis while the source stands `offsetMm` from that axis;
 * the point lies `radiusMm` from the axis. The mean over a turn of
 * h^(n+1) (A − B cos ψ)^−(n+3)/2, A = h² + s² + R², B = 2 s R; A − B cos ψ is summed as
 * (A − B) + 2 B sin² ψ/2, which does not cancel.
 *
 * The integrand is periodic and analytic, so equal steps converge geometrically (L. N. Trefethen &
 * J. A. C. Weideman, SIAM Rev. 56, 385-458, 2014, theorem 3.2): the nearest singularity lies where
 * cos ψ = A/B, at the imaginary distance arcosh(A/B), and N steps leave an error of the order of
 * exp(−N arcosh(A/B)).
 */
export function arrivalOnRotatingPlane(
  exponent: number,
  heightMm: number,
  offsetMm: number,
  radiusMm: number,
): number {
  const nearest = heightMm ** 2 + (radiusMm - offsetMm) ** 2;
  const product = 2 * radiusMm * offsetMm;
  if (product === 0) return arrivalOnFixedPlane(exponent, heightMm, Math.hypot(radiusMm, offsetMm));
  const beyond = nearest / product;
  const decay = Math.log1p(beyond + Math.sqrt(beyond * (2 + beyond)));
  const steps = 8 + Math.ceil(40 / decay);
  let total = 0;
  for (let step = 0; step < steps; step++) {
    const squared = nearest + 2 * product * Math.sin((Math.PI * (step + 0.5)) / steps) ** 2;
    total += (heightMm / Math.sqrt(squared)) ** (exponent + 1) / squared;
  }
  return ((exponent + 1) * total) / (2 * Math.PI * steps);
}
