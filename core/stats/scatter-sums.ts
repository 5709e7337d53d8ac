/**
 * What some shots add to a measure of scatter: their count, and sums of one coordinate or two and of their products.
 *
 * The coordinates are residuals, about 0 on average, so that the sums of squares lose no digits.
 */
export interface ScatterSums {
  readonly n: number;
  readonly x: number;
  readonly y: number;
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
}

/** A measure of scatter on the logarithmic scale, `NaN` where the shots do not determine it. */
export type LogScatter = (sums: ScatterSums) => number;

/** The sums of some shots; `y` is 0 where there is only one coordinate. */
export function scatterSums(x: readonly number[], y: readonly number[] = []): ScatterSums {
  const sums = { n: x.length, x: 0, y: 0, xx: 0, xy: 0, yy: 0 };
  x.forEach((a, i) => {
    const b = y[i] ?? 0;
    sums.x += a;
    sums.y += b;
    sums.xx += a * a;
    sums.xy += a * b;
    sums.yy += b * b;
  });
  return sums;
}

/** All the shots of several sums together. */
export function totalScatter(parts: readonly ScatterSums[]): ScatterSums {
  const total = { n: 0, x: 0, y: 0, xx: 0, xy: 0, yy: 0 };
  for (const part of parts) {
    total.n += part.n;
    total.x += part.x;
    total.y += part.y;
    total.xx += part.xx;
    total.xy += part.xy;
    total.yy += part.yy;
  }
  return total;
}

/** The shots of `total` without those of `part`. */
export function withoutScatter(total: ScatterSums, part: ScatterSums): ScatterSums {
  return {
    n: total.n - part.n,
    x: total.x - part.x,
    y: total.y - part.y,
    xx: total.xx - part.xx,
    xy: total.xy - part.xy,
    yy: total.yy - part.yy,
  };
}

/** The standard deviation of the first coordinate, divisor n − 1; `NaN` for fewer than two shots. */
export function sdOfSums({ n, x, xx }: ScatterSums): number {
  return n < 2 ? Number.NaN : Math.sqrt(Math.max(0, xx - (x * x) / n) / (n - 1));
}

/** The logarithm of the standard deviation of the first coordinate; `NaN` without scatter. */
export function logSd(sums: ScatterSums): number {
  const sd = sdOfSums(sums);
  return sd > 0 ? Math.log(sd) : Number.NaN;
}

/**
 * The logarithm of the area of an ellipse of both coordinates, but for a constant that all groups share: ½ log |S|.
 *
 * @returns `NaN` for fewer than three shots, or for shots on a line.
 */
export function logAreaOfSums({ n, x, y, xx, xy, yy }: ScatterSums): number {
  if (n < 3) return Number.NaN;
  const [sxx, sxy, syy] = [xx - (x * x) / n, xy - (x * y) / n, yy - (y * y) / n];
  const determinant = sxx * syy - sxy * sxy;
  return determinant > 1e-12 * sxx * syy ? Math.log(determinant / (n - 1) ** 2) / 2 : Number.NaN;
}
