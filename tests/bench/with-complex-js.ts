import Complex from 'complex.js';
import type { Workload } from './workloads.ts';

/** The same computation written plainly with complex.js: a 2×2 matrix applied to (B, C) for each layer. */
export function withComplexJs(work: Workload): (round: number) => number {
  const { stack, incidenceRad, polarizations, thicknessNm } = work;
  const count = stack.wavelengthNm.length;
  return (round) => {
    let sum = 0;
    for (const polarization of polarizations) {
      for (let w = 0; w < count; w++) {
        const along = new Complex(stack.incident.n[w]! * Math.sin(incidenceRad)).pow(2);
        const admittance = (n: number, k: number): [normal: Complex, eta: Complex] => {
          const index = new Complex(n, -k);
          const normal = index.pow(2).sub(along).sqrt();
          return [normal, polarization === 's' ? normal : index.pow(2).div(normal)];
        };
        const [, front] = admittance(stack.incident.n[w]!, 0);
        let b = new Complex(1, 0);
        let [, c] = admittance(stack.substrate.n[w]!, 0);
        stack.layers.forEach((medium, j) => {
          const [normal, eta] = admittance(medium.n[w]!, medium.k[w]!);
          const nm = thicknessNm[j]! + (j === 0 ? round % 7 : 0);
          const delta = normal.mul((2 * Math.PI * nm) / stack.wavelengthNm[w]!);
          const cosine = delta.cos();
          const sine = delta.sin().mul(Complex.I);
          const next = b.mul(cosine).add(c.mul(sine).div(eta));
          c = b.mul(sine).mul(eta).add(c.mul(cosine));
          b = next;
        });
        const r = front.mul(b).sub(c).div(front.mul(b).add(c));
        sum += r.abs() ** 2;
      }
    }
    return sum;
  };
}
