/** Evaluations after which the interval is narrow beyond doubt. */
const mostSteps = 200;

/**
 * Where a rising function is 0, by inverse quadratic interpolation guarded by halving.
 *
 * @param f a function that rises from below 0 to above 0 somewhere above `low`.
 * @param low a place at which `f` is at most 0.
 * @param high a first guess of a place at which `f` is at least 0; doubled in distance from `low` until it is.
 * @param relative accuracy of the answer as a share of it.
 * @returns the place; `NaN` when `f` never becomes positive.
 * Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145.
 */
export function risingRoot(f: (x: number) => number, low: number, high: number, relative = 1e-12): number {
  // The root lies between a and b; c is the place that was given up last.
  let [a, fa] = [low, f(low)];
  let [b, fb] = [high, f(high)];
  for (let doublings = 0; fb < 0; doublings++) {
    if (doublings === 60) return Number.NaN;
    [a, fa] = [b, fb];
    b = low + 2 * (b - low);
    fb = f(b);
  }
  if (fa === 0) return a;
  let share = 0.5;
  for (let step = 0; step < mostSteps; step++) {
    const x = a + share * (b - a);
    const fx = f(x);
    let [c, fc] = [a, fa];
    if (fx < 0 !== fa < 0) [c, fc, b, fb] = [b, fb, a, fa];
    [a, fa] = [x, fx];
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const nearest = (relative * Math.abs(best)) / 2 / Math.abs(b - a);
    if (nearest > 0.5 || fa === 0 || fb === 0 || b === a) return best;
    const place = (a - b) / (c - b);
    const height = (fa - fb) / (fc - fb);
    // Chandrupatla's condition: the curve through the three points is steep enough to be trusted.
    share =
      height * height < place && (1 - height) ** 2 < 1 - place
        ? (fa / (fb - fa)) * (fc / (fb - fc)) + (((c - a) / (b - a)) * fa * fb) / ((fc - fa) * (fc - fb))
        : 0.5;
    share = Math.min(1 - nearest, Math.max(nearest, share));
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}
