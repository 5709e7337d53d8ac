import { digitsAsStated, formatMeasure, formatNumber, unitLabel } from "../../core/present/format-number";
import { cut, inert } from "../../core/present/show-value";
import { usualLimits } from "../../core/session/check-ranges";
import type { ColumnSchema } from "../../core/table/schema";
import { isShotColumn, shotColumns, type ShotColumn, type ShotColumnFacts } from "../../core/table/shot-columns";
import type { ColumnOrigin } from "../../core/table/table";
import { isConvertible, type Unit, unitFor } from "../../core/units";
import { asCode } from "./markdown";

/** Values of a text column that are listed. */
const mostListed = 8;

/** Characters of a name or a value that are shown. */
const mostCharacters = 60;

const originWords: Readonly<Record<ColumnOrigin, string>> = {
  measured: "measured by the monitor",
  calculated: "calculated by the monitor from other readings",
  derived: "derived here from other columns",
  stated: "stated by a person",
  computed: "computed in the notebook",
};

/**
 * What is known of a column, in Markdown: what it holds, where that comes from, what it means, how many values are
 * missing, and a few of them. Names and values are shown as they are, whatever they hold.
 *
 * @param rowCount rows of its table, where counted.
 * @param meaning what the column means, where that is not what a shot column of its name means.
 */
export function columnMarkdown(column: ColumnSchema, rowCount?: number, meaning?: string): string {
  const facts = shotFacts(column);
  const about = meaning ?? facts?.description;
  const lines = [...directionOf(column, facts), ...plausible(column), ...extremes(column), ...missing(column, rowCount), ...values(column)];
  return [
    `**${nameInCode(column.name)}**: ${columnKind(column)}, ${originInWords(column)}`,
    ...(about === undefined ? [] : [sentence(about)]),
    ...(lines.length === 0 ? [] : [lines.join("  \n")]),
  ].join("\n\n");
}

/** Where the column's values come from: session by session where they do not come from the same in all. */
function originInWords({ origin, originBySession: sessions }: ColumnSchema): string {
  if (sessions === undefined || origin === "computed") return originWords[origin];
  const origins = [...new Set(sessions.map((each) => each.origin))];
  return origins.map((each) => `${originWords[each]} in ${namesInCode(sessions.filter((one) => one.origin === each).map(({ session }) => session))}`).join("; ");
}

/** Names or values as code, the first few of many. */
export function namesInCode(names: readonly string[]): string {
  const rest = names.length > mostListed ? ` and ${names.length - mostListed} more` : "";
  return names.slice(0, mostListed).map(nameInCode).join(", ") + rest;
}

/** A name or a value as code, on one line and not too long, with what cannot be seen made visible. */
export function nameInCode(name: string): string {
  return asCode(cut(inert(name), mostCharacters));
}

/** What a column holds, in words: `numbers in yd`, `text`. */
export function columnKind({ kind, unit }: Pick<ColumnSchema, "kind" | "unit">): string {
  if (kind === "number") return unit === null ? "numbers" : `numbers in ${unitLabel(unit)}`;
  return kind === "text" ? "text" : "true or false";
}

/** A column in brief, for a list on one line: `carry yd`. */
export function columnInBrief({ name, unit }: Pick<ColumnSchema, "name" | "unit">): string {
  const short = cut(inert(name), mostCharacters / 2);
  return unit === null ? short : `${short} ${unitLabel(unit)}`;
}

/**
 * The facts of the shot column that a column is; `undefined` for another that has only the name of one. What a query
 * counts is called `shot` as well as a shot's number.
 */
function shotFacts({ name, kind, unit, origin }: ColumnSchema): ShotColumnFacts | undefined {
  if (!isShotColumn(name)) return undefined;
  const facts: ShotColumnFacts = shotColumns[name];
  if (facts.kind !== kind || (origin === "computed" && facts.kind === "number" && facts.group === "identity")) return undefined;
  return unit === null || fits(facts, unit) ? facts : undefined;
}

/** True for a unit that what the column measures can be in. */
function fits({ quantity }: ShotColumnFacts, unit: Unit): boolean {
  return quantity !== null && isConvertible(unitFor(quantity, "m-ms"), unit);
}

function directionOf({ origin }: ColumnSchema, facts: ShotColumnFacts | undefined): readonly string[] {
  const direction = facts?.direction ?? null;
  if (direction === null || origin === "computed") return [];
  return [`Positive is ${direction[0]}, negative ${direction[1]}.`];
}

function plausible(column: ColumnSchema): readonly string[] {
  const { name, unit, origin } = column;
  const facts = shotFacts(column);
  if (facts === undefined || facts.kind !== "number" || facts.group === "identity" || origin === "computed") return [];
  if (unit === null && facts.quantity !== null) return [];
  const limits = usualLimits(name as ShotColumn, unit);
  if (limits === null) return [];
  return [`Plausible, unless the session says otherwise: ${betweenNumbers(limits[0], limits[1], unit)}.`];
}

function extremes({ range, unit }: ColumnSchema): readonly string[] {
  if (range === undefined) return [];
  if (range.low === range.high) return [`Every value: ${formatMeasure(range.low, digitsAsStated(range.low), unit)}.`];
  return [`Lowest and highest: ${betweenNumbers(range.low, range.high, unit)}.`];
}

/** Two numbers in a unit, in words: `149 to 161 yd`. */
export function betweenNumbers(low: number, high: number, unit: Unit | null): string {
  return `${formatNumber(low, digitsAsStated(low))} to ${formatMeasure(high, digitsAsStated(high), unit)}`;
}

function missing({ missing: count }: ColumnSchema, rowCount: number | undefined): readonly string[] {
  if (count === undefined) return rowCount === undefined ? [] : [`${rowCount} ${rowCount === 1 ? "row" : "rows"}.`];
  const of = rowCount === undefined ? "" : ` of ${rowCount}`;
  return [`Missing: ${count === 0 ? "none" : count}${of}.`];
}

function values({ values: all }: ColumnSchema): readonly string[] {
  if (all === undefined || all.length === 0) return [];
  const rest = all.length > mostListed ? ` … ${all.length} in all` : "";
  return [`Values: ${all.slice(0, mostListed).map(nameInCode).join(", ")}${rest}`];
}

/** The text as a sentence: a capital letter first, a full stop last. */
export function sentence(text: string): string {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/u.test(capital) ? capital : `${capital}.`;
}
