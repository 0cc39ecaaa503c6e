/**
 * Sine and cosine, and their hyperbolic sisters, without calling either: short rational functions of the
 * half angle.
 *
 * With f = phase in half turns less the nearest whole number, |f| <= 1/2, and z = f²,
 *   p = f (P0 + P1 z + P2 z² + P3 z³), q = 1 + Q1 z + Q2 z² + Q3 z³ give tan(π f / 2) = p / q, so that
 *   sin π f = 2 p q / (p² + q²) and cos π f = (q² − p²) / (p² + q²).
 * The dropped whole number of half turns changes the sign of both and so of the whole field vector, which no
 * reflectance, transmittance or reflected phase sees. The common factor p² + q² lies between 1 and 1.05.
 *
 * With g = decay in octaves less the nearest whole number, |g| <= 1/2, and z = g²,
 *   u = g (U0 + U1 z + U2 z²), v = 1 + V1 z + V2 z² give tanh(g ln 2 / 2) = u / v, so that
 *   2^−g = (v − u) / (v + u).
 *
 * Coefficients: rational interpolation at the Chebyshev nodes of z in [0, 1/4] with 60 digits. Relative
 * error, coefficients rounded to double: below 1.1e-16 (tangent) and 4e-17 (hyperbolic tangent); a test
 * bounds both against the library's functions. Order: P0, P1, P2, P3, Q1, Q2, Q3.
 */
export const CIRCULAR: Float64Array = Float64Array.of(
  1.5707963267948966,
  -0.4971947507650474,
  0.02683212449382951,
  -0.0001765556240289762,
  -1.138991042478508,
  0.14212201950760286,
  -0.003130975882324537,
);

/** U0, U1, U2, V1, V2. */
export const HYPERBOLIC: Float64Array = Float64Array.of(
  0.34657359027997264,
  0.004624841170852369,
  5.287083987433538e-6,
  0.05338222200402479,
  0.00022893359916127378,
);

/**
 * Adding and taking away 1.5 · 2^52 rounds a double below 2^51 to the nearest whole number. In an array, as
 * the coefficients are, because V8 keeps what it has read from an array in a register, while it builds a
 * literal anew wherever it stands: a fifth of the kernels' time. For the same reason the kernels read imported
 * constants of their inner loops into locals: modules that are not bundled load them at each use.
 */
export const ROUNDER: Float64Array = Float64Array.of(6_755_399_441_055_744);

/** From so many octaves on, 1 ± 2^−octaves is 1 in double precision. */
export const MOST_OCTAVES = 63;

/** (1 + 2^−i) / 2 and (1 − 2^−i) / 2 for i = 0 .. MOST_OCTAVES, side by side. */
export const OCTAVE_HALVES = Float64Array.from({ length: 2 * (MOST_OCTAVES + 1) }, (_, i) => {
  const power = 2 ** -(i >> 1);
  return i % 2 === 0 ? (1 + power) / 2 : (1 - power) / 2;
});

/** 2^−i as far as doubles go, then 0. */
export const POWERS = Float64Array.from({ length: 1076 }, (_, i) => 2 ** -i);

/** 2^−octaves for octaves from 0, to 2e-16: the power itself takes several layers' time. */
export function halved(octaves: number): number {
  const rounder = ROUNDER[0]!;
  const whole = octaves + rounder - rounder;
  const g = octaves - whole;
  const z = g * g;
  const u = g * (HYPERBOLIC[0]! + z * (HYPERBOLIC[1]! + z * HYPERBOLIC[2]!));
  const v = 1 + z * (HYPERBOLIC[3]! + z * HYPERBOLIC[4]!);
  return ((v - u) / (v + u)) * POWERS[Math.min(whole, POWERS.length - 1)]!;
}
