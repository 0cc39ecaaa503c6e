import {
  abs,
  add,
  type Complex,
  complex,
  cos,
  divide,
  type Matrix,
  matrix,
  multiply,
  sin,
  sqrt,
  square,
  subtract,
} from 'mathjs';
import type { Workload } from './workloads.ts';

/** The same computation with mathjs: a 2×2 matrix of complex numbers for each layer, multiplied together. */
export function withMathjs(work: Workload): (round: number) => number {
  const { stack, incidenceRad, polarizations, thicknessNm } = work;
  const count = stack.wavelengthNm.length;
  const i = complex(0, 1);
  return (round) => {
    let sum = 0;
    for (const polarization of polarizations) {
      for (let w = 0; w < count; w++) {
        const along = (stack.incident.n[w]! * Math.sin(incidenceRad)) ** 2;
        const admittance = (n: number, k: number) => {
          const index = complex(n, -k);
          const normal = sqrt(subtract(square(index), along) as Complex) as Complex;
          const eta = polarization === 's' ? normal : (divide(square(index), normal) as Complex);
          return { normal, eta };
        };
        const front = admittance(stack.incident.n[w]!, 0).eta;
        const glass = admittance(stack.substrate.n[w]!, 0).eta;
        let field: Matrix = matrix([[complex(1, 0)], [glass]]);
        stack.layers.forEach((medium, j) => {
          const { normal, eta } = admittance(medium.n[w]!, medium.k[w]!);
          const nm = thicknessNm[j]! + (j === 0 ? round % 7 : 0);
          const delta = multiply(normal, (2 * Math.PI * nm) / stack.wavelengthNm[w]!) as Complex;
          const cosine = cos(delta) as Complex;
          const sine = multiply(i, sin(delta) as Complex) as Complex;
          const layer = matrix([
            [cosine, divide(sine, eta) as Complex],
            [multiply(sine, eta) as Complex, cosine],
          ]);
          field = multiply(layer, field) as Matrix;
        });
        const b = field.get([0, 0]) as Complex;
        const c = field.get([1, 0]) as Complex;
        const there = multiply(front, b) as Complex;
        const r = divide(subtract(there, c), add(there, c)) as Complex;
        sum += (abs(r) as unknown as number) ** 2;
      }
    }
    return sum;
  };
}
