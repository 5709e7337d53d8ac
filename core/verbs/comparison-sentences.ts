import { inWords } from "../chart/field-name";
import { digitsAsStated, digitsFor, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import type { JudgedPair } from "../stats/judge-pair";
import { equivalenceConfidence, leastShots, leastStints, leastStintsInAll } from "../stats/judge-pair";
import type { Interval } from "../stats/mean-contrast";
import { mostByHitting, usualPower } from "../stats/more-stints";
import { shotColumnFacts } from "../table/shot-columns";
import type { NumberColumn } from "../table/table";
import { aboutShots, mostInOneSession } from "./planned-shots";
import { capitalised, listed } from "./session-sentences";

/** What the sentences of all pairs of one comparison share. */
export interface ComparisonWords {
  readonly column: NumberColumn;
  /** What the groups are: `head`. */
  readonly by: string;
  readonly groups: readonly string[];
  readonly margin: number;
  readonly confidence: number;
  /** Names of the sessions, by their numbers. */
  readonly sessionNames: readonly string[];
  /** The values of a group, for the groups so small that these are listed. */
  readonly valuesOf: (group: number) => readonly number[];
}

/** The second way in which every difference is estimated, in words. */
export const checkInWords = "least squares with errors robust to stints (CR2)";

/** Pairs, and sessions, beyond which differences are not listed session by session. */
const mostListed = 6;

/**
 * The verdicts of all pairs in words, with their numbers, the unit, the shots and the stints.
 *
 * A group too small to be compared is said once, not once a pair, as is how to hit a session that can answer.
 */
export function pairSentences(pairs: readonly JudgedPair[], words: ComparisonWords): readonly string[] {
  const isMixed = pairs.some(({ ground }) => ground === "one stint" || ground === "one go" || ground === "mixed with time");
  const nextTime = `Next time hit the ${words.by}s in turn, 3 shots each, at least 6 times.`;
  return [...new Set(pairs.flatMap((pair) => pairSentence(pair, words))), ...(isMixed ? [nextTime] : [])];
}

function pairSentence(pair: JudgedPair, words: ComparisonWords): string | readonly string[] {
  const both = pairNames(pair, words).join(" and ");
  switch (pair.ground) {
    case "no shots":
    case "few shots":
      return smallGroups(pair, words);
    case "never together":
      if (words.by === "session") return `${both} are different sessions: heads are compared within a session, since between sessions the day differs too. No verdict.`;
      return `${both} have no session in common: a difference between them cannot be told from a difference between days. No verdict.`;
    case "one stint":
      return `${bare(pair, words)}, without an interval. ${oneGo(pair, words)} No verdict.`;
    case "one go":
      return `${bare(pair, words)}, without an interval. Each ${words.by} was hit in one go, and a break does not change that: fatigue and warm-up cannot be told from the ${words.by}. No verdict.`;
    case "no scatter":
      return `${bare(pair, words)}, without an interval: all stints of either ${words.by} have the same mean. No verdict.`;
    case "order unknown":
      return `${difference(pair, words)}, as if shots were independent. Order unknown: the interval is likely too narrow. No verdict.`;
    case "mixed with time":
      return `${Number.isNaN(pair.wide.from) ? bare(pair, words) : difference(pair, words)}. ${both} were hit at different times of the session: the difference cannot be told from drift. No verdict.`;
    case "few stints": {
      const once = pair.turns + pair.turnsAgainst < pair.stints + pair.stintsAgainst ? ", and those with only a break between them count once" : "";
      return `Undecided: ${difference(pair, words)}. A verdict needs ${leastStints} stints of each ${words.by} and ${leastStintsInAll} in all${once}. ${settling(pair, words)}`;
    }
    case "few strikes":
    case "not the same places":
      return `${both} are not compared at the same strikes: ${withoutSame(pair, words)}. No verdict.`;
    case "enough":
      return verdictSentence(pair, words);
  }
}

/** Said beside the verdicts of several sessions: what holds for some days is not known to hold for another. */
export function otherDaysSentence(pairs: readonly JudgedPair[], words: ComparisonWords): readonly string[] {
  const sessions = new Set(pairs.filter((pair) => !Number.isNaN(pair.wide.from)).flatMap((pair) => pair.sessions)).size;
  if (sessions < 2) return [];
  // An undecided pair that the sessions tell differently has them in its own sentence.
  const told = pairs.filter((pair) => pair.bySession !== null && pair.bySession.each.length <= mostListed && pair.verdict !== "undecided" && pair.verdict !== "no verdict");
  const list = told.length > mostListed ? [] : told.map((pair) => `${pairLabel(pair, words)} ${bySession(pair, words)}`);
  return [`This is for the days of these ${sessions} sessions${list.length === 0 ? "" : ` (${list.join("; ")})`}: how a difference between ${words.by}s repeats on other days is not known.`];
}

/** `4.1 yd in s1 and 6.0 yd in s2`. */
function bySession({ bySession: found, shown }: JudgedPair, words: ComparisonWords): string {
  const digits = digitsFor(shown.standardError);
  return listed(found!.each.map(({ session, difference: own }) => `${measure(own, digits, words)} in ${words.sessionNames[session]!}`));
}

/** Why a pair has no verdict at the same strikes, as a clause. */
export function withoutSame(pair: JudgedPair, words: ComparisonWords): string {
  switch (pair.ground) {
    case "not the same places":
      return `the ${words.by}s were not hit in the same places`;
    case "no shots":
    case "few shots":
    case "few strikes":
      return `${pair.n} and ${pair.nAgainst} shots with a known strike are too few`;
    default:
      return "the shots with a known strike do not tell the two from the course of time";
  }
}

function verdictSentence(pair: JudgedPair, words: ComparisonWords): string {
  const { column, margin } = words;
  const limit = measure(margin, digitsAsStated(margin), words);
  switch (pair.verdict) {
    case "different by more than the margin":
      return `${contrast(pair, words)}. Different by more than the margin of ${limit}.`;
    case "different":
      return `${contrast(pair, words)}. Different, by an amount that may be above or below the margin of ${limit}.`;
    case "different but too small to matter":
      return `${contrast(pair, words)}. Different but too small to matter: the ${formatShare(equivalenceConfidence)} interval, ${bounds(pair.narrow, pair)}, is inside ±${limit}.`;
    case "practically equivalent": {
      const [of, against] = pairNames(pair, words);
      const shown = `${measure(pair.shown.difference, digitsFor(pair.shown.standardError), words)} (${formatShare(equivalenceConfidence)} interval ${bounds(pair.narrow, pair)}; ${counts(pair)})`;
      return `${capitalised(strikesInWords(pair))}, ${inWords(column.name)} is the same for practical purposes with ${of!} and ${against!}: the difference is ${shown}, inside ±${limit}. Practically equivalent.`;
    }
    case "undecided":
      return undecided(pair, words);
    case "no verdict":
      return `${difference(pair, words)}. No verdict.`;
  }
}

function undecided(pair: JudgedPair, words: ComparisonWords): string {
  switch (pair.dependsOn) {
    case "session":
      return `Undecided, since the ${words.by}s do not differ alike in all sessions: ${difference(pair, words)}; ${bySession(pair, words)}.`;
    case "method": {
      return `Undecided, since it depends on the method: ${difference(pair, words)}; ${otherMethod(pair, words)}. ${settling(pair, words)}`;
    }
    case "strike model": {
      const limit = measure(words.margin, digitsAsStated(words.margin), words);
      return `Undecided, since it depends on the strike model: ${difference(pair, words)}, and different shapes of the strike surface give ${bounds(pair.adjustment!.forms, pair)}, farther apart than the margin of ${limit}.`;
    }
    case null:
      return `Undecided: ${difference(pair, words)}. ${settling(pair, words)}`;
  }
}

/** The interval of the other method: the 95 % one where the two differ about a difference, else the 90 % one beside the margin. */
function otherMethod(pair: JudgedPair, words: ComparisonWords): string {
  const { wide, narrow, otherWide, otherNarrow } = pair;
  if (Number.isNaN(otherWide.from)) return "the check has too few stints for an interval";
  const holdsZero = ({ from, to }: Interval): boolean => from <= 0 && to >= 0;
  if (holdsZero(wide) !== holdsZero(otherWide)) return `the other method gives ${bounds(otherWide, pair)}`;
  const limit = measure(words.margin, digitsAsStated(words.margin), words);
  return `against ±${limit} the ${formatShare(equivalenceConfidence)} interval is ${bounds(narrow, pair)}, by the other method ${bounds(otherNarrow, pair)}`;
}

/** `As struck, carry is 5.5 yd longer with Heron than with Wren (95 % interval 2.5 to 8.5; …)`. */
function contrast(pair: JudgedPair, words: ComparisonWords): string {
  const [of, against] = pairNames(pair, words);
  const turned = pair.shown.difference < 0 ? { from: -pair.wide.to, to: -pair.wide.from } : pair.wide;
  const interval = `${formatShare(words.confidence)} interval ${bounds(turned, pair)}`;
  return `${capitalised(strikesInWords(pair))}, ${inWords(words.column.name)} is ${amount(pair, words)} with ${of!} than with ${against!} (${interval}; ${counts(pair)})`;
}

/** `5.5 yd longer`. */
export function amount(pair: JudgedPair, words: ComparisonWords): string {
  const size = measure(Math.abs(pair.shown.difference), shownDigits(pair), words);
  return `${size} ${comparative(words.column.name, pair.shown.difference > 0)}`;
}

/** `Heron − Wren is 1.9 yd in carry as struck (95 % interval −1.6 to 5.4; …)`. */
function difference(pair: JudgedPair, words: ComparisonWords): string {
  const interval = `${formatShare(words.confidence)} interval ${bounds(pair.wide, pair)}`;
  return `${bare(pair, words)} (${interval}; ${counts(pair)})`;
}

function bare(pair: JudgedPair, words: ComparisonWords): string {
  return `${pairLabel(pair, words)} is ${measure(pair.shown.difference, shownDigits(pair), words)} in ${inWords(words.column.name)} ${strikesInWords(pair)}`;
}

/** Decimals for a pair's difference. */
export function shownDigits(pair: JudgedPair): number {
  return pair.shown.standardError > 0 ? digitsFor(pair.shown.standardError) : 1;
}

/** `as struck`, `at the same strikes`. */
export function strikesInWords({ strikes }: Pick<JudgedPair, "strikes">): string {
  return strikes === "same" ? "at the same strikes" : "as struck";
}

function counts(pair: JudgedPair): string {
  const shots = `${pair.n} and ${pair.nAgainst} shots`;
  return pair.ground === "order unknown" ? shots : `${shots} in ${pair.stints} and ${pair.stintsAgainst} stints`;
}

function oneGo(pair: JudgedPair, words: ComparisonWords): string {
  const [of, against] = pairNames(pair, words);
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
    const digits = Math.max(...values.map(digitsAsStated));
    const list = values.map((value) => formatNumber(value, digits)).join(", ");
    const unit = words.column.unit === null ? "" : ` ${words.column.unit}`;
    const count = `${values.length} ${values.length === 1 ? "value" : "values"}`;
    return [`${words.groups[group]!} has ${count} of ${name} (${list}${unit}): too few for an interval. No verdict.`];
  });
  if (small.length > 0) return small;
  return [`${pairNames(pair, words).join(" and ")} have too few shots in the sessions that they have in common. No verdict.`];
}

