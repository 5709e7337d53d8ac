import type { ComparisonData, ComparisonModel, PairEstimate } from "./comparison";
import type { MeanContrast } from "./mean-contrast";
import { satterthwaite } from "./mean-contrast";
import { mean, squaredDeviations, sum } from "./moments";
import { allPairs } from "./pair-methods";
import type { StintMean } from "./stints";
import { stintMeans } from "./stints";
import { pairInTime, tellsApart, turnsIn } from "./time-share";

/**
 * Means of stints, each stint one observation of equal weight, each head with a variance of its own.
 *
 * Shots of one stint share tee, timing and swing feel, so that the stint is what varies independently. Two heads are
 * compared by Welch's t; several by Games and Howell's method, which is the same standard error and df with the
 * studentized range as the critical value. Both heads' variances are kept apart because heads differ in scatter and
 * stints in length: in simulated sessions with heads alike (4000 each; 2 to 5 heads, 3 to 10 stints, as many of each
 * head, one head's scatter up to doubled) some pair was called different in 3.6 to 6.5 % of sessions, against 4.3 to
 * 8.1 % with one pooled variance (Tukey and Kramer). With 3, 6 and 9 stints and the doubled scatter where the stints
 * are fewest it was 7 % against 15 %. The price is a wider interval below about 6 stints a head.
 *
 * Several sessions: differences are taken within each session in which both heads were hit and averaged with the
 * weights B₁B₂/(B₁+B₂) of their stints, so that a difference between days is never one between heads. Variances are
 * pooled within sessions. With one session this is Welch's t exactly. It does not allow for heads differing otherwise
 * on other days.
 *
 * A session that cannot tell the two from the course of time, since all of one was hit before all of the other or
 * drift could pass for a difference, is left out of the pair. It would not do to let opposite orders on two days
 * make up for one another: what changed between the heads differs from day to day, and the scatter within days knows
 * nothing of it. Where no session can tell, the difference is that of all of them, as a description only.
 *
 * Groups other than heads may share stints. What they share then cancels in their difference, and the interval is wider
 * than it need be, never narrower.
 *
 * Nothing is taken out for drift or for where the face was hit.
 *
 * Sources: B. L. Welch, Biometrika 34 (1947) 28; F. E. Satterthwaite, Biometrics Bulletin 2 (1946) 110; P. A. Games,
 * J. F. Howell, Journal of Educational Statistics 1 (1976) 113; the simulation is our own.
 */
export const stintMeansModel: ComparisonModel = {
  words: (groupCount) =>
    groupCount === 2
      ? "Welch's t on the means of stints, each stint counted once"
      : `Games and Howell's method on the means of stints, each stint counted once, over ${groupCount} groups at once`,
  fit: (data) => fitPairs(stintMeans(data), data.groupCount, true),
};

/** The same for shots whose order is not known: every shot counts as a stint of its own, as a rule of thumb. */
export const independentShotsModel: ComparisonModel = {
  words: (groupCount) =>
    groupCount === 2
      ? "Welch's t on single shots as if they were independent, since their order is not known"
      : `Games and Howell's method on single shots as if they were independent, since their order is not known, over ${groupCount} groups at once`,
  fit: (data) => fitPairs(eachShotAlone(data), data.groupCount, false),
};

function eachShotAlone({ group, session, value }: ComparisonData): readonly StintMean[] {
  return Array.from(value, (mean, i) => ({ group: group[i]!, session: session[i]!, stint: i, turn: i, n: 1, mean }));
}

function fitPairs(stints: readonly StintMean[], groupCount: number, orderKnown: boolean): readonly PairEstimate[] {
  const byGroup = Array.from({ length: groupCount }, (_, group) => sessionsOf(stints, group));
  const pairs = allPairs(groupCount).map(({ of, against }) => ({
    of,
    against,
    ...comparePair(byGroup[of]!, byGroup[against]!, orderKnown),
  }));
  const judged = new Set(pairs.filter((pair) => pair.df > 0).flatMap((pair) => [pair.of, pair.against]));
  return pairs.map((pair) => ({ ...pair, familySize: Math.max(2, judged.size) }));
}

