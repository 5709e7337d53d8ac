import { inWords } from "../chart/field-name";
import { digitsAsStated, digitsFor, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import type { HeadLosses, JudgedLosses, LossPair, PlaceLoss } from "../stats/judge-losses";
import { equivalenceConfidence, leastStints, leastStintsInAll } from "../stats/judge-pair";
import { leastForLosses } from "../stats/loss-model";
import type { Interval } from "../stats/mean-contrast";
import { nearDistance } from "../stats/strike-overlap";
import type { ForgivenessWords } from "./forgiveness-table";
import { mostInOneSession, roughly } from "./planned-shots";
import { capitalised, listed } from "./session-sentences";

/** Standard errors that a true difference must have to be seen with a power of 80 %: 1.96 + 0.84. */
const seen = 2.8;

/** How to have a session that can answer, each piece of advice for what is lacking here. */
function nextTime(judged: JudgedLosses, words: ForgivenessWords): readonly string[] {
  const { heads, pairs, model } = judged;
  const grounds = ["few shots", "one go", "few stints", "mixed with time"];
  const isUnread = (head: number): boolean => lacksStrikes(heads[head]!, words);
  const unread = heads.filter(({ head }) => isUnread(head)).map(({ head }) => words.groups[head]!);
  const lacking =
    heads.some((head) => isSmall(head) && !isUnread(head.head)) ||
    pairs.some(({ of, against, ground }) => grounds.includes(ground) && !isUnread(of) && !isUnread(against));
  const undetermined = judged.onLine.length > 0 && (model === null || pairs.some(({ ground }) => ground === "not determined"));
  return [
    ...(unread.length === 0 ? [] : [`Too few strikes of ${listed(unread)} are known: next time have them read with every ${words.by}, or map them in the session.`]),
    ...(lacking ? [`Next time hit the ${words.by}s in turn, a few shots each time, until each has at least ${leastForLosses.shots} shots in ${leastForLosses.turns} stints, some of them off the centre on purpose.`] : []),
    ...(undetermined ? [`Next time spread the strikes over the face on purpose, to toe and heel and high and low, with every ${words.by}.`] : []),
  ];
}

function isSmall({ shots, turns }: HeadLosses): boolean {
  return shots < leastForLosses.shots || turns < leastForLosses.turns;
}

/** True for a head hit often enough that has too few shots or stints because strikes were not read. */
function lacksStrikes(losses: HeadLosses, words: ForgivenessWords): boolean {
  const { struck, valued } = words.used[losses.head]!;
  return isSmall(losses) && valued >= leastForLosses.shots && struck < Math.max(leastForLosses.shots, valued / 2);
}

/** What can be said of the heads: the most forgiving if there is one, the verdicts, and how little one session shows. */
export function answerSentences(judged: JudgedLosses, words: ForgivenessWords): readonly string[] {
  const digits = digitsFor(Math.max(0, ...judged.pairs.map(({ standardError }) => standardError).filter((error) => error > 0)));
  const pairs = [...new Set(judged.pairs.map((pair) => pairSentence(pair, judged.heads, digits, words)))];
  return [...headline(judged, words), ...pairs, ...lineSentence(judged, words), ...howLittle(judged, words), ...nextTime(judged, words)];
}

/** Why nothing is determined, where the strikes themselves are why. */
function lineSentence({ onLine, model, pairs }: JudgedLosses, words: ForgivenessWords): readonly string[] {
  if (onLine.length === 0 || (model !== null && pairs.every(({ ground }) => ground !== "not determined"))) return [];
  return [`The strikes of ${listed(onLine.map((head) => words.groups[head]!))} lie on one line or in one place, which tells nothing of the rest of the face.`];
}

function headline({ mostForgiving, model, heads, pairs }: JudgedLosses, words: ForgivenessWords): readonly string[] {
  if (heads.length < 2) return [];
  if (mostForgiving === null) return [`No ${words.by} is shown to be the most forgiving.`];
  const name = words.groups[mostForgiving]!;
  const own = pairs.filter(({ of, against, ground }) => ground === "enough" && (of === mostForgiving || against === mostForgiving));
  const small = own.every(({ verdict }) => verdict === "different but too small to matter") ? ", by too little to matter" : "";
  const among = model!.heads.length < heads.length ? `of ${listed(model!.heads.map((head) => words.groups[head]!))}, ` : "";
  return [`Most forgiving: ${among}${name} loses least over the common strikes${small}.`];
}

function pairSentence(pair: LossPair, heads: readonly HeadLosses[], digits: number, words: ForgivenessWords): string {
  const [of, against] = [words.groups[pair.of]!, words.groups[pair.against]!];
  const offCentre = [pair.of, pair.against].filter((head) => isCentreMissed(heads[head]!)).map((head) => words.groups[head]!);
  const margin = measure(words.margin, digitsAsStated(words.margin), words);
  switch (pair.ground) {
    case "few shots":
    case "one go":
      return tooLittle(pair, heads, words);
    case "never together":
      return `${of} and ${against} have no session in common: a difference between them cannot be told from a difference between days. No verdict.`;
    case "not the same places":
      return `The ${words.by}s were not hit in the same places: less than half of their strikes lie where all were hit. No verdict.`;
    case "centre not hit":
      return `${listed(offCentre)} ${offCentre.length === 1 ? "was" : "were"} not hit near the centre of the face, against which losses are told. No verdict.`;
    case "not determined":
      if (heads.every(({ places }) => places.every(({ state }) => state === "not determined"))) return `These shots do not determine how much any ${words.by} loses. No verdict.`;
      return `The shots of ${of} and ${against} do not determine how much either loses. No verdict.`;
    case "order unknown":
      return `${capitalised(difference(pair, heads, digits, words))}, as if shots were independent. Order unknown: the interval is likely too narrow. No verdict.`;
    case "mixed with time":
      return `${capitalised(difference(pair, heads, digits, words))}. ${of} and ${against} were hit at different times of the session: the difference cannot be told from drift. No verdict.`;
    case "few stints":
      return `Undecided: ${difference(pair, heads, digits, words)}. A verdict needs ${leastStints} stints of each ${words.by} and ${leastStintsInAll} in all.`;
    case "enough":
      return verdictSentence(pair, heads, digits, words, margin);
  }
}

function verdictSentence(pair: LossPair, heads: readonly HeadLosses[], digits: number, words: ForgivenessWords, margin: string): string {
  switch (pair.verdict) {
    case "different by more than the margin":
      return `${capitalised(difference(pair, heads, digits, words))}. Different by more than the margin of ${margin}.`;
    case "different":
      return `${capitalised(difference(pair, heads, digits, words))}. Different, by an amount that may be above or below the margin of ${margin}.`;
    case "different but too small to matter":
      return `${capitalised(difference(pair, heads, digits, words))}. Different but too small to matter: the ${formatShare(equivalenceConfidence)} interval, ${bounds(pair.narrow, digits)}, is inside ±${margin}.`;
    case "practically equivalent":
      return `${capitalised(difference(pair, heads, digits, words))}. Practically equivalent: the ${formatShare(equivalenceConfidence)} interval, ${bounds(pair.narrow, digits)}, is inside ±${margin}.`;
    case "undecided":
      return pair.dependsOnMethod
        ? `Undecided, since it depends on the method: ${difference(pair, heads, digits, words)}; ${methods(pair, digits, margin, words)}.${settling(pair, margin)}`
        : `Undecided: ${difference(pair, heads, digits, words)}.${settling(pair, margin)}`;
    case "no verdict":
      return `${capitalised(difference(pair, heads, digits, words))}. No verdict.`;
  }
}

/** `Over the common strikes Heron loses 0.9 mph and Wren 1.9 mph; Heron − Wren is −1.0 mph (95 % interval …; shots)`. */
function difference(pair: LossPair, heads: readonly HeadLosses[], digits: number, words: ForgivenessWords): string {
  const [of, against] = [pair.of, pair.against].map((head) => ({ name: words.groups[head]!, ...heads[head]! }));
  const [mine, theirs] = [of!, against!].map(({ places }) => measure(places[0]!.loss.difference, digits, words));
  const stints = words.orderKnown ? ` in ${of!.stints} and ${against!.stints} stints` : "";
  const interval = `${formatShare(words.confidence)} interval ${bounds(pair.wide, digits)}; ${of!.shots} and ${against!.shots} shots${stints}`;
  return `over the common strikes ${of!.name} loses ${mine!} of ${inWords(words.column.name)} and ${against!.name} ${theirs!}, ${of!.name} \u2212 ${against!.name} is ${measure(pair.difference, digits, words)} (${interval})`;
}

/** The intervals of the two methods that say different things: that on whether there is a difference, else that on its size. */
function methods(pair: LossPair, digits: number, margin: string, words: ForgivenessWords): string {
  if (Number.isNaN(pair.byModel.wide.from)) return "the model of shots in stints gives no interval";
  const differs = ({ from, to }: Interval): boolean => from > 0 || to < 0;
  if (differs(pair.wide) !== differs(pair.byModel.wide)) {
    return `the ${formatShare(words.confidence)} interval by the model of shots in stints is ${bounds(pair.byModel.wide, digits)}`;
  }
  return `against ±${margin} the ${formatShare(equivalenceConfidence)} interval is ${bounds(pair.narrow, digits)} by least squares with errors robust to stints (CR2) and ${bounds(pair.byModel.narrow, digits)} by the model of shots in stints`;
}

function settling({ more, dependsOnMethod }: LossPair, margin: string): string {
  if (more === null) return dependsOnMethod ? " More shots may not settle it soon, since it depends on the method." : "";
  if (more.shots > mostInOneSession) return ` More than one session can settle: about ${roughly(more.shots)} more shots each for a ${margin} question.`;
  return ` About ${more.shots} more shots each would settle a ${margin} question.`;
}

/** What the heads of a pair have where that is too little, and what a verdict needs of what they lack. */
function tooLittle(pair: LossPair, heads: readonly HeadLosses[], words: ForgivenessWords): string {
  const { orderKnown, by } = words;
  const lacksStints = ({ turns }: HeadLosses): boolean => orderKnown && turns < leastForLosses.turns;
  const small = [pair.of, pair.against].map((head) => heads[head]!).filter((each) => each.shots < leastForLosses.shots || lacksStints(each));
  const has = small.map(({ head, shots, stints, turns }) => {
    const own = words.used[head]!;
    const known = own.valued < own.shots ? `a known strike and a value of ${inWords(words.column.name)}` : "a known strike";
    if (shots === 0) return `${words.groups[head]!} has no shot with ${known} (${count(own.shots, "shot")})`;
    const where = !orderKnown ? "" : turns === 1 ? " in one go" : ` in ${count(stints, "stint")}`;
    return `${words.groups[head]!} has ${count(shots, "shot")} with ${known}${shots < own.shots ? ` (of ${own.shots})` : ""}${where}`;
  });
  const needs = [
    ...(small.some(({ shots }) => shots < leastForLosses.shots) ? [`${leastForLosses.shots} shots`] : []),
    ...(small.some(lacksStints) ? [`${leastForLosses.turns} stints`] : []),
  ];
  const once = small.some((each) => lacksStints(each) && each.stints >= leastForLosses.turns) ? ", those with only a break between them counted once" : "";
  return `${listed(has)}: a verdict needs ${needs.join(" in ")} of each ${by}${once}. No verdict.`;
}

function isCentreMissed({ places }: HeadLosses): boolean {
  return places.some(({ state }) => state === "centre not hit");
}

/** How little one session can show, from the standard errors that this one has. */
function howLittle({ pairs }: JudgedLosses, words: ForgivenessWords): readonly string[] {
  const errors = pairs.map(({ standardError }) => standardError).filter((error) => error > 0);
  if (errors.length === 0) return [];
  const error = Math.max(...errors);
  const [margin, digits] = [words.margin, digitsAsStated(words.margin)];
  const times = (size: number): number => ((seen * error) / size) ** 2;
  const known = `The difference of two losses is known with a standard error of ${measure(error, digitsFor(error), words)}`;
  if (times(margin) > 1) {
    return [`${known}: to see one of ${measure(margin, digits, words)} takes about ${factor(times(margin))} times these shots for one pair by itself, or strikes spread over the face on purpose.`];
  }
  return [`${known}, enough to see one of ${measure(margin, digits, words)}; half of that takes about ${factor(times(margin / 2))} times these shots for one pair by itself, or strikes spread over the face on purpose.`];
}

function factor(times: number): string {
  return times < 10 ? formatNumber(Math.ceil(times * 10) / 10, 1) : formatNumber(Math.ceil(times), 0);
}

/** What each head loses, place by place, and where it was not hit; one sentence for heads with one fall-off. */
export function headSentences(judged: JudgedLosses, words: ForgivenessWords): readonly string[] {
  const errors = judged.heads.flatMap(({ places }) => places.map(({ loss }) => loss.standardError)).filter((error) => error > 0);
  const digits = errors.length === 0 ? 1 : digitsFor(Math.max(...errors));
  const column = inWords(words.column.name);
  const heads = judged.heads.filter((head) => toldOf(head).length > 0);
  const form = judged.model?.form.form;
  if (heads.length > 1 && (form === "additive" || form === "shared")) {
    const names = listed(heads.map(({ head }) => words.groups[head]!));
    const outside = heads.map((head) => outsideInWords(head, `the shots of ${words.groups[head.head]!}`)).join("");
    return [`${names} alike, against their own centre, ${column}: ${lossesOfAll(heads, digits, words)}${outside}.`];
  }
  return heads.map((head) => {
    const losses = toldOf(head).map((at) => lossInWords(at, digits, words)).join("; ");
    return `${words.groups[head.head]!} against its own centre, ${column}: ${losses}${outsideInWords(head, "its shots")}.`;
  });
}

function toldOf({ places }: HeadLosses): readonly PlaceLoss[] {
  return places.filter(({ state }) => state === "told");
}

/** Every place at which some head has a loss, once: with one fall-off the loss there is that of all. */
function lossesOfAll(heads: readonly HeadLosses[], digits: number, words: ForgivenessWords): string {
  const all = heads.flatMap(toldOf);
  const places = [...new Set(all.map(whereInWords))].map((where) => {
    const same = all.filter((at) => whereInWords(at) === where);
    return same.find(({ interval }) => !Number.isNaN(interval.from)) ?? same[0]!;
  });
  return places.map((at) => lossInWords(at, digits, words)).join("; ");
}

function outsideInWords({ places }: HeadLosses, shots: string): string {
  const missed = places.filter(({ state }) => state === "not hit there");
  if (missed.length === 0) return "";
  const where = missed.map((at) => `${whereInWords(at)} (${at.near} within ${nearDistance} mm)`);
  return `; outside where ${shots} fell: ${where.join(", ")}`;
}

function lossInWords(at: PlaceLoss, digits: number, words: ForgivenessWords): string {
  const size = at.loss.difference;
  const interval = Number.isNaN(at.interval.from) ? "no interval" : bounds(at.interval, digits);
  if (at.interval.from <= 0 && at.interval.to >= 0) return `no loss shown ${whereInWords(at)} (${measure(size, digits, words)}, ${interval})`;
  if (size < 0) return `no loss found ${whereInWords(at)} (${measure(size, digits, words)}, ${interval})`;
  return `${measure(size, digits, words)} lost ${whereInWords(at)} (${interval})`;
}

function whereInWords({ place, at }: PlaceLoss): string {
  if (at === null) return "over the common strikes";
  const across = Math.abs(at.x) + Math.abs(at.y);
  const distance = `${formatNumber(across, digitsAsStated(across))} mm`;
  return place === "toe" || place === "heel" ? `${distance} to the ${place}` : `${distance} ${place}`;
}

function count(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? "" : "s"}`;
}

function bounds(interval: Interval, digits: number): string {
  return `${formatNumber(interval.from, digits)} to ${formatNumber(interval.to, digits)}`;
}

function measure(value: number, digits: number, words: ForgivenessWords): string {
  return formatMeasure(value, digits, words.column.unit);
}
