import { dot } from "./matrix";
import { meanModel } from "./mean-model";
import { hasScatter, projectOn } from "./qr";
import type { ShotData } from "./shot-data";

/** What is left of a column, as a share of it, below which the columns before it make it. */
const dependentShare = 1e-8;

/**
 * Values less the mean of their group, the level of their session and the trend of their session, by least squares:
 * what is scatter, and neither head nor drift.
 *
 * What the groups' means make already (the level of a session whose heads were hit in no other) is left out.
 *
 * @returns one a shot, in the unit of the values; about 0 on average in each group, and exactly 0 in a group whose values
 *   are all alike and where nothing is left but rounding.
 */
export function meanResiduals(data: ShotData): Float64Array {
  const directions: Float64Array[] = [];
  for (const column of meanModel(data).columns) {
    const { residuals } = projectOn(directions, column);
    const length = Math.sqrt(dot(residuals, residuals));
    if (length > dependentShare * Math.sqrt(dot(column, column))) directions.push(residuals.map((value) => value / length));
  }
  const { residuals } = projectOn(directions, data.value);
  if (!hasScatter(residuals, data.value)) return residuals.fill(0);
  const varied = new Set<number>();
  const first = new Map<number, number>();
  data.group.forEach((group, i) => {
    if (!first.has(group)) first.set(group, data.value[i]!);
    else if (first.get(group) !== data.value[i]) varied.add(group);
  });
  // A trend of the others would otherwise give scatter to values that have none.
  return residuals.map((residual, i) => (varied.has(data.group[i]!) ? residual : 0));
}
