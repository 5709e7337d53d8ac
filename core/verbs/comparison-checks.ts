import { digitsAsStated, formatNumber, formatShare } from "../present/format-number";
import { tQuantile } from "../stats/distributions";
import { hodgesLehmann } from "../stats/hodges-lehmann";
import type { JudgedPair } from "../stats/judge-pair";
import type { JointTest } from "../stats/kenward-roger";
import type { MeanContrast } from "../stats/mean-contrast";
import { mean } from "../stats/moments";
import type { Comparison } from "../stats/pair-estimate";
import type { ShotData } from "../stats/shot-data";
import { passContrast, stintMeansContrast } from "../stats/stint-means-model";
import { stintMeans } from "../stats/stints";
import { noticeableDifference, strikesOf, strongDifference } from "../stats/strike-overlap";
import type { ComparisonWords } from "./comparison-sentences";
import { bounds, checkInWords, measure, pairLabel, pairNames, shownDigits, strikesInWords, withoutSame } from "./comparison-sentences";
import { capitalised, listed } from "./session-sentences";
import { inWords } from "../chart/field-name";

/** What was found of one pair: as struck, at the same strikes, or both. */
export interface PairFound {
  readonly struck: JudgedPair | null;
  readonly same: JudgedPair | null;
}

/** Pairs beyond which the numbers of a check are not listed one by one. */
const mostListed = 6;

/** Difference of two mean distances from the centre, in mm, above which one head was hit nearer to it. Common practice, no source. */
const leastNearer = 0.5;

/** The verdict that stands for a pair: at the same strikes where the heads were hit in the same places, else as struck. */
export function headline({ struck, same }: PairFound): JudgedPair {
  return struck === null || (same !== null && isJudged(same)) ? same! : struck;
}

function isJudged(pair: JudgedPair): boolean {
  return pair.ground === "enough" || pair.ground === "few stints";
}

/**
 * How much of each difference is due to where the face was hit, and why that is not known for some pairs.
 *
 * @param shots those with a known strike.
 */
export function strikeSentences(found: readonly PairFound[], shots: ShotData, words: ComparisonWords): readonly string[] {
  const reasons = new Map<string, string[]>();
  const split = found.flatMap(({ struck, same }) => {
    if (struck === null || same === null || !isJudged(struck)) return [];
    if (isJudged(same)) return [shareOfStrikes(struck, same, shots, words)];
    const reason = withoutSame(same, words);
    reasons.set(reason, [...(reasons.get(reason) ?? []), pairNames(same, words).join(" and ")]);
    return [];
  });
  const without = [...reasons].map(([reason, pairs]) => `Not compared at the same strikes: ${pairs.join(", ")}, since ${reason}. The verdict is as struck.`);
  return [...split, ...without];
}

function shareOfStrikes(struck: JudgedPair, same: JudgedPair, shots: ShotData, words: ComparisonWords): string {
  const digits = Math.min(shownDigits(struck), shownDigits(same));
  const shown = (value: number): string => measure(value, digits, words);
  const [of, against] = pairNames(struck, words);
  const [own, other] = [struck.of, struck.against].map((group) => distanceFromCentre(shots, group));
  const nearer = own! - other! > leastNearer ? against! : other! - own! > leastNearer ? of! : null;
  // The difference of the numbers as they are shown, so that it can be checked by eye.
  const due = Number(struck.shown.difference.toFixed(digits)) - Number(same.shown.difference.toFixed(digits));
  const where = nearer === null || Math.abs(due) < words.margin / 10 ? "" : `: ${nearer} was hit nearer the centre`;
  const share = Number(due.toFixed(digits)) === 0 ? "" : `; ${shown(due)} is due to where the face was hit${where}`;
  return `${pairLabel(struck, words)} as struck is ${shown(struck.shown.difference)} (${formatNumber(struck.wide.from, digits)} to ${formatNumber(struck.wide.to, digits)}; ${struck.verdict}), at the same strikes ${shown(same.shown.difference)}${share}.`;
}

/** Mean distance of a head's strikes from its strike reference, in mm. */
function distanceFromCentre(shots: ShotData, head: number): number {
  const { x, y } = strikesOf(shots, head);
  return mean(x.map((each, i) => Math.hypot(each, y[i]!)));
}

/** Which strikes are the common ones, and how far apart the heads' strikes lie. */
export function overlapSentences(found: readonly PairFound[], words: ComparisonWords): readonly string[] {
  const adjusted = found.flatMap(({ same }) => (same !== null && isJudged(same) ? [same] : []));
  if (adjusted.length === 0) return [];
  const restricted = adjusted.filter((pair) => pair.adjustment!.overlap === "restricted");
  const kept = [...new Set(restricted.map((pair) => `${pair.adjustment!.kept} of ${pair.adjustment!.shots} strikes`))];
  const apart = ({ adjustment }: JudgedPair): number => Math.max(Math.abs(adjustment!.across), Math.abs(adjustment!.up));
  const between = (pairs: readonly JudgedPair[]): string => pairs.map((pair) => pairNames(pair, words).join(" and ")).join(", ");
  const strong = adjusted.filter((pair) => apart(pair) > strongDifference);
  const noticeable = adjusted.filter((pair) => apart(pair) > noticeableDifference && !strong.includes(pair));
  return [
    ...kept.map((each) => `The common strikes are ${each}: those where every ${words.by} was hit.`),
    ...(strong.length > 0 ? [`The strikes of ${between(strong)} differ strongly (by more than 1 SD): the answer at the same strikes leans on the shape of the strike model.`] : []),
    ...(noticeable.length > 0 ? [`The strikes of ${between(noticeable)} differ noticeably (by more than ${noticeableDifference} SD).`] : []),
  ];
}

