import { inWords } from "../chart/field-name";
import { digitsAsStated, digitsFor, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import type { BootstrapInterval } from "../stats/bca";
import { shotsForRatio } from "../stats/detectable-ratio";
import { equivalenceConfidence, leastShots } from "../stats/judge-pair";
import type { JointTest } from "../stats/kenward-roger";
import type { Interval } from "../stats/mean-contrast";
import type { SameStrikeSpread } from "../stats/same-strike-spread";
import type { PairSpread } from "../stats/spread-comparison";
import { isJudged, leastToDecide, leastToJudge, pairConfidence, powerOfEither } from "../stats/spread-comparison";
import type { ResampledSpread } from "../stats/tightest";
import { leastToResample } from "../stats/tightest";
import type { NumberColumn } from "../table/table";
import { listed } from "./session-sentences";
import type { SpreadTopic } from "./spread-table";

/** What the sentences of one call share. */
export interface SpreadWords {
  /** What the groups are: `head`. */
  readonly by: string;
  readonly groups: readonly string[];
  /** The largest ratio of standard deviations that does not matter. */
  readonly margin: number;
  readonly confidence: number;
  readonly seed: number;
}

/** The scatter of one group in one column. */
export interface GroupScatter {
  readonly name: string;
  /** The values themselves, for groups so small that these are listed. */
  readonly values: readonly number[];
  /** `null` where the order is not known. */
  readonly stints: number | null;
  /** In the unit of the column; `NaN` for fewer than 5 shots. */
  readonly sd: number;
}

/** The standard deviations of all groups in one column, with intervals where stints could be resampled. */
export function scatterSentence(column: NumberColumn, groups: readonly GroupScatter[], resampled: ResampledSpread | null, words: SpreadWords): string {
  const digits = Math.max(0, Math.min(...groups.filter(({ sd }) => sd > 0).map(({ sd, values }) => digitsFor(sd / Math.sqrt(2 * (values.length - 1)))), 3));
  const parts = groups.map(({ name, values, sd }, group) => {
    if (values.length === 0) return `${name} no value`;
    if (values.length < leastShots) return `${name} ${values.map((value) => formatNumber(value, digitsAsStated(value))).join(", ")} (values, too few for more)`;
    return `${name} ${formatMeasure(sd, digits, column.unit)}${ofResamples(resampled?.intervals[group], digits)}`;
  });
  const how = resampled === null ? "" : `; ${formatShare(words.confidence)} intervals from resampled stints (BCa)`;
  const shots = `${rangeOf(groups.map(({ values }) => values.length))} shots each`;
  const stints = groups.flatMap((group) => group.stints ?? []);
  return `Standard deviation of ${inWords(column.name)} (${shots}${stints.length === 0 ? "" : ` in ${rangeOf(stints)} stints`}): ${parts.join(", ")}${how}.`;
}

function ofResamples(interval: BootstrapInterval | undefined, digits: number): string {
  if (interval === undefined || Number.isNaN(interval.bca.from)) return "";
  return ` (${formatNumber(interval.bca.from, digits)} to ${formatNumber(interval.bca.to, digits)})`;
}

/** The verdicts on all pairs of one topic in one line: a sentence for all pairs that get the same verdict for the same reason. */
export function spreadLine(topic: SpreadTopic, words: SpreadWords): string {
  const decided = decidedVerdicts.flatMap((verdict) => {
    const pairs = topic.pairs.filter((pair) => pair.verdict === verdict);
    return pairs.length === 0 ? [] : [decidedSentence(verdict, pairs, topic, words)];
  });
  const open = new Map<string, PairSpread[]>();
  for (const pair of topic.pairs) {
    if (pair.verdict !== "undecided" && pair.verdict !== "no verdict") continue;
    const reason = reasonOf(pair, topic, words);
    open.set(`${pair.verdict} ${reason}`, [...(open.get(`${pair.verdict} ${reason}`) ?? []), pair]);
  }
  const others = [...open.values()].map((pairs) => openSentence(pairs, topic, words));
  return [...decided, ...others].join(" ");
}

const decidedVerdicts = ["different by more than the margin", "different", "different but too small to matter", "practically equivalent"] as const;

const ellipseWords = "carry and offline";

function decidedSentence(verdict: (typeof decidedVerdicts)[number], pairs: readonly PairSpread[], topic: SpreadTopic, words: SpreadWords): string {
  const limits = marginShown(topic, words);
  const isOne = pairs.length === 1;
  if (verdict === "practically equivalent") {
    const parts = pairs.map((pair, i) => `${alikeWords(pair, i === 0, topic, words)} ${ratioOf(pair)} (${narrow(pair)})`);
    return `${parts.join("; ")}, inside ${limits}. Practically equivalent.`;
  }
  const isSmall = verdict === "different but too small to matter";
  const parts = pairs.map((pair, i) => {
    const bounds = [...evidence(pair, i === 0, topic, words), ...(isSmall ? [narrow(pair)] : [])];
    return `${differsWords(pair, i === 0, topic, words)} ${ratioOf(pair)} (${bounds.join("; ")})`;
  });
  const ends = {
    "different by more than the margin": `Different by more than the margin: ${isOne ? "the ratio is" : "the ratios are"} outside ${limits}`,
    different: `Different, by ${isOne ? "a ratio" : "ratios"} that may be inside or outside ${limits}`,
    "different but too small to matter": `Different but too small to matter: the ${formatShare(equivalenceConfidence)} ${isOne ? "interval is" : "intervals are"} inside ${limits}`,
  };
  return `${parts.join("; ")}. ${ends[verdict]}.`;
}

function differsWords(pair: PairSpread, isFirst: boolean, topic: SpreadTopic, words: SpreadWords): string {
  const [of, against] = names(pair, words);
  const isLess = pair.logRatio < 0;
  if (topic.kind === "ellipse") return `${isFirst ? "The ellipse of" : "that of"} ${of} is ${isLess ? "smaller" : "larger"} than that of ${against}: ratio${isFirst ? " of the areas" : ""}`;
  return `${of} ${isFirst ? "scatters " : ""}${isLess ? "less" : "more"} than ${against}${isFirst ? ` in ${inWords(topic.of)}` : ""}: ratio`;
}

function alikeWords(pair: PairSpread, isFirst: boolean, topic: SpreadTopic, words: SpreadWords): string {
  const both = names(pair, words).join(" and ");
  if (!isFirst) return `${both}: ratio`;
  return topic.kind === "ellipse" ? `The ellipse of ${ellipseWords} has practically the same area with ${both}: ratio` : `${both} scatter alike in ${inWords(topic.of)} for practical purposes: ratio`;
}

function openSentence(pairs: readonly PairSpread[], topic: SpreadTopic, words: SpreadWords): string {
  const what = topic.kind === "ellipse" ? `the area of the ellipse of ${ellipseWords}` : inWords(topic.of);
  const lead = pairs[0]!.verdict === "undecided" ? `Undecided in ${what}` : `No verdict on ${what}`;
  const reason = reasonOf(pairs[0]!, topic, words);
  const isBounded = pairs.some((pair) => (pair.byTails ?? pair.byStints) !== null);
  const hasRatio = pairs.some((pair) => !Number.isNaN(pair.logRatio));
  const ratios = isBounded ? `ratios with ${intervalWords(topic, pairs[0]!, words)}s ` : hasRatio ? "ratios " : "";
  return `${lead}: ${ratios}${pairs.map((pair) => ratioWithBounds(pair, words)).join(", ")}.${reason === "" ? "" : ` ${reason}`}`;
}

/** Why a pair gets no verdict, or stays undecided whatever its ratio; empty where only its intervals leave it so. */
function reasonOf(pair: PairSpread, topic: SpreadTopic, { by }: SpreadWords): string {
  switch (pair.ground) {
    case "no shots":
      return `There is no value to compare.`;
    case "few shots":
      return `Ratios of scatter are told from ${leastToJudge.shots} shots of each ${by} on.`;
    case "never together":
      return `They have no session in common: what differs cannot be told from the day.`;
    case "no scatter":
      return topic.kind === "ellipse" ? "The shots of one lie on a line." : "All values of one are alike.";
    case "one go":
      return `Each ${by} was hit in one go: what changed during the session cannot be told from the ${by}.`;
    case "mixed with time":
      return `They were hit at different times of the session: a change of the tester's scatter cannot be told from the ${by}.`;
    case "order unknown":
      return "Order unknown: intervals as if shots were independent, likely too narrow.";
    case "few to judge":
      return `Scatter is judged from ${leastToJudge.shots} shots and ${leastToJudge.stints} stints of each ${by} on.`;
    case "few to decide":
      return `A verdict on scatter needs ${leastToDecide.shots} shots and ${leastToDecide.stints} stints of each ${by}.`;
    case "enough":
      return pair.verdict === "no verdict" ? "Their stints do not scatter." : "";
  }
}

/** `Heron / Wren 0.85 (0.62 to 1.17)`, with the interval over stints where that decides too. */
function ratioWithBounds(pair: PairSpread, words: SpreadWords): string {
  const both = names(pair, words).join(" / ");
  if (Number.isNaN(pair.logRatio)) return both;
  const bounds = [pair.byTails, pair.dependsOnMethod ? pair.byStints : null].flatMap((method) => (method === null ? [] : inRatio(method.wide, pair)));
  const note = pair.dependsOnMethod ? ": depends on the method" : "";
  return `${both} ${ratioOf(pair)}${bounds.length === 0 ? "" : ` (${bounds.join("; over stints ")}${note})`}`;
}

function evidence(pair: PairSpread, isFirst: boolean, topic: SpreadTopic, words: SpreadWords): readonly string[] {
  const interval = isFirst ? `${intervalWords(topic, pair, words)} ` : "";
  return [
    ...(pair.byTails === null ? [] : [`${interval}${inRatio(pair.byTails.wide, pair)}`]),
    ...(pair.byStints === null ? [] : [`over stints ${inRatio(pair.byStints.wide, pair)}`]),
  ];
}

/** What an interval is: of several judged pairs each is as wide as its step of Holm's method asks, which is not wide enough for all at once. */
function intervalWords(topic: SpreadTopic, pair: PairSpread, words: SpreadWords): string {
  const isOneOfSeveral = isJudged(pair) && topic.pairs.filter(isJudged).length > 1;
  return `${formatShare(words.confidence)} ${isOneOfSeveral ? "Holm " : ""}interval`;
}

function narrow(pair: PairSpread): string {
  const methods = [pair.byTails, pair.byStints].flatMap((method) => (method === null ? [] : inRatio(method.narrow, pair)));
  return `${formatShare(equivalenceConfidence)} interval ${methods.join("; over stints ")}`;
}

/** Which ratios are found in such a session, and what the margin would take: once for all topics with an undecided pair. */
export function detectableSentence(topics: readonly SpreadTopic[], words: SpreadWords): readonly string[] {
  const open = topics.flatMap((topic) => {
    const pairs = topic.pairs.filter((pair) => pair.verdict === "undecided" && pair.ground === "enough");
    return pairs.length === 0 ? [] : [{ kind: topic.kind, pairs, family: topic.pairs.filter(isJudged).length }];
  });
  if (open.length === 0) return [];
  const pairs = open.flatMap((each) => each.pairs);
  const pairsOf = (kind: SpreadTopic["kind"]) => open.flatMap((each) => (each.kind === kind ? each.pairs : []));
  const ratioIn = (kind: SpreadTopic["kind"], what: string) => (pairsOf(kind).length === 0 ? [] : [`of ${what} of ${detectableRange(pairsOf(kind))}`]);
  const ratios = [...ratioIn("column", "standard deviations"), ...ratioIn("ellipse", "areas")].join(" or ");
  const family = Math.max(...open.map((each) => each.family));
  const session = `${rangeOf(pairs.flatMap((pair) => [pair.n, pair.nAgainst]))} shots each in ${rangeOf(pairs.flatMap((pair) => [pair.stints, pair.stintsAgainst]))} stints`;
  const found = `A ratio ${ratios} is found in 80 % or more of sessions like this (${session})${family > 1 ? `, for one pair of ${family} judged at once` : ""}`;
  const wanted = open.flatMap((each) => (each.kind === "ellipse" ? [] : each.pairs.map((pair) => shotsToFindMargin(pair, each.family, words))));
  return [`${found}${wanted.length === 0 ? "" : `; one of ${formatNumber(words.margin, 2)} would take about ${roundUp(Math.max(...wanted))} shots each`}.`];
}

function detectableRange(pairs: readonly PairSpread[]): string {
  const ratios = pairs.map((pair) => pair.detectable).sort((a, b) => a - b);
  const [least, most] = [ratios[0]!, ratios.at(-1)!].map((ratio) => formatNumber(ratio, ratio < 1.2 ? 2 : 1));
  return least === most ? least! : `${least} to ${most}`;
}

function shotsToFindMargin(pair: PairSpread, family: number, { margin, confidence }: SpreadWords): number {
  const shotsInStint = (pair.n + pair.nAgainst) / (pair.stints + pair.stintsAgainst);
  return shotsForRatio(margin, { kurtosis: pair.kurtosis, confidence: pairConfidence(confidence, family), power: powerOfEither, shotsInStint });
}

function rangeOf(counts: readonly number[]): string {
  const [fewest, most] = [Math.min(...counts), Math.max(...counts)];
  return fewest === most ? `${fewest}` : `${fewest} to ${most}`;
}

/** Two digits are more than a plan can promise. */
function roundUp(count: number): number {
  const step = count < 100 ? 5 : 10 ** Math.floor(Math.log10(count) - 1);
  return Math.ceil(count / step) * step;
}

/** How to hit the heads so that scatter can be judged: said once where they were hit in one go. */
export function nextTimeSentence(topics: readonly SpreadTopic[], words: SpreadWords): readonly string[] {
  const isNeeded = topics.some((topic) => topic.pairs.some((pair) => pair.ground === "one go" || pair.ground === "mixed with time"));
  return isNeeded ? [`Next time hit the ${words.by}s in turns, some 3 shots at a time, until each has ${leastToDecide.shots} shots or more.`] : [];
}

/** What counts as alike, in words: `0.80 to 1.25`; for areas both are squared. */
export function marginShown(topic: SpreadTopic, words: SpreadWords): string {
  const margin = topic.kind === "ellipse" ? words.margin ** 2 : words.margin;
  return `${formatNumber(1 / margin, 2)} to ${formatNumber(margin, 2)}`;
}

/** Whether all groups scatter alike, by one test. */
export function allAlikeSentence(column: NumberColumn, test: JointTest | null, words: SpreadWords): readonly string[] {
  if (test === null || words.groups.length < 3) return [];
  const differs = test.p < 1 - words.confidence;
  const df = `${test.dfNumerator} and ${formatNumber(test.dfDenominator, 1)} df`;
  return [`All ${words.by}s at once: scatter in ${inWords(column.name)} is ${differs ? "not the same for all" : "not shown to differ"} (Brown and Forsythe's distances from the median in the model with stints, F ${formatNumber(test.f, 2)} with ${df}).`];
}

/** In how many resamples each group is the tightest; why not where there are none. */
export function tightestSentence(column: NumberColumn, resampled: ResampledSpread | null, words: SpreadWords): readonly string[] {
  if (resampled === null) return [];
  const order = words.groups.map((name, group) => ({ name, share: resampled.tightest[group]! })).sort((a, b) => b.share - a.share);
  const parts = order.map(({ name, share }) => `${name} in ${formatNumber(100 * share, 0)} %`);
  return [`Of ${resampled.resamples} resamples of stints (seed ${words.seed}) the tightest in ${inWords(column.name)} was ${listed(parts)}: a description, no verdict.`];
}

/** Why no stints were resampled. */
export function fewStintsSentence(words: SpreadWords): string {
  return `Stints are not resampled, for which every ${words.by} needs ${leastToResample}.`;
}

/** What scatter would have been on the same strikes. */
export function sameStrikesSentence(column: NumberColumn, same: SameStrikeSpread | null, words: SpreadWords): readonly string[] {
  if (same === null) return [];
  const digits = Math.min(...same.sd.map((sd) => digitsFor(sd / Math.sqrt(2 * (same.shots / words.groups.length)))));
  const parts = words.groups.map((name, group) => `${name} ${formatMeasure(same.sd[group]!, digits, column.unit)}`);
  const region = same.kept < same.shots ? `, the ${same.kept} of ${same.shots} where all were hit` : "";
  return [`At the same strikes${region}, the standard deviation of ${inWords(column.name)} would be ${listed(parts)}: a description, without intervals.`];
}

/** Said of pairs whose standard deviations and whose middle shots tell different stories. */
export function farShotsSentence(pair: PairSpread, column: NumberColumn, middle: number, words: SpreadWords): readonly string[] {
  if (!(Math.abs(Math.log(middle) - pair.logRatio) > Math.log(words.margin))) return [];
  const [of, against] = names(pair, words);
  return [`${of} / ${against} in ${inWords(column.name)}: by the middle 80 % of shots the ratio is ${formatNumber(middle, 2)}; a few far shots make the difference to ${ratioOf(pair)}.`];
}

function names(pair: PairSpread, words: SpreadWords): readonly [string, string] {
  return [words.groups[pair.of]!, words.groups[pair.against]!];
}

function ratioOf(pair: PairSpread): string {
  return formatNumber(Math.exp(pair.logRatio), digitsOf(pair));
}

function inRatio(interval: Interval, pair: PairSpread): string {
  return `${formatNumber(Math.exp(interval.from), digitsOf(pair))} to ${formatNumber(Math.exp(interval.to), digitsOf(pair))}`;
}

/** Decimals that the ratio's interval, about four standard errors wide, bears; two are those of a margin. */
function digitsOf({ byTails, byStints, logRatio }: PairSpread): number {
  const wide = (byTails ?? byStints)?.wide;
  return wide === undefined ? 2 : Math.min(2, digitsFor((Math.exp(logRatio) * (wide.to - wide.from)) / 4));
}
