import type { ComparisonData, PairShots } from "./comparison";
import { sum } from "./moments";
import { allPairs } from "./pair-methods";
import type { StintMean } from "./stints";
import { stintMeans } from "./stints";
import { pairInTime, tellsApart, turnsIn } from "./time-share";

/**
 * For all pairs of groups the sessions in which they can be compared, and their shots, stints and turns there.
 *
 * A session that cannot tell the two from the course of time, since all of one was hit before all of the other or
 * drift could pass for a difference, is left out of the pair. It would not do to let opposite orders on two days
 * make up for one another: what changed between the heads differs from day to day, and the scatter within days knows
 * nothing of it. Where no session can tell, all that have both are used, for a description only.
 *
 * @param orderKnown false to take every session that has both.
 */
export function pairShots(data: ComparisonData, orderKnown: boolean): readonly PairShots[] {
  const stints = orderKnown ? stintMeans(data) : shotsAsStints(data);
  const byGroup = Array.from({ length: data.groupCount }, (_, group) => bySession(stints.filter((stint) => stint.group === group)));
  return allPairs(data.groupCount).map(({ of, against }) => ({ of, against, ...shotsOfPair(byGroup[of]!, byGroup[against]!, orderKnown) }));
}

/** Every shot as a stint of its own: what is left where the hitting order is not known. */
export function shotsAsStints({ group, session, value }: ComparisonData): readonly StintMean[] {
  return Array.from(value, (mean, i) => ({ group: group[i]!, session: session[i]!, stint: i, turn: i, n: 1, mean }));
}

type Sessions = ReadonlyMap<number, readonly StintMean[]>;

/** Stints by session. */
export function bySession(stints: readonly StintMean[]): Sessions {
  const sessions = new Map<number, StintMean[]>();
  for (const stint of stints) {
    const known = sessions.get(stint.session);
    if (known === undefined) sessions.set(stint.session, [stint]);
    else known.push(stint);
  }
  return sessions;
}

function shotsOfPair(of: Sessions, against: Sessions, orderKnown: boolean): Omit<PairShots, "of" | "against"> {
  const together = [...of.keys()].filter((session) => against.has(session));
  const inSession = (session: number) => ({ mine: of.get(session)!, theirs: against.get(session)! });
  const telling = orderKnown ? together.filter((session) => tellsApart(inSession(session))) : together;
  const sessions = telling.length > 0 ? telling : together;
  const used = (side: Sessions) => (sessions.length > 0 ? sessions.map((session) => side.get(session)!) : [...side.values()]);
  const [mine, theirs] = [used(of), used(against)];
  const hasScatter = (stints: readonly (readonly StintMean[])[]) => stints.some((own) => own.length > 1);
  const shotsIn = (stints: readonly (readonly StintMean[])[]) => sum(stints.flat().map((stint) => stint.n));
  return {
    sessions,
    leftOut: together.filter((session) => !sessions.includes(session)),
    comparable: sessions.length > 0,
    n: shotsIn(mine),
    nAgainst: shotsIn(theirs),
    stints: mine.flat().length,
    stintsAgainst: theirs.flat().length,
    turns: turnsIn(mine.flat()),
    turnsAgainst: turnsIn(theirs.flat()),
    scatters: hasScatter(mine) && hasScatter(theirs),
    inTime: orderKnown ? pairInTime(sessions.map(inSession)) : "in turns",
  };
}