/** What the second method gives for the verdicts that stand, and where it is the one that is shown. */
export function methodSentences(found: readonly PairFound[], words: ComparisonWords): readonly string[] {
  const told = found.map(headline).filter((pair) => isJudged(pair) && !Number.isNaN(pair.otherWide.from));
  const byCheck = found.flatMap(({ struck, same }) => [struck, same]).filter((pair) => pair?.isCheckShown === true);
  const kinds = [...new Set(byCheck.map((pair) => strikesInWords(pair!)))];
  const uneven = kinds.length === 0 ? [] : [`Scatter differs by more than 1.5 times between ${words.by}s: the intervals ${kinds.join(" and ")} are those of ${checkInWords}, which does not take it for equal.`];
  if (told.length === 0) return uneven;
  const support = "A verdict claims what both methods support";
  if (told.length > mostListed) return [...uneven, `${support}: the model, and ${checkInWords}.`];
  const list = told.map((pair) => `${pairLabel(pair, words)} ${bounds(pair.otherWide, pair)}`);
  const other = told.every((pair) => pair.isCheckShown) ? "the model" : told.some((pair) => pair.isCheckShown) ? "the other method" : checkInWords;
  return [...uneven, `${support}; by ${other}: ${list.join(", ")}.`];
}

/** The differences as struck as a reader can work them out by hand. */
export function byHandSentence(found: readonly PairFound[], data: ShotData, words: ComparisonWords): readonly string[] {
  const struck = found.flatMap(({ struck: pair }) => (pair !== null && isJudged(pair) ? [pair] : []));
  if (struck.length === 0 || struck.length > mostListed) return [];
  const stints = stintMeans(data);
  const shown = (pair: JudgedPair, contrast: MeanContrast): string | null => {
    if (!(contrast.df >= 1)) return null;
    const reach = tQuantile((1 + words.confidence) / 2, contrast.df) * contrast.standardError;
    const interval = { from: contrast.difference - reach, to: contrast.difference + reach };
    return `${formatNumber(contrast.difference, shownDigits(pair))} (${bounds(interval, pair)})`;
  };
  const lines = struck.flatMap((pair) => {
    const welch = shown(pair, stintMeansContrast(stints, pair));
    const passes = passContrast(stints, pair);
    const paired = passes === null ? null : shown(pair, passes);
    const parts = [welch, paired === null ? null : `${paired} over ${passes!.passes} passes`].filter((part) => part !== null);
    return parts.length === 0 ? [] : [`${pairLabel(pair, words)} ${parts.join(", ")}`];
  });
  const unit = words.column.unit === null ? "" : ` in ${words.column.unit}`;
  return lines.length === 0 ? [] : [`By hand as struck${unit}, from means of stints (Welch's t; paired t over passes), one pair at a time: ${lines.join("; ")}.`];
}

/** The test of all groups at once, and the trend that was taken out. */
export function modelSentences(comparison: Comparison, words: ComparisonWords): readonly string[] {
  const { allAlike, trend, bends } = comparison;
  return [...(allAlike === null ? [] : [jointSentence(allAlike, words)]), ...(trend === null || !(trend.df >= 1) ? [] : [trendSentence(trend, bends, words)])];
}

function jointSentence({ f, dfNumerator, dfDenominator }: JointTest, words: ComparisonWords): string {
  return `All ${words.by}s alike as struck: F(${dfNumerator}, ${formatNumber(dfDenominator, digitsAsStated(Number(dfDenominator.toFixed(1))))}) = ${formatNumber(f, 2)}; the verdicts do not wait for it.`;
}

function trendSentence(trend: MeanContrast, bends: boolean, words: ComparisonWords): string {
  const reach = tQuantile((1 + words.confidence) / 2, trend.df) * trend.standardError;
  const pair = { shown: trend } as JudgedPair;
  const interval = `${formatShare(words.confidence)} interval ${bounds({ from: trend.difference - reach, to: trend.difference + reach }, pair)}`;
  const bent = bends ? ", with a bend, since that improves the fit" : "";
  return `${capitalised(inWords(words.column.name))} changed by ${measure(trend.difference, shownDigits(pair), words)} over the session (${interval}); this trend is taken out${bent}.`;
}

/** For each pair of one session whose means and whose single shots tell different stories. */
export function fewShotsSentences(found: readonly PairFound[], words: ComparisonWords): readonly string[] {
  return found.flatMap(({ struck: pair }) => {
    if (pair === null || Number.isNaN(pair.wide.from)) return [];
    const [own, other] = [words.valuesOf(pair.of), words.valuesOf(pair.against)];
    const shift = hodgesLehmann(own, other);
    // Shots alone on both sides: the model's difference has the trend taken out as well.
    const plain = mean(own) - mean(other);
    if (!(Math.abs(plain - shift) > words.margin / 2)) return [];
    const [shownShift, shownPlain] = [shift, plain].map((each) => measure(each, shownDigits(pair), words));
    return [`${pairLabel(pair, words)}: a few shots drive the difference. Single shots differ by ${shownPlain!} on average, and by ${shownShift!} in the median (Hodges and Lehmann).`];
  });
}

/** Said of each pair for which a session does not count, since there the two cannot be told from the course of time. */
export function leftOutSentences(found: readonly PairFound[], words: ComparisonWords): readonly string[] {
  const said = found.map(headline).flatMap((pair) => {
    if (pair.leftOut.length === 0) return [];
    const sessions = listed(pair.leftOut.map((session) => words.sessionNames[session]!));
    return [`${sessions} ${pair.leftOut.length === 1 ? "is" : "are"} left out of the difference of ${listed(pairNames(pair, words))}: there the two were hit at different times, and it cannot be told from drift.`];
  });
  return [...new Set(said)];
}
