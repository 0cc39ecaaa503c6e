import Complex from 'complex.js';
import { foldDerivatives, layOutGraded, spreadThickness } from './graded-stack.ts';
import { type LightInMedium, lightInMedium, type Ray } from './layer-matrix.ts';
import type { Medium } from './medium.ts';
import {
  type Polarization,
  requireIncidence,
  requireStack,
  requireThicknesses,
  type StackOnGrid,
} from './stack-on-grid.ts';
import { LEAST_LAYER_NORMAL, LEAST_SUBSTRATE_NORMAL } from './tilted-admittance.ts';

/** Derivatives with respect to n and k of every layer, each [wavelength * layerCount + layer]. */
export interface IndexDerivatives {
  readonly R: { readonly n: Float64Array; readonly k: Float64Array };
  readonly T: { readonly n: Float64Array; readonly k: Float64Array };
}

/**
 * How R and T change with the index of each layer (N = n − ik), everything else held. The same determinants
 * as for thicknesses (see absorbing-jacobian.ts) with W = (dM/dN) V below the layer:
 *   dr/dN = 2 Y0 det[W, V] / D²,  dD/dN = det[W, U],
 *   dR/dn = 2 Re(r* dr/dN), dR/dk = 2 Im(r* dr/dN), dT/dn = −2T Re(dD/dN / D), dT/dk = −2T Im(dD/dN / D).
 * A material that makes several layers has the sum of theirs. Written with complex.js for reading, not for
 * speed: some microseconds a layer and wavelength.
 * @throws InputError where the stack, the angle or a thickness is not legal.
 */
export function indexDerivatives(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
): IndexDerivatives {
  requireStack(stack);
  requireIncidence('incidenceRad', incidenceRad);
  requireThicknesses(thicknessNm, stack.layers.length);
  const graded = layOutGraded(stack);
  if (graded === undefined) return everyWavelength(stack, thicknessNm, incidenceRad, polarization);
  const sublayerNm = new Float64Array(graded.factor.length);
  spreadThickness(graded, thicknessNm, sublayerNm);
  const bySublayer = everyWavelength(graded.stack, sublayerNm, incidenceRad, polarization);
  const result = emptyDerivatives(stack);
  for (const of of ['R', 'T'] as const)
    for (const by of ['n', 'k'] as const) foldDerivatives(graded, bySublayer[of][by], result[of][by], true);
  return result;
}

function emptyDerivatives({ wavelengthNm, layers }: StackOnGrid): IndexDerivatives {
  const size = wavelengthNm.length * layers.length;
  const empty = () => ({ n: new Float64Array(size), k: new Float64Array(size) });
  return { R: empty(), T: empty() };
}

function everyWavelength(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
): IndexDerivatives {
  const result = emptyDerivatives(stack);
  for (let w = 0; w < stack.wavelengthNm.length; w++)
    atWavelength(result, stack, thicknessNm, w, {
      incidentN: stack.incident.n[w]!,
      incidenceRad,
      polarization,
    });
  return result;
}

/** A field vector or its derivative: tangential electric and magnetic field. */
type Pair = readonly [Complex, Complex];

function atWavelength(
  into: IndexDerivatives,
  { wavelengthNm, incident, layers, substrate }: StackOnGrid,
  thicknessNm: Float64Array,
  w: number,
  ray: Ray,
): void {
  const light = ({ n, k }: Medium, least: number) => lightInMedium(n[w]!, k[w]!, ray, least);
  const front = light(incident, LEAST_SUBSTRATE_NORMAL).admittance;
  const glass = light(substrate, LEAST_SUBSTRATE_NORMAL).admittance;
  const matrices = layers.map(({ n, k }, j) => {
    const path = (2 * Math.PI * thicknessNm[j]!) / wavelengthNm[w]!;
    const index = new Complex(n[w]!, -k[w]!);
    return layerWithSlope(light(layers[j]!, LEAST_LAYER_NORMAL), index, path, ray.polarization);
  });
  const fields: Pair[] = [[Complex.ONE, glass]];
  matrices.forEach(({ matrix }, j) => {
    fields.push(apply(matrix, fields[j]!));
  });
  const [b, c] = fields.at(-1)!;
  const forth = front.mul(b).add(c);
  const r = front.mul(b).sub(c).div(forth);
  const decay = matrices.reduce((sum, layer) => sum + layer.decay, 0);
  const transmitted = ((4 * front.re * glass.re) / forth.abs() ** 2) * Math.exp(-2 * decay);
  const weight = r.conjugate().mul(front.mul(4)).div(forth.mul(forth));
  const fall = new Complex(-2 * transmitted).div(forth);

  let above = 0;
  let seen: Pair = [Complex.ONE.neg(), front];
  for (let j = layers.length - 1; j >= 0; j--) {
    const { matrix, slope, decay: own } = matrices[j]!;
    const change = apply(slope, fields[j]!);
    const reflected = weight.mul(determinant(change, fields[j + 1]!)).mul(Math.exp(-2 * above));
    const passed = fall.mul(determinant(change, seen));
    const here = w * layers.length + j;
    into.R.n[here] = reflected.re;
    into.R.k[here] = reflected.im;
    into.T.n[here] = passed.re;
    into.T.k[here] = passed.im;
    above += own;
    seen = apply([matrix[0], matrix[1].neg(), matrix[2].neg(), matrix[3]], seen);
  }
}