function settling(pair: JudgedPair, words: ComparisonWords): string {
  const { more } = pair;
  const question = `a ${measure(words.margin, digitsAsStated(words.margin), words)} question`;
  if (more === null) {
    // A pair has no plan where as many shots as there are would have settled it four times in five.
    return pair.dependsOn === "method" ? "More shots may not settle it soon, since it depends on the method." : `As many shots as there are have a power of ${formatShare(usualPower)} or more for ${question} already; these happened to leave it open.`;
  }
  if (more.shots > mostByHitting) return `${capitalised(aboutShots(more.shots))} more shots each for ${question}: not by hitting.`;
  if (more.shots > mostInOneSession) return `More than one session can settle: ${aboutShots(more.shots)} more shots each for ${question}.`;
  const to = more.to > mostInOneSession ? `more than ${mostInOneSession}` : String(more.to);
  const range = more.from === more.to ? "" : more.from === 0 ? ` (up to ${to})` : ` (${more.from} to ${to})`;
  return `About ${more.shots} more shots each${range} would settle ${question}.`;
}

/** `−1.6 to 5.4`, with the digits of the pair's difference. */
export function bounds(interval: Interval, pair: JudgedPair): string {
  const digits = shownDigits(pair);
  return `${formatNumber(interval.from, digits)} to ${formatNumber(interval.to, digits)}`;
}

/** The names of the two groups of a pair. */
export function pairNames(pair: Pick<JudgedPair, "of" | "against">, words: Pick<ComparisonWords, "groups">): readonly string[] {
  return [words.groups[pair.of]!, words.groups[pair.against]!];
}

/** `Heron − Wren`. */
export function pairLabel(pair: Pick<JudgedPair, "of" | "against">, words: Pick<ComparisonWords, "groups">): string {
  return pairNames(pair, words).join(" \u2212 ");
}

/** A number in the unit of what is compared. */
export function measure(value: number, digits: number, words: Pick<ComparisonWords, "column">): string {
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
