import { fitClusterRobust } from "./cluster-robust";
import { tQuantile } from "./distributions";
import { leastShots } from "./judge-pair";
import type { Interval } from "./mean-contrast";
import type { MeanModel } from "./mean-model";
import { meanModel } from "./mean-model";
import { meanOfStints } from "./mean-of-stints";
import { mean, sampleSd, sum } from "./moments";
import type { ShotData } from "./shot-data";
import type { StintMean } from "./stints";
import { stintMeans } from "./stints";
import { turnsIn } from "./time-share";

/** Why a group's mean has no interval. */
export type WithoutInterval = "few shots" | "several sessions" | "one go" | "few stints" | "no scatter";

/** The mean of one group's shots, with how far off it may be. */
export interface HeadMean {
  /** Shots with a value. */
  readonly n: number;
  /** Of the n values, in their unit; `NaN` for none. */
  readonly mean: number;
  /** `NaN` both where `without` says why. */
  readonly interval: Interval;
  readonly without: WithoutInterval | null;
  /** Stints with a value; `NaN` when the order is not known. */
  readonly stints: number;
}

/** Shots of a session times the square of its groups, beyond which each group is looked at by itself. */
const mostWork = 5e6;

const none: Interval = { from: Number.NaN, to: Number.NaN };

/**
 * The mean of each group's shots with its interval, from the scatter of the group's own stints.
 *
 * Least squares over all groups of a session takes out each group's level and the trend of the session, so that a tiring
 * tester is not taken for scatter. The mean is the plain one of the group's shots, at the time at which they were hit:
 * that is what least squares gives for its level there. Standard error and df are CR2's with stints as clusters, which
 * take neither the scatter of shots nor that of stints for equal between groups: a loose head has a wide interval, and
 * does not make that of a tight one wider.
 *
 * No interval for fewer than 5 shots; for shots of several sessions, since days differ by more than stints do; for one
 * turn, however many breaks were in it; where none of the group's shots differs from another; and below 1 df.
 *
 * In simulated sessions of three heads (5 or 10 stints of 3 shots, stints of SD 0.5 to 2 yd, shots of SD 6 yd, those of
 * one head as much or 1.4 to 3 times that) 95 % intervals held each head's mean in 93 to 96 %. Those of a model with one
 * scatter for all held that of the loose head in 80 to 91 %.
 *
 * With so many groups that the model would take too long, each group's own stints give the interval.
 *
 * @param orderKnown false where the hitting order is not known: the interval is then that of independent shots, s/√n.
 * @param confidence 0.5 to 1, such as 0.95.
 * @returns one entry a group.
 * Sources: R. M. Bell, D. F. McCaffrey, Survey Methodology 28 (2002) 169; the simulation is our own.
 */
export function headMeans(data: ShotData, orderKnown: boolean, confidence: number): readonly HeadMean[] {
  const scatterIn = scatterBySession(data);
  return rowsByGroup(data).map((own, group): HeadMean => {
    const values = own.map((i) => data.value[i]!);
    const centre = values.length === 0 ? Number.NaN : mean(values);
    const told = { n: values.length, mean: centre, stints: orderKnown ? countStints(data, own) : Number.NaN };
    const without = (why: WithoutInterval): HeadMean => ({ ...told, interval: none, without: why });
    if (values.length < leastShots) return without("few shots");
    if (own.some((i) => data.session[i] !== data.session[own[0]!])) return without("several sessions");
    if (!orderKnown) {
      const sd = sampleSd(values);
      return sd > 0 ? { ...told, interval: around(centre, sd / Math.sqrt(values.length), values.length - 1, confidence), without: null } : without("no scatter");
    }
    const { stints, errors } = scatterIn(data.session[own[0]!]!);
    const mine = stints.filter((stint) => stint.group === group);
    if (turnsIn(mine) < 2) return without("one go");
    // The trend alone leaves residuals of shots that are all equal.
    if (values.every((value) => value === values[0])) return without("no scatter");
    if (errors === "too much work") return ownStints(told, mine, confidence);
    if (errors === null) return without("few stints");
    const { standardError, df } = errors(group);
    // Means of equal shots differ by rounding alone.
    if (Number.isNaN(df) || standardError <= 1e-12 * Math.abs(centre)) return without("no scatter");
    return df < 1 ? without("few stints") : { ...told, interval: around(centre, standardError, df, confidence), without: null };
  });
}

