/** A point of a plane. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Fewest points that get an ellipse. */
const leastPoints = 6;

/**
 * The edge of the ellipse that holds the *next* point with the given probability, as a closed line of 73 points.
 *
 * From sample means and the sample covariance (divisor n − 1): k² = 2(n² − 1)/(n(n − 2)) · F(p; 2, n − 2). Assumes
 * points that are independent and jointly normal.
 *
 * @returns `null` for fewer than 6 points, or when they lie on a line.
 * Source: Johnson & Wichern 2007, Applied Multivariate Statistical Analysis, 6th ed., (5-19) and section 5.4.
 */
export function nextPointEllipse(points: readonly Point[], probability = 0.95): Point[] | null {
  const n = points.length;
  if (n < leastPoints) return null;
  const centre = meanPoint(points);
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (const { x, y } of points) {
    xx += (x - centre.x) ** 2;
    yy += (y - centre.y) ** 2;
    xy += (x - centre.x) * (y - centre.y);
  }
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-12 * xx * yy)) return null;
  // With 2 numerator degrees of freedom F has a closed form: P(F > f) = (1 + 2f/m)^(−m/2), m = n − 2.
  const f = ((n - 2) / 2) * ((1 - probability) ** (-2 / (n - 2)) - 1);
  const size = Math.sqrt((2 * (n * n - 1) * f) / (n * (n - 2)));
  // A lower triangular root of the covariance turns the unit circle into the ellipse.
  const a = Math.sqrt(xx / (n - 1));
  const b = xy / (n - 1) / a;
  const c = Math.sqrt(yy / (n - 1) - b * b);
  return Array.from({ length: 73 }, (_, i) => {
    const angle = (i / 72) * 2 * Math.PI;
    const [u, v] = [size * Math.cos(angle), size * Math.sin(angle)];
    return { x: centre.x + a * u, y: centre.y + b * u + c * v };
  });
}

/** The mean of some points; `NaN` for none. */
export function meanPoint(points: readonly Point[]): Point {
  let x = 0;
  let y = 0;
  for (const point of points) {
    x += point.x;
    y += point.y;
  }
  return { x: x / points.length, y: y / points.length };
}
