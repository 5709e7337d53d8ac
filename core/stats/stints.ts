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
  const groupCount = group.reduce((most, each) => Math.max(most, each + 1), 0);
  const places: Places = new Map();
  const found = new Map<number, Gathered>();
  let placeCount = 0;
  let current: Gathered | undefined;
  for (let i = 0; i < value.length; i++) {
    const [ofGroup, inSession, number] = [group[i]!, session[i]!, stint[i]!];
    if (ofGroup < 0 || Number.isNaN(value[i]!)) continue;
    // Shots of one stint mostly follow one another, so that the stint is looked up only when it changes.
    if (current === undefined || current.group !== ofGroup || current.stint !== number || current.session !== inSession) {
      let own = places.get(inSession);
      if (own === undefined) places.set(inSession, (own = new Map()));
      let place = own.get(number);
      if (place === undefined) own.set(number, (place = placeCount++));
      const key = place * groupCount + ofGroup;
      current = found.get(key);
      if (current === undefined) found.set(key, (current = { group: ofGroup, session: inSession, stint: number, place, values: [] }));
    }
    current.values.push(value[i]!);
  }
  const stints = [...found.values()];
  const turns = turnsOf(stints, places, placeCount);
  return stints.map(({ group: own, session: inSession, stint: number, place, values }) => ({ group: own, session: inSession, stint: number, turn: turns[place]!, n: values.length, mean: mean(values) }));
}

/**
 * The turn of each stint, by its place. A turn goes on where the next number in the session is of the same group and
 * neither stint is shared; where numbers are left out, something else was hit in between.
 */
function turnsOf(stints: readonly Gathered[], places: Places, placeCount: number): Float64Array {
  const groups = new Int32Array(placeCount).fill(nobody);
  for (const { place, group } of stints) groups[place] = groups[place] === nobody || groups[place] === group ? group : several;
  const turns = new Float64Array(placeCount);
  for (const { group, session, stint, place } of [...stints].sort((a, b) => a.session - b.session || a.stint - b.stint)) {
    const before = places.get(session)!.get(stint - 1);
    const goesOn = before !== undefined && groups[before] === group && groups[place] === group;
    turns[place] = goesOn ? turns[before]! : stint;
  }
  return turns;
}

/** In place of the group of a stint that has none yet, and of one that has more than one. */
const nobody = -1;
const several = -2;

/** For each session and stint number a number of its own, 0 and up. */
type Places = Map<number, Map<number, number>>;

interface Gathered extends Pick<StintMean, "group" | "session" | "stint"> {
  readonly place: number;
  readonly values: number[];
}
