import { mean } from "./moments";

/** The shots of one group in one stint. */
export interface StintMean {
  readonly group: number;
  readonly session: number;
  readonly stint: number;
  /**
   * Number of the turn in its session: stints of one group that follow one another with nothing but a break between
   * them are one turn.
   */
  readonly turn: number;
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
  const turns = turnsOf([...found.values()]);
  return [...found.values()].map(({ values, ...which }) => ({ ...which, turn: turns.get(placeOf(which))!, n: values.length, mean: mean(values) }));
}

/**
 * The turn of each stint. A turn goes on where the next number in the session is of the same group and neither stint is
 * shared; where numbers are left out, something else was hit in between.
 */
function turnsOf(stints: readonly Which[]): ReadonlyMap<string, number> {
  const groups = new Map<string, number | "several">();
  for (const stint of stints) {
    const known = groups.get(placeOf(stint));
    groups.set(placeOf(stint), known === undefined || known === stint.group ? stint.group : "several");
  }
  const turns = new Map<string, number>();
  for (const stint of [...stints].sort((a, b) => a.session - b.session || a.stint - b.stint)) {
    const before = placeOf({ ...stint, stint: stint.stint - 1 });
    const goesOn = groups.get(before) === stint.group && groups.get(placeOf(stint)) === stint.group;
    turns.set(placeOf(stint), goesOn ? turns.get(before)! : stint.stint);
  }
  return turns;
}

function placeOf({ session, stint }: Omit<Which, "group">): string {
  return `${session} ${stint}`;
}

type Which = Pick<StintMean, "group" | "session" | "stint">;

interface Gathered extends Which {
  readonly values: number[];
}

function isSame(a: Which, b: Which): boolean {
  return a.stint === b.stint && a.group === b.group && a.session === b.session;
}
