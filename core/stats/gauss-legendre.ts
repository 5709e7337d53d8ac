/** Points of a quadrature rule and their weights. */
export interface Quadrature {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

/**
 * The Gauss–Legendre rule of `order` points on −1..1: exact for polynomials up to degree 2·order − 1.
 *
 * The nodes are the zeros of the Legendre polynomial, found by Newton's method.
 * Source: M. Abramowitz, I. Stegun, Handbook of Mathematical Functions (1964), 25.4.29 and 8.5.3.
 */
export function gaussLegendre(order: number): Quadrature {
  const nodes = new Float64Array(order);
  const weights = new Float64Array(order);
  for (let i = 0; i < order; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (order + 0.5));
    let slope = 1;
    for (let step = 0; step < 8; step++) {
      let before = 1;
      let value = x;
      for (let n = 2; n <= order; n++) [before, value] = [value, ((2 * n - 1) * x * value - (n - 1) * before) / n];
      slope = (order * (x * value - before)) / (x * x - 1);
      x -= value / slope;
    }
    nodes[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}

const rule = gaussLegendre(16);

/**
 * The 16-point rule laid on each of `panels` equal parts of `from`..`to`.
 *
 * Good for a smooth integrand that bends no more than a few times within one part.
 */
export function panelQuadrature(from: number, to: number, panels: number): Quadrature {
  const size = rule.nodes.length;
  const nodes = new Float64Array(panels * size);
  const weights = new Float64Array(panels * size);
  const half = (to - from) / panels / 2;
  for (let panel = 0; panel < panels; panel++) {
    const middle = from + half * (2 * panel + 1);
    for (let i = 0; i < size; i++) {
      nodes[panel * size + i] = middle + half * rule.nodes[i]!;
      weights[panel * size + i] = half * rule.weights[i]!;
    }
  }
  return { nodes, weights };
}