type Matrix = readonly [Complex, Complex, Complex, Complex];

function apply([m11, m12, m21, m22]: Matrix, [b, c]: Pair): Pair {
  return [m11.mul(b).add(m12.mul(c)), m21.mul(b).add(m22.mul(c))];
}

function determinant([a, b]: Pair, [c, d]: Pair): Complex {
  return a.mul(d).sub(b.mul(c));
}

/**
 * A layer's matrix and its derivative with respect to N, both times exp(−|Im δ|). With x = 2π d / λ,
 * q = N cos θ, δ = x q, S = sin δ / δ and g = (cos δ − S) / δ² everything is a function of q², so that
 * nothing is divided by q and the critical angle is no exception:
 *   s: sin δ / η = x S, η sin δ = x q² S;  d cos δ/dN = −x² N S, d(sin δ/η)/dN = x³ N g, d(η sin δ)/dN = x N (S + cos δ)
 *   p: sin δ / η = x q² S / N², η sin δ = x N² S.
 */
function layerWithSlope(
  { normal: q, permittivity }: LightInMedium,
  index: Complex,
  x: number,
  polarization: Polarization,
): { matrix: Matrix; slope: Matrix; decay: number } {
  const delta = q.mul(x);
  const decay = -delta.im;
  const odd = -Math.expm1(-2 * decay) / 2;
  const cosine = new Complex((1 - odd) * Math.cos(delta.re), odd * Math.sin(delta.re));
  const sine = new Complex((1 - odd) * Math.sin(delta.re), -odd * Math.cos(delta.re));
  const square = delta.mul(delta);
  const small = delta.abs() < 0.1;
  const s = delta.abs() === 0 ? Complex.ONE : sine.div(delta);
  const g = small ? bendSeries(square).mul(Math.exp(-decay)) : cosine.sub(s).div(square);
  const qq = q.mul(q);
  const i = Complex.I;
  const dCosine = index.mul(s).mul(-x * x);
  const dRise = index.mul(s.add(cosine)).mul(x);
  if (polarization === 's') {
    const down = s.mul(x);
    const dDown = index.mul(g).mul(x ** 3);
    return {
      matrix: [cosine, i.mul(down), i.mul(qq).mul(down), cosine],
      slope: [dCosine, i.mul(dDown), i.mul(dRise), dCosine],
      decay,
    };
  }
  const rise = qq.mul(s).mul(x);
  const up = permittivity.mul(s).mul(x);
  const dUp = index
    .mul(s)
    .mul(2 * x)
    .add(
      index
        .mul(permittivity)
        .mul(g)
        .mul(x ** 3),
    );
  const dDown = dRise.div(permittivity).sub(rise.mul(2).div(permittivity.mul(index)));
  return {
    matrix: [cosine, i.mul(rise).div(permittivity), i.mul(up), cosine],
    slope: [dCosine, i.mul(dDown), i.mul(dUp), dCosine],
    decay,
  };
}

/** (cos δ − sin δ / δ) / δ² by its series in δ²; the first term left out is below 1e-17 for |δ| < 0.1. */
function bendSeries(square: Complex): Complex {
  const terms = [-1 / 3, 1 / 30, -1 / 840, 1 / 45_360, -1 / 3_991_680, 1 / 518_918_400];
  return terms.reduceRight((sum, term) => sum.mul(square).add(term), new Complex(0));
}
