import { inWords } from "../chart/field-name";
import { digitsAsStated, digitsFor, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import type { JudgedPair } from "../stats/judge-pair";
import { equivalenceConfidence, leastShots, leastStints, leastStintsInAll } from "../stats/judge-pair";
import type { Interval } from "../stats/mean-contrast";
import { shotColumnFacts } from "../table/shot-columns";
import type { NumberColumn } from "../table/table";

/** What the sentences of all pairs of one comparison share. */
export interface ComparisonWords {
  readonly column: NumberColumn;
  /** What the groups are: `head`. */
  readonly by: string;
  readonly groups: readonly string[];
  readonly margin: number;
  readonly confidence: number;
  /** The values of a group, for the groups so small that these are listed. */
  readonly valuesOf: (group: number) => readonly number[];
}

/** More shots than this are more than one session can give. */
const mostInOneSession = 300;

/**
 * The verdicts of all pairs in words, with their numbers, the unit, the shots and the stints.
 *
 * A group too small to be compared is said once, not once a pair.
 */
export function pairSentences(pairs: readonly JudgedPair[], words: ComparisonWords): readonly string[] {
  return [...new Set(pairs.flatMap((pair) => pairSentence(pair, words)))];
}

function pairSentence(pair: JudgedPair, words: ComparisonWords): string | readonly string[] {
  switch (pair.ground) {
    case "no shots":
    case "few shots":
      return smallGroups(pair, words);
    case "never together":
      if (words.by === "session") return `${names(pair, words).join(" and ")} are different sessions: heads are compared within a session, since between sessions the day differs too. No verdict.`;
      return `${names(pair, words).join(" and ")} have no session in common: a difference between them cannot be told from a difference between days. No verdict.`;
    case "one stint":
      return `${bare(pair, words)}, without an interval. ${oneGo(pair, words)} No verdict.`;
    case "one go":
      return `${bare(pair, words)}, without an interval. Each ${words.by} was hit in one go, and a break does not change that: fatigue and warm-up cannot be told from the ${words.by}. No verdict.`;
    case "no scatter":
      return `${bare(pair, words)}, without an interval: all stints of either ${words.by} have the same mean. No verdict.`;
    case "order unknown":
      return `${difference(pair, words)}, as if shots were independent. Order unknown: the interval is likely too narrow. No verdict.`;
    case "mixed with time":
      return `${difference(pair, words)}. ${names(pair, words).join(" and ")} were hit at different times of the session: the difference cannot be told from drift. No verdict.`;
    case "few stints": {
      const once = pair.turns + pair.turnsAgainst < pair.stints + pair.stintsAgainst ? ", and those with only a break between them count once" : "";
      return `Undecided: ${difference(pair, words)}. A verdict needs ${leastStints} stints of each ${words.by} and ${leastStintsInAll} in all${once}. ${settling(pair, words)}`;
    }
    case "enough":
      return verdictSentence(pair, words);
  }
}

function verdictSentence(pair: JudgedPair, words: ComparisonWords): string {
  const { column, margin } = words;
  const limit = measure(margin, digitsAsStated(margin), words);
  const name = inWords(column.name);
  switch (pair.verdict) {
    case "different by more than the margin":
      return `${contrast(pair, words)}. Different by more than the margin of ${limit}.`;
    case "different":
      return `${contrast(pair, words)}. Different, by an amount that may be above or below the margin of ${limit}.`;
    case "different but too small to matter":
      return `${contrast(pair, words)}. Different but too small to matter: the ${formatShare(equivalenceConfidence)} interval, ${bounds(pair.narrow, pair)}, is inside ±${limit}.`;
    case "practically equivalent": {
      const [of, against] = names(pair, words);
      const shown = `${measure(pair.difference, digitsFor(pair.standardError), words)} (${formatShare(equivalenceConfidence)} interval ${bounds(pair.narrow, pair)}; ${counts(pair)})`;
      return `As struck, ${name} is the same for practical purposes with ${of!} and ${against!}: the difference is ${shown}, inside ±${limit}. Practically equivalent.`;
    }
    case "undecided":
      return `Undecided: ${difference(pair, words)}. ${settling(pair, words)}`;
    case "no verdict":
      return `${difference(pair, words)}. No verdict.`;
  }
}

/** `As struck, carry is 5.5 yd longer with Heron than with Wren (95 % interval 2.5 to 8.5; …)`. */
function contrast(pair: JudgedPair, words: ComparisonWords): string {
  const [of, against] = names(pair, words);
  const size = measure(Math.abs(pair.difference), digitsFor(pair.standardError), words);
  const turned = pair.difference < 0 ? { from: -pair.wide.to, to: -pair.wide.from } : pair.wide;
  const interval = `${formatShare(words.confidence)} interval ${bounds(turned, pair)}`;
  const more = comparative(words.column.name, pair.difference > 0);
  return `As struck, ${inWords(words.column.name)} is ${size} ${more} with ${of!} than with ${against!} (${interval}; ${counts(pair)})`;
}

/** `Heron − Wren is 1.9 yd in carry as struck (95 % interval −1.6 to 5.4; …)`. */
function difference(pair: JudgedPair, words: ComparisonWords): string {
  const interval = `${formatShare(words.confidence)} interval ${bounds(pair.wide, pair)}`;
  return `${bare(pair, words)} (${interval}; ${counts(pair)})`;
}

function bare(pair: JudgedPair, words: ComparisonWords): string {
  const digits = pair.standardError > 0 ? digitsFor(pair.standardError) : 1;
  return `${names(pair, words).join(" \u2212 ")} is ${measure(pair.difference, digits, words)} in ${inWords(words.column.name)} as struck`;
}

function counts(pair: JudgedPair): string {
  const shots = `${pair.n} and ${pair.nAgainst} shots`;
  return pair.ground === "order unknown" ? shots : `${shots} in ${pair.stints} and ${pair.stintsAgainst} stints`;
}

function oneGo(pair: JudgedPair, words: ComparisonWords): string {
  const [of, against] = names(pair, words);
  const alone = [pair.stints < 2 ? of! : null, pair.stintsAgainst < 2 ? against! : null].filter((name) => name !== null);
  const who = alone.length === 1 ? alone[0]! : `Each ${words.by}`;
  return `${who} was hit in one go: fatigue and warm-up cannot be told from the ${words.by}.`;
}

/** The values of each group of the pair that has too few, listed. */
function smallGroups(pair: JudgedPair, words: ComparisonWords): readonly string[] {
  const name = inWords(words.column.name);
  const small = [pair.of, pair.against].flatMap((group) => {
    const values = words.valuesOf(group);
    if (values.length >= leastShots) return [];
    if (values.length === 0) return [`${words.groups[group]!} has no value of ${name}. No verdict.`];
    const list = values.map((value) => formatNumber(value, digitsAsStated(value))).join(", ");
    const unit = words.column.unit === null ? "" : ` ${words.column.unit}`;
    const count = `${values.length} ${values.length === 1 ? "value" : "values"}`;
    return [`${words.groups[group]!} has ${count} of ${name} (${list}${unit}): too few for an interval. No verdict.`];
  });
  if (small.length > 0) return small;
  return [`${names(pair, words).join(" and ")} have too few shots in the sessions that they have in common. No verdict.`];
}

function settling(pair: JudgedPair, words: ComparisonWords): string {
  const { more } = pair;
  const question = `a ${measure(words.margin, digitsAsStated(words.margin), words)} question`;
  if (more === null) return "More shots may not settle it soon: the difference seems to lie between none and the margin.";
  if (more.shots > mostInOneSession) return `More than one session can settle: about ${more.shots} more shots each for ${question}.`;
  const to = more.to > mostInOneSession ? `more than ${mostInOneSession}` : String(more.to);
  const range = more.from === more.to ? "" : ` (${more.from} to ${to})`;
  return `About ${more.shots} more shots each${range} would settle ${question}.`;
}

function bounds(interval: Interval, pair: JudgedPair): string {
  const digits = digitsFor(pair.standardError);
  return `${formatNumber(interval.from, digits)} to ${formatNumber(interval.to, digits)}`;
}

function names(pair: JudgedPair, words: ComparisonWords): readonly string[] {
  return [words.groups[pair.of]!, words.groups[pair.against]!];
}

function measure(value: number, digits: number, words: ComparisonWords): string {
  return formatMeasure(value, digits, words.column.unit);
}

/** The word for more, or less, of a column: longer, higher, farther right. */
function comparative(column: string, isMore: boolean): string {
  const facts = shotColumnFacts(column);
  if (facts?.direction) {
    const word = facts.direction[isMore ? 0 : 1];
    if (word === "right" || word === "left") return `farther ${word}`;
    if (word === "toe" || word === "heel") return `farther to the ${word}`;
    return isMore ? "higher" : "lower";
  }
  const isLength = facts?.quantity === "distance" || facts?.quantity === "time";
  if (isLength) return isMore ? "longer" : "shorter";
  return isMore ? "higher" : "lower";
}

/** The sentence of a pair whose mean difference a few shots drive; `null` when they do not. */
export function fewShotsSentence(pair: JudgedPair, shift: number, words: ComparisonWords): string | null {
  if (!(Math.abs(pair.difference - shift) > words.margin / 2)) return null;
  const shown = measure(shift, pair.standardError > 0 ? digitsFor(pair.standardError) : 1, words);
  return `${names(pair, words).join(" \u2212 ")}: the median of the differences between single shots (Hodges and Lehmann) is ${shown}; a few shots drive the difference of the means.`;
}