/** The stints of one group, by session. */
function sessionsOf(stints: readonly StintMean[], group: number): ReadonlyMap<number, readonly StintMean[]> {
  const sessions = new Map<number, StintMean[]>();
  for (const stint of stints) {
    if (stint.group !== group) continue;
    const known = sessions.get(stint.session);
    if (known === undefined) sessions.set(stint.session, [stint]);
    else known.push(stint);
  }
  return sessions;
}

type Sessions = ReadonlyMap<number, readonly StintMean[]>;

function comparePair(of: Sessions, against: Sessions, orderKnown: boolean): Omit<PairEstimate, "of" | "against" | "familySize"> {
  const together = [...of.keys()].filter((session) => against.has(session));
  const inSession = (session: number) => ({ mine: of.get(session)!, theirs: against.get(session)! });
  const telling = orderKnown ? together.filter((session) => tellsApart(inSession(session))) : together;
  const common = telling.length > 0 ? telling : together;
  const used = (side: Sessions) => (common.length > 0 ? common.map((session) => side.get(session)!) : [...side.values()]);
  const [mine, theirs] = [used(of), used(against)];
  const [own, other] = [within(mine), within(theirs)];
  return {
    ...(common.length > 0 ? contrastOf(mine, theirs, own, other) : { difference: Number.NaN, standardError: Number.NaN, df: Number.NaN }),
    n: shotsIn(mine),
    nAgainst: shotsIn(theirs),
    stints: mine.flat().length,
    stintsAgainst: theirs.flat().length,
    turns: turnsIn(mine.flat()),
    turnsAgainst: turnsIn(theirs.flat()),
    inTime: orderKnown ? pairInTime(common.map(inSession)) : "in turns",
    leftOut: together.filter((session) => !common.includes(session)),
    comparable: common.length > 0,
    stintVariance: own.variance,
    stintVarianceAgainst: other.variance,
  };
}

interface Within {
  readonly variance: number;
  readonly df: number;
}

/** Variance of stint means within sessions, pooled over sessions; `NaN` when no session has two stints. */
function within(sessions: readonly (readonly StintMean[])[]): Within {
  const df = sum(sessions.map((stints) => stints.length - 1));
  const squares = sum(sessions.map((stints) => squaredDeviations(stints.map((stint) => stint.mean))));
  return { variance: df > 0 ? squares / df : Number.NaN, df };
}

/** The weighted mean of the differences within each session; both lists have the same sessions in the same order. */
function contrastOf(
  mine: readonly (readonly StintMean[])[],
  theirs: readonly (readonly StintMean[])[],
  own: Within,
  other: Within,
): MeanContrast {
  const weights = mine.map((stints, i) => (stints.length * theirs[i]!.length) / (stints.length + theirs[i]!.length));
  const total = sum(weights);
  const shares = weights.map((weight) => weight / total);
  const centre = (stints: readonly StintMean[]) => mean(stints.map((stint) => stint.mean));
  const difference = sum(shares.map((share, i) => share * (centre(mine[i]!) - centre(theirs[i]!))));
  const parts = [
    { amount: own.variance * sum(shares.map((share, i) => (share * share) / mine[i]!.length)), df: own.df },
    { amount: other.variance * sum(shares.map((share, i) => (share * share) / theirs[i]!.length)), df: other.df },
  ];
  const standardError = Math.sqrt(parts[0]!.amount + parts[1]!.amount);
  return { difference, standardError, df: Number.isNaN(standardError) ? Number.NaN : satterthwaite(parts) };
}

function shotsIn(sessions: readonly (readonly StintMean[])[]): number {
  return sum(sessions.flat().map((stint) => stint.n));
}
