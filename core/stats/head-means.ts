import { fitBlockModel } from "./block-model";
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
 * The mean of each group's shots with its interval, from the block model over all groups of a session.
 *
 * What scatters is told from all heads of the session: one stint variance and one shot variance, after each head's level
 * and the trend of the session are taken out, so that a tiring tester is not taken for scatter. The mean itself is the
 * plain one of the group's shots, at the time at which they were hit. Its squared standard error is that of the model,
 * σ_b² Σ mᵢ²/n² + σ²/n with mᵢ of the n shots in stint i, and never below Kenward and Roger's for the group's level at
 * its own mean time; the two are equal where the stints are equally long. The df are Kenward and Roger's.
 *
 * No interval for fewer than 5 shots; for shots of several sessions, since days differ by more than stints do; for one
 * turn, however many breaks were in it; where nothing scatters; and below 1 df.
 *
 * With so many groups that the model would take too long, each group's own stints give the interval.
 *
 * @param orderKnown false where the hitting order is not known: the interval is then that of independent shots, s/√n.
 * @param confidence 0.5 to 1, such as 0.95.
 * @returns one entry a group.
 * Sources: M. G. Kenward, J. H. Roger, Biometrics 53 (1997) 983; L. Kish, Survey Sampling (1965), for the mean over stints.
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
  const fit = fitBlockModel(model);
  if (fit === null) return { stints, errors: null };
  const errors = (group: number): { readonly standardError: number; readonly df: number } => {
    const place = places.get(group)!;
    const lengths = shotsByBlock(model, place);
    const n = sum(lengths);
    const { standardError, df } = fit.contrast(levelAtOwnTime(model, place));
    const plain = (fit.stintVariance * sum(lengths.map((m) => m * m))) / (n * n) + fit.residualVariance / n;
    return { standardError: Math.max(standardError, Math.sqrt(plain)), df };
  };
  return { stints, errors };
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

/** How many shots of the group each block that has some holds. */
function shotsByBlock({ columns, block, blockCount }: MeanModel, place: number): readonly number[] {
  const shots = Array.from({ length: blockCount }, () => 0);
  columns[place]!.forEach((isOwn, i) => (shots[block[i]!]! += isOwn));
  return shots.filter((m) => m > 0);
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
