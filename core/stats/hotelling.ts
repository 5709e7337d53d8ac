import { fUpperTail } from "./distributions";
import type { Point } from "./ellipses";
import { isFlat, pointCloud, squaredDistance } from "./ellipses";

/** Whether two centres differ, both coordinates at once. */
export interface CentresTest {
  /** Hotelling's T²: the squared distance of the means in pooled standard errors. */
  readonly t2: number;
  readonly f: number;
  readonly df: readonly [number, number];
  readonly p: number;
}

/**
 * Hotelling's two-sample T² with one covariance for both groups.
 *
 * For shots that are not independent the points are the means of stints.
 *
 * @param first points, none missing; both groups together five or more.
 * @param second the same.
 * @returns `NaN` where there are too few or they lie on a line.
 * Source: H. Hotelling, Annals of Mathematical Statistics 2 (1931) 360.
 */
export function hotelling(first: readonly Point[], second: readonly Point[]): CentresTest {
  const [a, b] = [pointCloud(first), pointCloud(second)];
  const total = a.n + b.n - 2;
  const df = [2, a.n + b.n - 3] as const;
  const part = (one: number, other: number): number => ((a.n - 1) * one + (b.n - 1) * other) / total;
  const pooled = { n: a.n + b.n, centre: b.centre, xx: part(a.xx, b.xx), xy: part(a.xy, b.xy), yy: part(a.yy, b.yy) };
  if (df[1] < 1 || isFlat(pooled)) return { t2: Number.NaN, f: Number.NaN, df, p: Number.NaN };
  const t2 = ((a.n * b.n) / (a.n + b.n)) * squaredDistance(pooled, a.centre);
  const f = (t2 * df[1]) / (2 * total);
  return { t2, f, df, p: fUpperTail(f, df[0], df[1]) };
}
