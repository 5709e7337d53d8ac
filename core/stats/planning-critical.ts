import { familyCritical } from "./simultaneous";

/** Degrees of freedom at which critical values are worked out; between them they are nearly polynomial in 1/df. */
const places = [1, 1.5, 2, 3, 4, 5, 6, 8, 10, 13, 17, 23, 35, 70, Infinity];

const worked = new Map<string, number>();

/**
 * How many standard errors to go on either side of a difference, nearly: for planning, which asks hundreds of times.
 *
 * Interpolated between the values of `familyCritical` at a few df, each worked out once; within 0.1 % of them from 3 df,
 * which no whole number of stints depends on.
 *
 * @returns `NaN` when `df` is `NaN` or below 1.
 */
export function planningCritical(confidence: number, familySize: number, df: number): number {
  // Student's t costs little as it is.
  if (familySize <= 2 || !(df >= 1)) return familyCritical(confidence, familySize, df);
  const above = places.findIndex((place) => place >= df);
  const from = Math.max(0, Math.min(above - 2, places.length - 4));
  const near = places.slice(from, from + 4);
  const at = 1 / df;
  return near.reduce((total, place, i) => {
    const weight = near.reduce((product, other, j) => (j === i ? product : (product * (at - 1 / other)) / (1 / place - 1 / other)), 1);
    return total + weight * criticalAt(confidence, familySize, place);
  }, 0);
}

function criticalAt(confidence: number, familySize: number, df: number): number {
  const key = `${confidence} ${familySize} ${df}`;
  let known = worked.get(key);
  if (known === undefined) worked.set(key, (known = familyCritical(confidence, familySize, df)));
  return known;
}
