import { inWords } from "../chart/field-name";
import { digitsAsStated, digitsFor, digitsForColumn, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import type { Effect } from "../stats/drift";
import { isClear, leastDriftStints } from "../stats/drift";
import type { DriftFit } from "../stats/drift-model";
import { turningTime } from "../stats/drift-model";
import { equivalenceConfidence } from "../stats/judge-pair";
import { shotColumnFacts } from "../table/shot-columns";
import type { Unit } from "../units";
import type { DriftRow } from "./drift-table";
import type { Margin } from "./margins";
import { asStated, capitalised, listed } from "./session-sentences";

/** What all sentences of one drift share. */
export interface DriftWords {
  /** What the groups are: `head`. */
  readonly by: string;
  readonly confidence: number;
  /** True when rows are of several sessions, so that each says of which it is. */
  readonly severalSessions: boolean;
  /** The number of the shot in a row of the table; `null` when the table does not have the numbers. */
  readonly shotIn: (row: number) => number | null;
}

/** The verdicts on the columns, each with its numbers, the unit, the shots and the stints; one for groups hit in one go. */
export function verdictSentences(rows: readonly DriftRow[], words: DriftWords): readonly string[] {
  const oneGo = rows.filter((row) => row.drift.ground === "one go");
  const others = rows.filter((row) => row.drift.ground !== "one go");
  const sessions = [...new Set(oneGo.map((row) => row.session))];
  return [
    ...others.map((row) => verdictSentence(row, words)),
    ...sessions.map((session) => oneGoSentence(oneGo.filter((row) => row.session === session), words)),
    ...(oneGo.length === 0 ? [] : [`To tell next time, hit the ${words.by}s in turns of a few shots, three times through or more.`]),
  ];
}

function oneGoSentence(rows: readonly DriftRow[], words: DriftWords): string {
  const where = words.severalSessions ? `In ${rows[0]!.sessionName} each` : "Each";
  const within = rows.filter((row) => !Number.isNaN(row.drift.withinStint));
  const courses = within.map((row) => `${inWords(row.column.name)} ${moved(row, row.drift.withinStint, Number.NaN)}`);
  const course = courses.length === 0 ? "" : ` Within a stint, from its first shot to its last, ${listed(courses)} on average.`;
  return `${where} ${words.by} was hit in one go: what changed in the session cannot be told from the ${words.by}s. No verdict.${course}`;
}

function verdictSentence(row: DriftRow, words: DriftWords): string {
  const { drift, column } = row;
  const name = capitalised(inWords(column.name)) + placeOf(row, words);
  switch (drift.ground) {
    case "no values":
      return `${name} has no value. No verdict.`;
    case "few shots": {
      const list = Array.from(row.shots.value, (value) => formatNumber(value, digitsAsStated(value))).join(", ");
      return `${name} has ${count(drift.n, "value")} (${list}${column.unit === null ? "" : ` ${column.unit}`}): too few to see a change. No verdict.`;
    }
    case "few stints": {
      const least = Math.max(leastDriftStints, row.groups.length + 2);
      return `${name} ${moved(row, drift.change.difference, Number.NaN)} from the first shot to the last, without an interval: that takes ${least} stints, and there ${drift.stints === 1 ? "is 1" : `are ${drift.stints}`}. No verdict.`;
    }
    case "one go":
    case "not told apart":
      return `${name}: the course of time cannot be told from the ${words.by}s or from single stints. No verdict.`;
    case "no scatter":
      return `${name} ${moved(row, drift.change.difference, Number.NaN)} from the first shot to the last, without an interval, since its shots do not scatter. No verdict.`;
    case "enough":
      return judged(row, name, words);
  }
}

function judged(row: DriftRow, name: string, words: DriftWords): string {
  const { drift, margin, column } = row;
  const { change } = drift;
  const shared = row.groups.length > 1 ? `, taken alike for all ${words.by}s` : "";
  const places = `${count(drift.n, "shot")} in ${count(drift.stints, "stint")}`;
  const size = formatMeasure(change.difference, digitsFor(change.standardError), column.unit);
  const told = `${name} ${moved(row, change.difference, change.standardError)} over the session${shared} (${formatShare(words.confidence)} interval ${boundsOf(change)}; ${places})`;
  const limit = margin === null ? "" : formatMeasure(margin.value, digitsAsStated(margin.value), column.unit);
  const narrow = `${formatShare(equivalenceConfidence)} interval ${boundsOf({ ...change, interval: drift.narrow })}`;
  switch (drift.verdict) {
    case "changed by more than the margin":
      return `${told}. Changed by more than the margin of ${limit}.`;
    case "changed":
      return margin === null ? `${told}. Changed.` : `${told}. Changed, by an amount that may be above or below the margin of ${limit}.`;
    case "changed but too little to matter":
      return `${told}. Changed but too little to matter: the ${narrow}, is inside ±${limit}.`;
    case "practically steady":
      return `${name} was steady for practical purposes: its change over the session${shared === "" ? "" : `${shared},`} is ${size} (${narrow}; ${places}), inside ±${limit}. Practically steady.`;
    case "do not change alike": {
      const each = drift.byGroup.map((own) => `${row.groups[own.group]!} ${effectText(own, column.unit)}`);
      return `${name} does not change alike for all ${words.by}s over the session: ${listed(each)} (${formatShare(words.confidence)} intervals, each ${words.by} by itself; ${places}). The difference between them depends on when they were hit.`;
    }
    case "undecided": {
      const open = `the change in ${inWords(column.name)}${placeOf(row, words)} over the session${shared === "" ? "" : `${shared},`} is ${size} (${formatShare(words.confidence)} interval ${boundsOf(change)}; ${places})`;
      return drift.dependsOnMethod
        ? `Undecided, since it depends on the method: ${open}; by least squares with errors robust to stints the interval is ${boundsOf(drift.cross!)}.`
        : `Undecided: ${open}.`;
    }
    case "no verdict":
      return `${told}. No verdict.`;
  }
}

/** `fell by 4.1 yd`, `moved by 3.1 yd to the left`, `did not change`. */
function moved(row: DriftRow, difference: number, standardError: number): string {
  if (Number.isNaN(difference)) return "may have changed";
  const digits = standardError > 0 ? digitsFor(standardError) : Math.max(1, digitsForColumn(row.column));
  if (Number(difference.toFixed(digits)) === 0) return "did not change";
  const size = formatMeasure(Math.abs(difference), digits, row.column.unit);
  const [positive, negative] = shotColumnFacts(row.column.name)?.direction ?? [null, null];
  const side = difference < 0 ? negative : positive;
  if (side === "right" || side === "left" || side === "toe" || side === "heel") return `moved by ${size} to the ${side}`;
  return `${difference < 0 ? "fell" : "rose"} by ${size}`;
}

/** `−1.1 mph (−1.9 to −0.3)`. */
export function effectText(effect: Effect, unit: Unit | null): string {
  return `${formatMeasure(effect.difference, digitsFor(effect.standardError), unit)} (${boundsOf(effect)})`;
}

function boundsOf({ interval, standardError }: Effect): string {
  const digits = digitsFor(standardError);
  return `${formatNumber(interval.from, digits)} to ${formatNumber(interval.to, digits)}`;
}

function placeOf(row: DriftRow, words: DriftWords): string {
  return words.severalSessions ? ` in ${row.sessionName}` : "";
}

function count(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? "" : "s"}`;
}

/** What else is worth knowing of one column in one session: a bend, a step, a few stints that drive it, neighbours. */
export function courseSentences(row: DriftRow, words: DriftWords): readonly string[] {
  if (row.drift.drift === null) return [];
  const name = capitalised(inWords(row.column.name)) + placeOf(row, words);
  // A bend has taken in what would look like a step or like a few odd stints.
  const course = row.drift.drift.bendCentre === null ? [stepSentence(row, name, words), fewStintsSentence(row, name)] : [bendSentence(row, row.drift.drift, name, words)];
  return [...course, neighboursSentence(row, name)].filter((sentence) => sentence !== null);
}

function bendSentence(row: DriftRow, fitted: DriftFit, name: string, words: DriftWords): string {
  const time = turningTime(fitted);
  const shot = time === null ? null : words.shotIn(row.rows[nearest(row.shots.time, time)]!);
  const isHill = fitted.fit.coefficients[row.groups.length + 1]! < 0;
  const turn = shot === null ? "" : `: it was ${isHill ? "highest" : "lowest"} about shot ${shot}`;
  return `${name} did not change steadily${turn}; a bend (t²) improves AIC by more than 4 and is in the model.`;
}

function stepSentence({ drift, rows, shots, column }: DriftRow, name: string, words: DriftWords): string | null {
  if (drift.step === null) return null;
  const before = drift.levelStints[drift.step.after - 1]!.stint;
  const numbers = Array.from(rows).flatMap((row, i) => (shots.stint[i] === before ? (words.shotIn(row) ?? []) : []));
  const where = numbers.length === 0 ? "" : ` after shot ${Math.max(...numbers)}`;
  const size = formatMeasure(drift.step.shift, digitsFor(drift.change.standardError), column.unit);
  return `${name}: a step of ${size}${where} fits the means of stints better than a steady change, and steps as large are rare where the order is chance.`;
}

function fewStintsSentence({ drift, column }: DriftRow, name: string): string | null {
  const { change, theilSen, verdict } = drift;
  if (!verdict.startsWith("changed") || theilSen * Math.sign(change.difference) >= Math.abs(change.difference) / 2) return null;
  const size = formatMeasure(theilSen, digitsFor(change.standardError), column.unit);
  return `${name}: by the median of the slopes between stints (Theil and Sen) the change is ${size}; a few stints drive it.`;
}

function neighboursSentence({ drift }: DriftRow, name: string): string | null {
  if (drift.neighbours === null) return null;
  const { r1, worth } = drift.neighbours;
  const count = r1 > 0 ? `, so that ${drift.n} shots are worth about ${Math.max(1, Math.round(worth))} for a mean` : "";
  return `${name}: shots of a stint go ${r1 > 0 ? "with" : "against"} the shot before (lag-1 autocorrelation ${formatNumber(r1, 1)})${count}.`;
}

function nearest(times: Float64Array, time: number): number {
  let best = 0;
  times.forEach((each, i) => {
    if (Math.abs(each - time) < Math.abs(times[best]! - time)) best = i;
  });
  return best;
}

/** First pass against the rest, and first shots after a change of head against the others, for the rows of one session. */
export function effectSentences(rows: readonly DriftRow[], words: DriftWords): readonly string[] {
  const where = rows.length === 0 ? "" : placeOf(rows[0]!, words);
  const parts = (effectIn: (row: DriftRow) => Effect | null): readonly string[] =>
    rows.flatMap((row) => {
      const effect = effectIn(row);
      return effect === null ? [] : [`${inWords(row.column.name)} ${effectText(effect, row.column.unit)}`];
    });
  const interval = `${formatShare(words.confidence)} intervals`;
  const warmUp = parts((row) => row.drift.warmUp);
  const carryOver = parts((row) => row.drift.carryOver);
  return [
    ...(warmUp.length === 0 ? [] : [`First pass used against the rest${where}, beyond the trend of the session: ${listed(warmUp)}; ${interval}.`]),
    ...(carryOver.length === 0 ? [] : [`First shot after a change of head against the other shots${where}: ${listed(carryOver)}; ${interval}.`]),
    ...rows.flatMap((row) => {
      const carried = row.drift.carryOver;
      if (carried === null || !isClear(carried) || carried.changeWithout === null) return [];
      return [`Without the first shots after a change of head${where}, the change in ${inWords(row.column.name)} is ${effectText(carried.changeWithout, row.column.unit)}; with them it is ${effectText(row.drift.change, row.column.unit)}.`];
    }),
  ];
}

/** What is too small to matter, column by column, and who said so. */
export function marginSentences(rows: readonly DriftRow[]): readonly string[] {
  const seen = [...new Map(rows.map((row) => [row.column.name, row])).values()];
  const chosen = { option: "stated here", notebook: "stated in the notebook", session: "stated in the session", default: "the default" };
  const known = Object.entries(chosen).flatMap(([by, words]) => {
    const own = seen.flatMap(({ column, margin }) => (margin?.chosenBy === by ? [`${inWords(column.name)} ${marginText(margin, column.unit)}`] : []));
    return own.length === 0 ? [] : [`${listed(own)} (${words})`];
  });
  const unknown = seen.filter(({ margin }) => margin === null).map(({ column }) => inWords(column.name));
  return [
    ...(known.length === 0 ? [] : [`Margin, the largest change that does not matter: ${known.join("; ")}.`]),
    ...(unknown.length === 0 ? [] : [`No margin is known for ${listed(unknown)}: nothing is called steady there.`]),
  ];
}

/** A margin in the column's unit, and as it was given where that is another one. */
function marginText({ value, stated }: Margin, unit: Unit | null): string {
  if (unit === null) return String(value);
  const shown = asStated({ value, unit });
  return stated === null || stated.unit === unit ? shown : `${shown}, given as ${asStated(stated)}`;
}
