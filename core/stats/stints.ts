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
  const found = new Map<string, Gathered>();
  let current: Gathered | undefined;
  for (let i = 0; i < value.length; i++) {
    const which = { group: group[i]!, session: session[i]!, stint: stint[i]! };
    if (which.group < 0 || Number.isNaN(value[i]!)) continue;
    // Shots of one stint mostly follow one another, so that the stint is looked up only when it changes.
    if (current === undefined || !isSame(current, which)) {
      const key = `${which.session} ${which.stint} ${which.group}`;
      current = found.get(key) ?? { ...which, values: [] };
      found.set(key, current);
    }
    current.values.push(value[i]!);
  }
  return [...found.values()].map(({ values, ...which }) => ({ ...which, n: values.length, mean: mean(values) }));
}

type Which = Pick<StintMean, "group" | "session" | "stint">;

interface Gathered extends Which {
  readonly values: number[];
}

function isSame(a: Which, b: Which): boolean {
  return a.stint === b.stint && a.group === b.group && a.session === b.session;
}
