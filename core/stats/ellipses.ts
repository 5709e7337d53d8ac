/** A point of a plane. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Fewest points that get an ellipse. */
export const leastEllipsePoints = 6;

/** The centre of some points and their covariance. */
export interface PointCloud {
  readonly n: number;
  readonly centre: Point;
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
}

/** What an ellipse holds with a stated probability. */
export type EllipseKind = "population" | "next shot" | "mean point";

/** An ellipse by its axes. */
export interface EllipseAxes {
  readonly semiMajor: number;
  readonly semiMinor: number;
  /** Of the major axis from the x axis, in degrees, above −90 and at most 90. */
  readonly angle: number;
  readonly area: number;
}

/** The sample means and the sample covariance (divisor n − 1) of some points; `NaN` covariance for a single one. */
export function pointCloud(points: readonly Point[]): PointCloud {
  const n = points.length;
  const centre = meanPoint(points);
  let [xx, xy, yy] = [0, 0, 0];
  for (const point of points) {
    const [u, v] = [point.x - centre.x, point.y - centre.y];
    xx += u * u;
    xy += u * v;
    yy += v * v;
  }
  return { n, centre, xx: xx / (n - 1), xy: xy / (n - 1), yy: yy / (n - 1) };
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

/** True when the points lie on a line or all in one place, so that there is no ellipse. */
export function isFlat({ xx, xy, yy }: PointCloud): boolean {
  return !(xx * yy - xy * xy > 1e-12 * xx * yy);
}

/**
 * The squared radius k² of an ellipse (z − m)'S⁻¹(z − m) ≤ k² about the mean m with the covariance S of n points.
 *
 * "population": holds that share of all points if m and S were exact, −2 ln(1 − p). "next shot": holds the next point
 * with that probability, 2(n² − 1)/(n(n − 2)) F. "mean point": holds the mean of all points with that confidence,
 * 2(n − 1)/(n(n − 2)) F. F is the p quantile with 2 and n − 2 degrees of freedom. Assumes independent points, jointly
 * normal.
 *
 * @param n points, 3 or more.
 * @param probability 0 up to (not including) 1.
 * Source: R. A. Johnson, D. W. Wichern, Applied Multivariate Statistical Analysis, 6th ed. (2007), (4-8), (5-19), 5.4.
 * @example squaredRadius("next shot", 20, 0.95) // 7.88
 */
export function squaredRadius(kind: EllipseKind, n: number, probability: number): number {
  // With 2 numerator degrees of freedom F has a closed form: P(F > f) = (1 + 2f/m)^(−m/2), m = n − 2.
  const f = ((n - 2) / 2) * ((1 - probability) ** (-2 / (n - 2)) - 1);
  switch (kind) {
    case "population":
      return -2 * Math.log(1 - probability);
    case "next shot":
      return (2 * (n * n - 1) * f) / (n * (n - 2));
    case "mean point":
      return (2 * (n - 1) * f) / (n * (n - 2));
  }
}

/** Variances along the axes of a cloud, the larger first; never negative. */
export function principalVariances({ xx, xy, yy }: PointCloud): readonly [number, number] {
  const middle = (xx + yy) / 2;
  const off = Math.hypot((xx - yy) / 2, xy);
  const larger = middle + off;
  // The smaller from the determinant, since the difference would lose digits where it is far smaller.
  return [larger, larger > 0 ? Math.max(0, (xx * yy - xy * xy) / larger) : 0];
}

/** The axes and the area π k² √|S| of the ellipse of squared radius `k2`, in the units of the points. */
export function ellipseAxes(cloud: PointCloud, k2: number): EllipseAxes {
  const [larger, smaller] = principalVariances(cloud);
  const angle = (Math.atan2(2 * cloud.xy, cloud.xx - cloud.yy) / 2) * (180 / Math.PI);
  return {
    semiMajor: Math.sqrt(k2 * larger),
    semiMinor: Math.sqrt(k2 * smaller),
    angle: angle <= -90 ? 90 : angle,
    area: Math.PI * k2 * Math.sqrt(larger * smaller),
  };
}

/** The edge of the ellipse of squared radius `k2`, as a closed line of 73 points. */
export function ellipseEdge({ centre, xx, xy, yy }: PointCloud, k2: number): Point[] {
  // A lower triangular root of the covariance turns the unit circle into the ellipse.
  const a = Math.sqrt(xx);
  const b = xy / a;
  const c = Math.sqrt(yy - b * b);
  const size = Math.sqrt(k2);
  return Array.from({ length: 73 }, (_, i) => {
    const angle = (i / 72) * 2 * Math.PI;
    const [u, v] = [size * Math.cos(angle), size * Math.sin(angle)];
    return { x: centre.x + a * u, y: centre.y + b * u + c * v };
  });
}

/** The squared distance (z − m)'S⁻¹(z − m) of a point from the centre of a cloud, in squared standard deviations. */
export function squaredDistance({ centre, xx, xy, yy }: PointCloud, point: Point): number {
  const [u, v] = [point.x - centre.x, point.y - centre.y];
  return (yy * u * u - 2 * xy * u * v + xx * v * v) / (xx * yy - xy * xy);
}

/**
 * Half the logarithm of the determinant of some points' covariance: the logarithm of an ellipse's area but for a
 * constant that two groups share.
 *
 * @returns `NaN` when the points lie on a line or are fewer than three.
 */
export function logArea(points: readonly Point[]): number {
  if (points.length < 3) return Number.NaN;
  const cloud = pointCloud(points);
  return isFlat(cloud) ? Number.NaN : Math.log(cloud.xx * cloud.yy - cloud.xy * cloud.xy) / 2;
}
