import { inWords } from "../chart/field-name";
import { digitsAsStated, digitsFor, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import type { BootstrapInterval } from "../stats/bca";
import { shotsForRatio } from "../stats/detectable-ratio";
import { equivalenceConfidence, leastShots } from "../stats/judge-pair";
import type { JointTest } from "../stats/kenward-roger";
import type { Interval } from "../stats/mean-contrast";
import type { SameStrikeSpread } from "../stats/same-strike-spread";
import type { PairSpread } from "../stats/spread-comparison";
import { leastToDecide, leastToJudge } from "../stats/spread-comparison";
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
  return `Standard deviation of ${inWords(column.name)}: ${parts.join(", ")}${how}.`;
}

function ofResamples(interval: BootstrapInterval | undefined, digits: number): string {
  if (interval === undefined || Number.isNaN(interval.bca.from)) return "";
  return ` (${formatNumber(interval.bca.from, digits)} to ${formatNumber(interval.bca.to, digits)})`;
}

/** Why pairs get one sentence together, and what it says around them. */
interface Told {
  readonly lead: string;
  readonly after: string;
}

/**
 * The verdicts on all pairs of one topic in words: a sentence for each pair that differs or is alike, and one for all
 * pairs that stay undecided, or get no verdict, for the same reason.
 */
export function spreadSentences(topic: SpreadTopic, words: SpreadWords): readonly string[] {
  const alone = topic.pairs.flatMap((pair) => verdictSentence(pair, topic, words) ?? []);
  const together = new Map<string, { readonly told: Told; readonly pairs: PairSpread[] }>();
  for (const pair of topic.pairs) {
    if (verdictSentence(pair, topic, words) !== null) continue;
    const told = toldOf(pair, topic, words);
    const known = together.get(told.lead + told.after);
    if (known === undefined) together.set(told.lead + told.after, { told, pairs: [pair] });
    else known.pairs.push(pair);
  }
  const merged = [...together.values()].map(({ told, pairs }) => {
    const parts = pairs.map((pair) => ratioWithBounds(pair, words)).join(", ");
    const isBounded = pairs.some((pair) => (pair.byTails ?? pair.byStints) !== null);
    const simultaneous = pairs[0]!.verdict === "undecided" && topic.pairs.length > 1 ? "simultaneous " : "";
    const ratios = isBounded ? `ratios with ${simultaneous}${formatShare(words.confidence)} intervals ` : "ratios ";
    const show = pairs[0]!.verdict === "undecided" ? ` ${whatShows(pairs, topic, words)}` : "";
    return `${told.lead}: ${ratios}${parts}.${told.after === "" ? "" : ` ${told.after}`}${show}`;
  });
  return [...alone, ...merged];
}

/** The sentence of a pair that is judged; `null` for one that stays undecided or gets no verdict. */
function verdictSentence(pair: PairSpread, topic: SpreadTopic, words: SpreadWords): string | null {
  const limits = marginShown(topic, words);
  const [of, against] = names(pair, words);
  const what = topic.kind === "ellipse" ? `ellipse of ${ellipseWords}` : inWords(topic.of);
  const size = Math.exp(pair.logRatio) < 1 ? "less" : "more";
  const shown = topic.kind === "ellipse" ? `ratio of the areas ${evidence(pair, words)}` : `ratio ${evidence(pair, words)}`;
  const differs = topic.kind === "ellipse" ? `The ellipse of ${of} is ${size === "less" ? "smaller" : "larger"} than that of ${against}: ${shown}` : `${of} scatters ${size} than ${against} in ${what}: ${shown}`;
  switch (pair.verdict) {
    case "different by more than the margin":
      return `${differs}. Different by more than the margin: the ratio is outside ${limits}.`;
    case "different":
      return `${differs}. Different, by a ratio that may be inside or outside ${limits}.`;
    case "different but too small to matter":
      return `${differs}. Different but too small to matter: ${narrow(pair)}, inside ${limits}.`;
    case "practically equivalent":
      return `${topic.kind === "ellipse" ? `The ${what} has practically the same area with ${of} and ${against}` : `${of} and ${against} scatter alike in ${what} for practical purposes`}: ratio ${ratioOf(pair)}; ${narrow(pair)}, inside ${limits}. Practically equivalent.`;
    case "undecided":
    case "no verdict":
      return null;
  }
}

const ellipseWords = "carry and offline";

