import { inWords } from "../chart/field-name";
import { digitsAsStated, digitsFor, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import { leastShots, leastStints, leastStintsInAll } from "../stats/judge-pair";
import { mostByHitting } from "../stats/more-stints";
import type { PairPlan, ShotScatter } from "../stats/plan-pairs";
import { planWithStints, shotsByThumb } from "../stats/plan-pairs";
import type { EnoughWords, PlannedPair } from "./enough-table";
import { aboutShots, mostInOneSession, roughly } from "./planned-shots";
import { listed } from "./session-sentences";

/** Shots of the short stints that are advised. Common practice, no source. */
const shortStint = 3;

/** How to hit a session that can be planned on. */
const inTurn = "hit in turn, three shots or so with each, at least six times through";

/** The plan of the pair that needs most, what the others need, and why some have no plan. */
export function planSentences(pairs: readonly PlannedPair[], words: EnoughWords, longest: PairPlan | null): readonly string[] {
  const others = pairs.flatMap(({ plan }) => (plan === null || plan === longest ? [] : [plan]));
  const needs = others.map((plan) => `${namesOf(plan.pair, words)} ${needOf(plan)}`);
  return [
    ...(longest === null ? [] : [planSentence(longest, words)]),
    ...(others.length === 0 ? [] : [`More shots with each for ${others.length === 1 ? "the other pair" : "the other pairs"}: ${listed(needs)}.`]),
    ...new Set(pairs.filter(({ plan }) => plan === null).flatMap((pair) => groundSentence(pair, words))),
  ];
}

function planSentence(plan: PairPlan, words: EnoughWords): string {
  const { more, outlook, pair } = plan;
  const question = measure(words.margin, digitsAsStated(words.margin), words);
  const found = inHand(plan, words);
  const name = namesOf(pair, words);
  if (more.shots === 0) {
    const left = pair.verdict === "undecided" ? "; these happened to leave it open" : "";
    return `${name}: as many shots as there are have a power of ${formatShare(words.power)} or more for ${question} in ${inWords(words.column.name)} already${left}. ${found}`;
  }
  if (more.shots > mostByHitting) return `${name}: ${aboutShots(more.shots)} more shots with each would settle whether ${inWords(words.column.name)} differs by ${question}: not by hitting. ${found}`;
  const parts = `${roughly(outlook.shots + more.toSee)} in all to find such a difference, ${roughly(outlook.shots + more.toShow)} to rule one out where there is none`;
  if (more.shots > mostInOneSession) return `${name}: about ${roughly(more.shots)} more shots with each would settle whether ${inWords(words.column.name)} differs by ${question}, more than one session can give (${parts}). ${found}`;
  return `${name}: about ${more.shots} more shots with each${rangeOf(plan)} would settle whether ${inWords(words.column.name)} differs by ${question}: ${parts}. ${found}`;
}

/** What the shots in hand find, where they can find anything. */
function inHand({ pair, outlook, detectable, powerNow }: PairPlan, words: EnoughWords): string {
  const shots = `The ${Math.min(pair.n, pair.nAgainst)} shots in hand`;
  if (Number.isNaN(powerNow)) return `${shots} cannot find anything yet: ${leastStints} stints of each ${words.by} and ${leastStintsInAll} in all are needed.`;
  const question = measure(words.margin, digitsAsStated(words.margin), words);
  return `${shots} find ${measure(detectable, digitsFor(outlook.standardError), words)} with a power of ${formatShare(words.power)}, and ${question} with ${formatNumber(100 * powerNow, 0)} %.`;
}

function needOf(plan: PairPlan): string {
  const { shots } = plan.more;
  if (shots === 0) return "none";
  return shots > mostByHitting ? aboutShots(shots) : `${roughly(shots)}${rangeOf(plan)}`;
}

function rangeOf({ more: { from, to } }: PairPlan): string {
  return from === to || from > mostInOneSession ? "" : ` (${from} to ${to > mostInOneSession ? `more than ${mostInOneSession}` : to})`;
}

function groundSentence({ shots, ground }: PlannedPair, words: EnoughWords): readonly string[] {
  const name = namesOf(shots, words);
  const column = inWords(words.column.name);
  switch (ground) {
    case "no shots":
      return [shots.n === 0 ? shots.of : -1, shots.nAgainst === 0 ? shots.against : -1].flatMap((group) => (group < 0 ? [] : [`${words.groups[group]!} has no value of ${column}: nothing to plan from.`]));
    case "few shots":
      return [`${name}: ${shots.n} and ${shots.nAgainst} values of ${column} are too few to plan from; have ${leastShots} of each at least, ${inTurn}.`];
    case "never together":
      return [`${name} have no session in common: no number of such shots tells a difference between them from one between days. Hit both in one session, ${inTurn}.`];
    case "order unknown":
      return [`Order unknown: how much stints differ is not known, and nothing can be planned from shots as if they were independent. Say in the session which column tells the order.`];
    case "one go":
    case "one stint":
      return [`${name}: hit in one go, so that it is not known how much stints differ, and more shots hit so would settle nothing. To plan, have each ${words.by} ${inTurn}.`];
    case "no scatter":
      return [`${name}: nothing scatters, and there is nothing to plan from.`];
    default:
      return [`${name} were hit at different times of the session: more shots hit so would not tell a difference from drift. Have both ${inTurn}.`];
  }
}

/** How the shots scatter, what that makes of their number, and how to hit the next ones. */
export function scatterSentences(pairs: readonly PlannedPair[], words: EnoughWords, longest: PairPlan): readonly string[] {
  const { scatter } = words;
  if (scatter === null) return [];
  const sd = (variance: number): string => measure(Math.sqrt(variance), digitsFor(Math.sqrt(scatter.shotVariance) / 5), words);
  const shots = Math.max(...pairs.flatMap(({ shots: own }) => [own.n, own.nAgainst]));
  const deff = formatNumber(scatter.designEffect, 2);
  const thumb = shotsByThumb(scatter, words.margin);
  const byThumb = (count: number): string => (count > mostByHitting ? aboutShots(count) : String(count));
  return [
    scatter.stintVariance > 0
      ? `Standard deviation ${sd(scatter.stintVariance)} between stints and ${sd(scatter.shotVariance)} within them, so that two shots of one stint go together with ρ = ${formatNumber(scatter.correlation, 2)}. With ${tenths(scatter.stintLength)} shots a stint the design effect is ${deff}: ${shots} shots with one ${words.by} are worth ${formatNumber(shots / scatter.designEffect, 0)} independent ones.`
      : `Standard deviation ${sd(scatter.shotVariance)} within stints; between stints the shots show none beyond that (ρ = 0, design effect 1), which another session may.`,
    `Rule of thumb for independent shots with two ${words.by}s, 95 % and a power of 80 %: 16 (s/Δ)² = ${byThumb(thumb)} each to find a difference of the margin${scatter.stintVariance > 0 && thumb <= mostByHitting ? `, times the design effect ${byThumb(Math.ceil(thumb * scatter.designEffect))}` : ""}.`,
    ...stintAdvice(scatter, words, longest),
  ];
}

/** Many short stints against few long ones, in numbers. */
function stintAdvice(scatter: ShotScatter, words: EnoughWords, { pair, outlook, more: long, question }: PairPlan): readonly string[] {
  if (outlook.shotsPerStint <= shortStint + 0.5) return [`Stints of ${tenths(outlook.shotsPerStint)} are short already, which is best: what differs between stints evens out with their number alone.`];
  const short = planWithStints(pair, scatter, { ...question, shotsPerStint: shortStint });
  if (short === null || short.shots >= long.shots || long.shots > mostByHitting) return [];
  return [`More and shorter stints are better: in stints of ${shortStint} about ${roughly(short.shots)} more shots with each would do for ${namesOf(pair, words)}, in stints of ${tenths(outlook.shotsPerStint)} about ${roughly(long.shots)}.`];
}

/** What planning rests on, and what to mind when hitting. */
export function cautionSentences(words: EnoughWords, longest: PairPlan): readonly string[] {
  const all = longest.more.shots * longest.outlook.heads;
  return [
    `Planned for the margin of ${measure(words.margin, digitsAsStated(words.margin), words)}, never for the difference observed, which would say nothing new. Looking again and again and stopping when the answer pleases makes false answers: decide on the number first.`,
    ...(all > mostInOneSession && longest.more.shots <= mostByHitting ? [`With all ${words.by}s that is ${aboutShots(all)} swings: more than one session. Plan several days, with every ${words.by} hit on each.`] : []),
    ...(longest.more.shots > 0 && longest.more.shots <= mostByHitting ? ["Many swings tire, and a tired swing is another swing: plan breaks, stop when anything hurts, and ask a qualified person about pain."] : []),
  ];
}

/**
 * What the same question takes at the same strikes; empty where that is not known.
 *
 * @param plan that of the pair that needs most, of `pairs`.
 */
export function sameStrikesSentence(plan: PairPlan | null, pairs: readonly PlannedPair[], words: EnoughWords): readonly string[] {
  if (plan === null) return [];
  const { more, outlook, pair } = plan;
  const question = measure(words.margin, digitsAsStated(words.margin), words);
  const inAll = more.shots > mostByHitting ? "" : ` (${roughly(outlook.shots + more.shots)} in all)`;
  const need = more.shots === 0 ? `as many shots as there are have a power of ${formatShare(words.power)} or more already` : `${aboutShots(more.shots)} more shots with each${inAll}`;
  const needsMost = pairs.some((other) => other.plan !== null && other.plan.more.shots < more.shots);
  return [`At the same strikes, with where the face was hit taken into account: ${need} for ${question} between ${namesOf(pair, words)}${needsMost ? ", the pair that needs most" : ""}.`];
}

/** A mean number of shots: with a decimal only where it has one. */
function tenths(shots: number): string {
  return formatNumber(shots, digitsAsStated(Number(shots.toFixed(1))));
}

function namesOf({ of, against }: { readonly of: number; readonly against: number }, words: EnoughWords): string {
  return `${words.groups[of]!} and ${words.groups[against]!}`;
}

function measure(value: number, digits: number, words: EnoughWords): string {
  return formatMeasure(value, digits, words.column.unit);
}
