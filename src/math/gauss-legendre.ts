import { requireWithin } from '../base/errors.ts';

/** Nodes in (−1, 1) in rising order, with their weights (sum 2). */
export interface QuadratureRule {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

const rules = new Map<number, QuadratureRule>();

/**
 * The Gauss-Legendre rule of `order` points, exact for polynomials up to degree 2·order − 1. The nodes are the
 * roots of the Legendre polynomial, found by Newton's method from Tricomi's first guess; the weights follow from
 * its slope, 2 / ((1 − x²) P'(x)²) (M. Abramowitz & I. A. Stegun, eq. 25.4.29). Computed once for each order.
 * @param order whole, 1 to 1000. @throws InputError for another.
 */
export function gaussLegendre(order: number): QuadratureRule {
  requireWithin('order', order, '', { min: 1, max: 1000 });
  let rule = rules.get(order);
  if (rule === undefined) {
    rule = computeRule(order);
    rules.set(order, rule);
  }
  return rule;
}

function computeRule(order: number): QuadratureRule {
  const nodes = new Float64Array(order);
  const weights = new Float64Array(order);
  for (let index = 0; index < Math.ceil(order / 2); index++) {
    let x = Math.cos((Math.PI * (index + 0.75)) / (order + 0.5));
    let slope = 1;
    for (let step = 0; step < 20; step++) {
      const [value, derivative] = legendre(order, x);
      slope = derivative;
      const change = value / derivative;
      x -= change;
      if (Math.abs(change) < 1e-15) break;
    }
    if (2 * index + 1 === order) x = 0;
    slope = legendre(order, x)[1];
    const weight = 2 / ((1 - x * x) * slope * slope);
    nodes[index] = -x;
    nodes[order - 1 - index] = x;
    weights[index] = weight;
    weights[order - 1 - index] = weight;
  }
  return { nodes, weights };
}

/** Value and slope of the Legendre polynomial by its three-term recurrence. */
function legendre(order: number, x: number): [number, number] {
  let before = 1;
  let value = x;
  for (let degree = 2; degree <= order; degree++) {
    const next = ((2 * degree - 1) * x * value - (degree - 1) * before) / degree;
    before = value;
    value = next;
  }
  if (order === 0) return [1, 0];
  return [value, (order * (x * value - before)) / (x * x - 1)];
}