function around(centre: number, standardError: number, df: number, confidence: number): Interval {
  const reach = tQuantile((1 + confidence) / 2, df) * standardError;
  return { from: centre - reach, to: centre + reach };
}

function ownStints(told: Pick<HeadMean, "n" | "mean" | "stints">, stints: readonly StintMean[], confidence: number): HeadMean {
  const interval = meanOfStints(stints, confidence);
  return { ...told, interval, without: Number.isNaN(interval.from) ? "no scatter" : null };
}

function rowsByGroup({ group, groupCount }: ShotData): readonly (readonly number[])[] {
  const rows: number[][] = Array.from({ length: groupCount }, () => []);
  group.forEach((g, i) => rows[g]?.push(i));
  return rows;
}

function countStints({ session, stint }: ShotData, rows: readonly number[]): number {
  const stints = new Map<number, Set<number>>();
  for (const i of rows) {
    const known = stints.get(session[i]!);
    if (known === undefined) stints.set(session[i]!, new Set([stint[i]!]));
    else known.add(stint[i]!);
  }
  return sum([...stints.values()].map((own) => own.size));
}

/** How the stints of a session scatter. */
interface SessionScatter {
  readonly stints: readonly StintMean[];
  /** The standard error of a group's mean; `null` where nothing tells how much stints scatter. */
  readonly errors: ((group: number) => { readonly standardError: number; readonly df: number }) | "too much work" | null;
}

/** The scatter in a session, found when it is first asked for. */
function scatterBySession(data: ShotData): (session: number) => SessionScatter {
  const rows = new Map<number, number[]>();
  data.session.forEach((session, i) => {
    const known = rows.get(session);
    if (known === undefined) rows.set(session, [i]);
    else known.push(i);
  });
  const found = new Map<number, SessionScatter>();
  return (session) => {
    const known = found.get(session);
    if (known !== undefined) return known;
    const scatter = sessionScatter(takeShots(data, Int32Array.from(rows.get(session)!)));
    found.set(session, scatter);
    return scatter;
  };
}

function sessionScatter(shots: ShotData): SessionScatter {
  const stints = stintMeans(shots);
  const groups = [...new Set(shots.group)];
  if (shots.value.length * groups.length ** 2 > mostWork) return { stints, errors: "too much work" };
  const places = new Map(groups.map((group, place) => [group, place]));
  const model = meanModel({ ...shots, groupCount: groups.length, group: shots.group.map((group) => places.get(group)!) });
  const fit = fitClusterRobust(model);
  if (fit === null) return { stints, errors: null };
  return { stints, errors: (group) => fit.contrast(levelAtOwnTime(model, places.get(group)!)) };
}

function takeShots(data: ShotData, rows: Int32Array): ShotData {
  const numbers = (values: Float64Array): Float64Array => Float64Array.from(rows, (i) => values[i]!);
  return {
    groupCount: data.groupCount,
    group: rows.map((i) => data.group[i]!),
    session: rows.map((i) => data.session[i]!),
    stint: numbers(data.stint),
    time: numbers(data.time),
    value: numbers(data.value),
    strike: null,
  };
}

/** Weights for a group's level at the mean time of its own shots. */
function levelAtOwnTime({ columns, trends }: MeanModel, place: number): Float64Array {
  const own = columns[place]!;
  const n = sum(own);
  return Float64Array.from(columns, (column, j) => {
    if (j === place) return 1;
    return trends.includes(j) ? sum(column.map((t, i) => t * own[i]!)) / n : 0;
  });
}
