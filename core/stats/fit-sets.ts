import type { PairShots } from "./comparison";
import type { ShotData } from "./shot-data";

/** A pair among the groups that a model was fitted to. */
export interface FittedPair<F> {
  readonly fit: F;
  /** Numbers of the two groups in the data of the fit. */
  readonly of: number;
  readonly against: number;
}

/**
 * What a model says of each pair, each fitted to the shots that may speak for it.
 *
 * Where every pair is told apart from time in every session that both are in, all groups are fitted together over the
 * sessions of the pair, so that all of them tell how shots scatter. Else each pair is fitted alone, in the sessions
 * that tell it apart, so that nothing leaks into a difference through a third head that was hit at other times.
 *
 * @param fit the model of some of the shots, groups numbered anew; `null` where they do not determine it. It is called
 *   once for each set of shots.
 * @returns one entry a pair; `null` for a pair hit in one go, never together or in one stint, and where there is no fit.
 */
export function fitPairs<F>(data: ShotData, pairs: readonly PairShots[], fit: (data: ShotData) => F | null): readonly (FittedPair<F> | null)[] {
  const known = new Map<string, F | null>();
  const fitOnce = (groups: readonly number[], sessions: readonly number[]): F | null => {
    const key = `${groups.join()} ${sessions.join()}`;
    let found = known.get(key);
    if (found === undefined) known.set(key, (found = fit(shotsOf(data, groups, sessions))));
    return found;
  };
  const among = (pair: PairShots, groups: readonly number[]): FittedPair<F> | null => {
    const found = fitOnce(groups, pair.sessions);
    return found === null ? null : { fit: found, of: groups.indexOf(pair.of), against: groups.indexOf(pair.against) };
  };
  const isTogether = pairs.every((pair) => !pair.comparable || (pair.inTime === "in turns" && pair.leftOut.length === 0));
  return pairs.map((pair) => {
    if (!pair.comparable || !pair.scatters || pair.inTime === "in one go") return null;
    const together = isTogether ? among(pair, groupsIn(data, pair.sessions)) : null;
    return together ?? among(pair, [pair.against, pair.of]);
  });
}

/** The one fit behind all pairs that have one; `null` when there are several or none. */
export function soleFit<F>(fitted: readonly (FittedPair<F> | null)[]): F | null {
  const fits = new Set(fitted.flatMap((each) => (each === null ? [] : [each.fit])));
  const [first] = fits;
  return fits.size === 1 ? first! : null;
}

function groupsIn({ group, session }: ShotData, sessions: readonly number[]): readonly number[] {
  const found = new Set<number>();
  group.forEach((each, i) => {
    if (sessions.includes(session[i]!)) found.add(each);
  });
  return [...found].sort((a, b) => a - b);
}

/** The shots of some groups in some sessions; the groups are numbered by their places in `groups`. */
export function shotsOf(data: ShotData, groups: readonly number[], sessions: readonly number[]): ShotData {
  const kept = Int32Array.from(Array.from(data.group.keys()).filter((i) => groups.includes(data.group[i]!) && sessions.includes(data.session[i]!)));
  const numbers = (values: Float64Array): Float64Array => Float64Array.from(kept, (i) => values[i]!);
  return {
    groupCount: groups.length,
    group: kept.map((i) => groups.indexOf(data.group[i]!)),
    session: kept.map((i) => data.session[i]!),
    stint: numbers(data.stint),
    time: numbers(data.time),
    value: numbers(data.value),
    strike: data.strike === null ? null : { x: numbers(data.strike.x), y: numbers(data.strike.y) },
  };
}