function toldOf(pair: PairSpread, topic: SpreadTopic, words: SpreadWords): Told {
  const what = topic.kind === "ellipse" ? `the area of the ellipse of ${ellipseWords}` : inWords(topic.of);
  const { by } = words;
  const none = (after: string): Told => ({ lead: `No verdict on ${what}`, after });
  switch (pair.ground) {
    case "no shots":
      return none(`There is no value to compare.`);
    case "few shots":
      return none(`Fewer than ${leastShots} shots of a ${by} say nothing of scatter.`);
    case "never together":
      return none(`They have no session in common: what differs cannot be told from the day.`);
    case "no scatter":
      return none(topic.kind === "ellipse" ? "The shots of one lie on a line." : "All values of one are alike.");
    case "one go":
      return none(`Each ${by} was hit in one go: what changed during the session cannot be told from the ${by}.`);
    case "mixed with time":
      return none(`They were hit at different times of the session: a change of the tester's scatter cannot be told from the ${by}.`);
    case "order unknown":
      return none("Order unknown: intervals as if shots were independent, likely too narrow.");
    case "few to judge":
      return none(`Scatter is judged from ${leastToJudge.shots} shots and ${leastToJudge.stints} stints of each ${by} on.`);
    case "few to decide":
      return { lead: `Undecided in ${what}`, after: `A verdict on scatter needs ${leastToDecide.shots} shots and ${leastToDecide.stints} stints of each ${by}.` };
    case "enough":
      if (pair.verdict === "no verdict") return none("Their stints do not scatter.");
      return pair.dependsOnMethod
        ? { lead: `Undecided in ${what} (depends on the method)`, after: "The first interval, from single shots, and the one over stints do not agree." }
        : { lead: `Undecided in ${what}`, after: "" };
  }
}

/** `Heron / Wren 0.85 (0.62 to 1.17)`, with the interval over stints where that decides too. */
function ratioWithBounds(pair: PairSpread, words: SpreadWords): string {
  const [of, against] = names(pair, words);
  if (Number.isNaN(pair.logRatio)) return `${of} / ${against} –`;
  const bounds = [pair.byTails, pair.dependsOnMethod ? pair.byStints : null].flatMap((method) => (method === null ? [] : inRatio(method.wide, pair)));
  return `${of} / ${against} ${ratioOf(pair)}${bounds.length === 0 ? "" : ` (${bounds.join("; over stints ")})`}`;
}

function evidence(pair: PairSpread, words: SpreadWords): string {
  const interval = `${formatShare(words.confidence)} interval`;
  const parts = [
    pair.byTails === null ? "" : `${interval} ${inRatio(pair.byTails.wide, pair)}`,
    pair.byStints === null ? "" : `over stints ${inRatio(pair.byStints.wide, pair)}`,
    `${pair.n} and ${pair.nAgainst} shots in ${pair.stints} and ${pair.stintsAgainst} stints`,
  ];
  return `${ratioOf(pair)} (${parts.filter((part) => part !== "").join("; ")})`;
}

function narrow(pair: PairSpread): string {
  const methods = [pair.byTails, pair.byStints].flatMap((method) => (method === null ? [] : inRatio(method.narrow, pair)));
  return `the ${formatShare(equivalenceConfidence)} interval is ${methods.join(", over stints ")}`;
}

/** Which ratios so many shots would have shown, and what the margin would take. */
function whatShows(pairs: readonly PairSpread[], topic: SpreadTopic, words: SpreadWords): string {
  const shots = pairs.flatMap((pair) => [pair.n, pair.nAgainst]);
  const [fewest, most] = [Math.min(...shots), Math.max(...shots)];
  const ratios = [...new Set(pairs.map((pair) => formatNumber(pair.detectable, pair.detectable < 1.2 ? 2 : 1)))].sort();
  const range = ratios.length === 1 ? ratios[0]! : `${ratios[0]!} to ${ratios.at(-1)!}`;
  const found = `With ${fewest === most ? fewest : `${fewest} to ${most}`} shots each in ${stintsOf(pairs)} stints only ratios beyond ${range} are likely to show`;
  if (topic.kind === "ellipse") return `${found}.`;
  const wanted = shotsForRatio(words.margin, Math.max(...pairs.map((pair) => pair.kurtosis)), words.confidence);
  return `${found}; ${formatNumber(words.margin, 2)} would take about ${roundUp(wanted)}.`;
}

function stintsOf(pairs: readonly PairSpread[]): string {
  const counts = pairs.flatMap((pair) => [pair.stints, pair.stintsAgainst]);
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
