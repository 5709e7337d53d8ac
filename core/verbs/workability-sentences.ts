import { digitsAsStated, digitsFor, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import { leastReliability } from "../stats/attenuation";
import { equivalenceConfidence } from "../stats/judge-pair";
import type { SlopePair } from "../stats/judge-slopes";
import type { Interval } from "../stats/mean-contrast";
import { mostInOneSession, roughly } from "./planned-shots";
import { listed } from "./session-sentences";
import type { HeadRow, WorkabilityRows } from "./workability-table";
import { correctedInterval } from "./workability-table";

/** What a slope needs: shots and stints of a head, and the SD of face-to-path in degrees. Common practice, no source. */
export const leastForWorkability = { shots: 15, stints: 4, spread: 1.5 };

/** Difference of reliabilities between heads above which part of a difference of slopes may be theirs. */
const mostReliabilityGap = 0.1;

/** How to hit a session that can answer. */
function nextTime(by: string): string {
  return `Next time hit at least ${leastForWorkability.stints} stints with each ${by}, in turn, and ask for draws and fades on purpose in each, stated as intent in the session.`;
}

/**
 * What can be said of the heads and the pairs: the most workable head if there is one, the verdicts, then the slopes.
 *
 * @param by what the groups are: `head`.
 */
export function slopeSentences(rows: WorkabilityRows, by: string): readonly string[] {
  const judged = rows.heads.filter((head) => head.ground === "enough");
  const digits = digitsFor(Math.max(0, ...judged.map((head) => head.slope.standardError).filter((error) => !Number.isNaN(error))));
  const others = rows.heads.filter((head) => head.ground !== "enough");
  const isLacking =
    others.some((head) => ["one go", "few stints", "few shots", "little spread"].includes(head.ground)) ||
    rows.pairs.some((pair) => ["one go", "mixed with time", "few stints"].includes(pair.ground));
  return [
    ...mostWorkable(rows, by),
    ...new Set(rows.pairs.flatMap((pair) => pairSentence(pair, rows, by))),
    ...judged.map((head) => headSentence(head, digits, rows.confidence)),
    ...others.flatMap((head) => groundSentence(head, rows.withStrike, by)),
    ...described(others),
    ...(isLacking ? [nextTime(by)] : []),
  ];
}

function mostWorkable({ heads, pairs }: WorkabilityRows, by: string): readonly string[] {
  const judged = heads.filter((head) => head.ground === "enough");
  if (judged.length < 2) return [];
  const isShown = ({ verdict }: SlopePair): boolean => verdict.startsWith("different") && verdict !== "different but too small to matter";
  const isAbove = (group: number, other: number): boolean =>
    pairs.some((pair) => isShown(pair) && (pair.difference > 0 ? pair.of === group && pair.against === other : pair.of === other && pair.against === group));
  const best = judged.find(({ group }) => judged.every((other) => other.group === group || isAbove(group, other.group)));
  return [best === undefined ? `No ${by} is shown to be the most workable.` : `Most workable: ${best.name} curves most for the same face-to-path.`];
}

function headSentence(head: HeadRow, digits: number, confidence: number): string {
  const interval = Number.isNaN(head.interval.from) ? "no interval, since nothing scatters" : `${formatShare(confidence)} interval ${bounds(head.interval, digits)}`;
  return `${head.name}: ${degrees(head.slope.difference, digits)} of spin axis for a degree of face-to-path (${interval}; ${head.n} shots in ${head.stints} stints, standard deviation of face-to-path ${formatMeasure(head.spread, 1, "deg")}).`;
}

function pairSentence(pair: SlopePair, rows: WorkabilityRows, by: string): readonly string[] {
  const [of, against] = [rows.heads[pair.of]!.name, rows.heads[pair.against]!.name];
  if (pair.ground === "not judged") return [];
  if (pair.ground === "never together") return [`${of} and ${against} have no session in common: a difference between them cannot be told from a difference between days. No verdict.`];
  if (pair.ground === "one go") return [`${of} and ${against} were each hit in one go in every session: fatigue and warm-up cannot be told from the ${by}. No verdict.`];
  if (Number.isNaN(pair.wide.from)) return [`${of} \u2212 ${against}: nothing scatters, so that there is no interval. No verdict.`];
  const digits = digitsFor(pair.standardError);
  const limit = degrees(rows.margin, digitsAsStated(rows.margin));
  const turned = pair.difference < 0 ? { from: -pair.wide.to, to: -pair.wide.from } : pair.wide;
  const interval = (shown: Interval): string => `${formatShare(rows.confidence)} interval ${bounds(shown, digits)}`;
  const contrast = `A degree of face-to-path tilts the spin axis ${degrees(Math.abs(pair.difference), digits)} ${pair.difference < 0 ? "less" : "more"} with ${of} than with ${against} (${interval(turned)})`;
  const difference = `${of} \u2212 ${against} is ${degrees(pair.difference, digits)} of spin axis for a degree of face-to-path (${interval(pair.wide)})`;
  if (pair.ground === "mixed with time") return [`${difference}. ${of} and ${against} were hit at different times of the session: the difference cannot be told from drift. No verdict.`];
  if (pair.ground === "few stints") return [`${difference}. A verdict needs ${leastForWorkability.stints} stints of each ${by} in sessions in which both were hit in turn. No verdict.`];
  const narrow = `${formatShare(equivalenceConfidence)} interval ${bounds(pair.narrow, digits)}`;
  const method = pair.agree ? [] : [otherMethod(pair, rows, digits)];
  switch (pair.verdict) {
    case "different by more than the margin":
      return [`${contrast}. Different by more than the margin of ${limit}.`, ...method];
    case "different":
      return [`${contrast}. Different, by an amount that may be above or below the margin of ${limit}.`, ...method];
    case "different but too small to matter":
      return [`${contrast}. Different but too small to matter: the ${narrow}, is inside ±${limit}.`, ...method];
    case "practically equivalent":
      return [`${of} and ${against} are equally workable for practical purposes: the slopes differ by ${degrees(pair.difference, digits)} for a degree (${narrow}), inside ±${limit}. Practically equivalent.`, ...method];
    default:
      return [
        pair.dependsOnMethod
          ? `Undecided, since it depends on the method: ${difference}; ${methods(pair, digits, limit, rows.confidence)}. ${settling(pair, limit)}`
          : `Undecided: ${difference}. ${settling(pair, limit)}`,
      ];
  }
}

function otherMethod(pair: SlopePair, rows: WorkabilityRows, digits: number): string {
  const [of, against] = [rows.heads[pair.of]!.name, rows.heads[pair.against]!.name];
  return `The verdict on ${of} and ${against} depends on the method and is what both say: the model of shots in stints gives ${bounds(pair.byModel.wide, digits)}.`;
}

/** The intervals of the two methods that say different things: that on whether there is a difference, else that on its size. */
function methods(pair: SlopePair, digits: number, limit: string, confidence: number): string {
  const differs = ({ from, to }: Interval): boolean => from > 0 || to < 0;
  const check = "the model of shots in stints";
  if (Number.isNaN(pair.byModel.wide.from)) return `${check} gives no interval`;
  if (differs(pair.wide) !== differs(pair.byModel.wide)) return `the ${formatShare(confidence)} interval by ${check} is ${bounds(pair.byModel.wide, digits)}`;
  return `against ±${limit} the ${formatShare(equivalenceConfidence)} interval is ${bounds(pair.narrow, digits)} by least squares with errors robust to stints (CR2) and ${bounds(pair.byModel.narrow, digits)} by ${check}`;
}

function settling(pair: SlopePair, limit: string): string {
  if (pair.more === null && pair.dependsOnMethod) return "More shots may not settle it soon, since it depends on the method.";
  if (pair.more === null) return "More shots may not settle it soon: the difference seems to lie between none and the margin.";
  const { shots, from, to } = pair.more;
  if (shots > mostInOneSession) return `More than one session can settle: about ${roughly(shots)} more shots each for a question of ${limit}, fewer where face-to-path varies more.`;
  const upper = to > mostInOneSession ? `more than ${mostInOneSession}` : String(to);
  return `About ${shots} more shots each (${from} to ${upper}) would settle a question of ${limit}, fewer where face-to-path varies more.`;
}

function groundSentence(head: HeadRow, withStrike: boolean, by: string): readonly string[] {
  const known = `of which spin axis${withStrike ? ", face-to-path and strike" : " and face-to-path"} are known`;
  const { shots, stints, spread } = leastForWorkability;
  switch (head.ground) {
    case "no shots":
      return [`${head.name} has no shot ${known}. No verdict.`];
    case "few shots":
      return [`${head.name} has ${head.n} ${head.n === 1 ? "shot" : "shots"} ${known}; a verdict needs ${shots}. No verdict.`];
    case "one go":
      return [`${head.name} was hit in one go: fatigue and warm-up cannot be told from the ${by}. No verdict.`];
    case "few stints":
      return [`${head.name} was hit in fewer than ${stints} stints, those with only a break between them counted once. No verdict.`];
    case "little spread":
      return [`The tester did not vary face-to-path enough with ${head.name}: standard deviation ${formatMeasure(head.spread, 1, "deg")} over ${head.n} shots, and a verdict needs ${formatMeasure(spread, 1, "deg")}. No verdict.`];
    default:
      return [];
  }
}

/** Slopes without an interval, of the heads that are not judged. */
function described(heads: readonly HeadRow[]): readonly string[] {
  const known = heads.filter((head) => !Number.isNaN(head.slope.difference));
  if (known.length === 0) return [];
  return [`Without an interval, spin axis for a degree of face-to-path: ${listed(known.map((head) => `${head.name} ${degrees(head.slope.difference, 1)}`))}.`];
}

/** What the stated reading errors do to the slopes; empty where none are stated. */
export function correctionSentences(rows: WorkabilityRows, errors: { readonly face: number; readonly path: number } | null): readonly string[] {
  const judged = rows.heads.filter((head) => head.ground === "enough");
  if (judged.length === 0) return [];
  if (errors === null) return ["Reading errors of face angle and club path flatten every slope, about alike; they are not stated in the session, and no slope is corrected for them."];
  const share = (head: HeadRow): string => formatNumber(head.reliability, 2);
  const stated = `With the stated reading errors (face angle ${formatMeasure(errors.face, digitsAsStated(errors.face), "deg")}, club path ${formatMeasure(errors.path, digitsAsStated(errors.path), "deg")})`;
  const [told, refused] = [judged.filter((head) => head.corrected !== null), judged.filter((head) => head.corrected === null)];
  const corrected = told.map((head) => {
    const digits = digitsFor(head.corrected!.standardError);
    const interval = correctedInterval(head, rows.confidence);
    const shown = interval === null ? "no interval" : bounds(interval, digits);
    return `${head.name} ${degrees(head.corrected!.difference, digits)} (${shown}; reliability ${share(head)})`;
  });
  const reliabilities = judged.map((head) => head.reliability);
  return [
    ...(corrected.length === 0 ? [] : [`${stated} slopes are flattened; corrected they are ${listed(corrected)}. The verdicts are on the slopes as read.`]),
    ...(refused.length === 0
      ? []
      : [`${stated} too little of the spread of face-to-path is left to correct the ${refused.length === 1 ? "slope" : "slopes"} of ${listed(refused.map((head) => `${head.name} (reliability ${share(head)})`))}: ${formatNumber(leastReliability, 1)} is needed.`]),
    ...(Math.max(...reliabilities) - Math.min(...reliabilities) > mostReliabilityGap
      ? ["The reliabilities differ between the heads, so that part of a difference of the slopes as read may come from the readings."]
      : []),
  ];
}

function degrees(value: number, digits: number): string {
  return formatMeasure(value, digits, "deg");
}

function bounds({ from, to }: Interval, digits: number): string {
  return `${formatNumber(from, digits)} to ${formatNumber(to, digits)}`;
}
