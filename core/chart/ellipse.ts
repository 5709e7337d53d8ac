import type { Point } from "../stats/ellipses";
import { ellipseEdge, isFlat, leastEllipsePoints, pointCloud, squaredRadius } from "../stats/ellipses";

export type { Point } from "../stats/ellipses";
export { meanPoint } from "../stats/ellipses";

/**
 * The edge of the ellipse that holds the *next* point with the given probability, as a closed line of 73 points.
 *
 * @returns `null` for fewer than 6 points, or when they lie on a line.
 */
export function nextPointEllipse(points: readonly Point[], probability = 0.95): Point[] | null {
  if (points.length < leastEllipsePoints) return null;
  const cloud = pointCloud(points);
  return isFlat(cloud) ? null : ellipseEdge(cloud, squaredRadius("next shot", cloud.n, probability));
}
