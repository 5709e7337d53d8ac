/**
 * A fast stand-in for a smooth function on an interval: Chebyshev polynomials on panels of equal width.
 *
 * For functions that are dear and asked for often. With panels narrow against the function's features the stand-in
 * differs by rounding alone.
 *
 * @param f a function that is smooth from 0 to `to`.
 * @param panels how many panels, 1 or more.
 * @param order how many polynomials a panel.
 * @returns a function for arguments from 0 up to (not including) `to`.
 * Source: C. W. Clenshaw, Mathematics of Computation 9 (1955) 118, the recurrence; coefficients by the discrete cosine
 * transform at the Chebyshev points.
 */
export function chebyshevStandIn(f: (x: number) => number, to: number, panels: number, order: number): (x: number) => number {
  const width = to / panels;
  const coefficients = new Float64Array(panels * order);
  const cosines = Float64Array.from({ length: order * order }, (_, at) => Math.cos((Math.PI * Math.floor(at / order) * ((at % order) + 0.5)) / order));
  for (let panel = 0; panel < panels; panel++) {
    const values = Array.from({ length: order }, (_, k) => f(width * (panel + 0.5 + 0.5 * Math.cos((Math.PI * (k + 0.5)) / order))));
    for (let j = 0; j < order; j++) {
      let sum = 0;
      for (let k = 0; k < order; k++) sum += values[k]! * cosines[j * order + k]!;
      coefficients[panel * order + j] = (sum * (j === 0 ? 1 : 2)) / order;
    }
  }
  return (x) => {
    const panel = Math.min(panels - 1, Math.max(0, Math.floor(x / width)));
    const twice = 4 * (x / width - panel) - 2;
    let next = 0;
    let afterNext = 0;
    for (let at = (panel + 1) * order - 1; at > panel * order; at--) {
      const here = twice * next - afterNext + coefficients[at]!;
      afterNext = next;
      next = here;
    }
    return 0.5 * twice * next - afterNext + coefficients[panel * order]!;
  };
}
