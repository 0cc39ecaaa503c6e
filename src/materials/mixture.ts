import Complex from 'complex.js';
import { requireWithin } from '../base/errors.ts';

/** How the indices of a porous film's solid and of its voids make the film's index. */
export type MixtureRule = 'linear' | 'lorentz-lorenz' | 'bruggeman' | 'bragg-pippard';

export const MIXTURE_RULES = ['linear', 'lorentz-lorenz', 'bruggeman', 'bragg-pippard'] as const;

/** Index and extinction at one wavelength; N = n − ik. */
export interface IndexValue {
  readonly n: number;
  readonly k: number;
}

/**
 * The index of a film whose solid fills the fraction `packing` of its volume and whose voids fill the rest.
 *
 * - linear: N = p·Ns + (1 − p)·Nv; the rule of thumb for films of low index (common practice).
 * - lorentz-lorenz: (ε − 1)/(ε + 2) = p·(εs − 1)/(εs + 2) + (1 − p)·(εv − 1)/(εv + 2), polarizable molecules
 *   side by side (H. A. Lorentz 1880, L. Lorenz 1880).
 * - bruggeman: p·(εs − ε)/(εs + 2ε) + (1 − p)·(εv − ε)/(εv + 2ε) = 0, spheres of both in the mixture itself
 *   (D. A. G. Bruggeman, Ann. Phys. 416, 636-664 (1935)).
 * - bragg-pippard: cylinders standing upright, light along them,
 *   n² = ((1 − p)·nv⁴ + (1 + p)·nv²·ns²) / ((1 + p)·nv² + (1 − p)·ns²)
 *   (W. L. Bragg and A. B. Pippard, Acta Cryst. 6, 865-867 (1953)).
 *
 * @param packing fraction of the volume, 0..1: 1 gives the solid, 0 the voids.
 * @throws InputError where the packing is outside 0..1.
 */
export function mixIndex(
  rule: MixtureRule,
  packing: number,
  solid: IndexValue,
  voids: IndexValue,
): IndexValue {
  requireWithin('packing', packing, '', { min: 0, max: 1 });
  if (packing === 1) return solid;
  if (packing === 0) return voids;
  if (rule === 'linear')
    return {
      n: packing * solid.n + (1 - packing) * voids.n,
      k: packing * solid.k + (1 - packing) * voids.k,
    };
  const epsilon = PERMITTIVITY[rule](packing, permittivity(solid), permittivity(voids));
  const root = epsilon.sqrt();
  return { n: Math.abs(root.re), k: Math.abs(root.im) };
}

type Rule = (packing: number, solid: Complex, voids: Complex) => Complex;

const PERMITTIVITY: Readonly<Record<Exclude<MixtureRule, 'linear'>, Rule>> = {
  'lorentz-lorenz': (p, solid, voids) => {
    const polarizability = (epsilon: Complex) => epsilon.sub(1).div(epsilon.add(2));
    const sum = polarizability(solid)
      .mul(p)
      .add(polarizability(voids).mul(1 - p));
    return sum.mul(2).add(1).div(sum.neg().add(1));
  },
  bruggeman: (p, solid, voids) => {
    const b = solid.mul(3 * p - 1).add(voids.mul(2 - 3 * p));
    const root = b.mul(b).add(solid.mul(voids).mul(8)).sqrt();
    const [plus, minus] = [b.add(root).div(4), b.sub(root).div(4)];
    return isPassive(plus) ? plus : minus;
  },
  'bragg-pippard': (p, solid, voids) =>
    voids
      .mul(voids)
      .mul(1 - p)
      .add(voids.mul(solid).mul(1 + p))
      .div(voids.mul(1 + p).add(solid.mul(1 - p))),
};

/** The permittivity with a positive imaginary part for absorption; the rules' coefficients are real. */
function permittivity({ n, k }: IndexValue): Complex {
  return new Complex(n * n - k * k, 2 * n * k);
}

function isPassive(epsilon: Complex): boolean {
  return epsilon.im > 0 || (epsilon.im === 0 && epsilon.re > 0);
}
