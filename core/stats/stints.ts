import { mean } from "./moments";

/** The shots of one group in one stint. */
export interface StintMean {
  readonly group: number;
  readonly session: number;
  readonly stint: number;
  /** Shots with a value. */
  readonly n: number;
  /** Mean of their values, in the unit of the values. */
  readonly mean: number;
}

/** Columns of a shot table, one entry a shot. A negative group and a `NaN` value leave a shot out. */
export interface StintColumns {
  readonly group: Int32Array;
  readonly session: Int32Array;
  readonly stint: Float64Array;
  readonly value: Float64Array;
}

/**
 * The mean of every stint, for each group that has shots in it.
 *
 * A stint is known by its session and its number. Where groups are heads a stint has one group; grouped by anything
 * else, a stint may have a mean for several.
 *
 * @returns one entry a stint and group that has a value, in order of first appearance.
 */
export function stintMeans(columns: StintColumns): readonly StintMean[] {
  const { group, session, stint, value } = columns;
  const found = new Map<string, { readonly group: number; readonly session: number; readonly stint: number; readonly values: number[] }>();
  for (let i = 0; i < value.length; i++) {
    if (group[i]! < 0 || Number.isNaN(value[i]!)) continue;
    const key = `${session[i]!} ${stint[i]!} ${group[i]!}`;
    let entry = found.get(key);
    if (entry === undefined) {
      entry = { group: group[i]!, session: session[i]!, stint: stint[i]!, values: [] };
      found.set(key, entry);
    }
    entry.values.push(value[i]!);
  }
  return [...found.values()].map(({ values, ...which }) => ({ ...which, n: values.length, mean: mean(values) }));
}
