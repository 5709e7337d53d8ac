import { aboutShots, mostInOneSession } from "../verbs/planned-shots";
import { findColumn, valueAt, type Table } from "../table/table";
import { mostByHitting } from "../stats/more-stints";
import { digitsForColumn, digitsOfInterval, formatMeasure, formatNumber, formatShare, unitLabel } from "./format-number";

/** What a table says of the question that it answers, as shots come in: plain data. */
export interface Question {
  /** One line: what is settled, or how many more shots would settle it. A verdict stands with interval, unit, n and method. */
  readonly short: string;
  /** True where no pair is left open. */
  readonly isSettled: boolean;
  /** The answer in whole sentences, as below the table. */
  readonly sentences: readonly string[];
  /** How it was computed. */
  readonly method: string;
}

/** The row that stands for one pair. */
interface PairRow {
  readonly row: number;
  readonly verdict: string;
  /** `null` where no number of shots is told. */
  readonly more: number | null;
}

/** Verdicts that leave a question open. */
const open: ReadonlySet<string> = new Set(["undecided", "no verdict"]);

/** Verdicts that rest on the 90 % interval inside of the margin. */
const byNarrow: ReadonlySet<string> = new Set(["practically equivalent", "different but too small to matter"]);

/**
 * What a table of `compare` or `enough` says of its question; `null` for any other table and one without pairs.
 *
 * The numbers are those of the table: nothing is judged anew. Of a pair with two rows, at the same strikes and as struck,
 * the first counts where there it has a verdict at all.
 */
export function questionOf(table: Table): Question | null {
  const { report } = table;
  if (report === null || findColumn(table, "more_shots")?.kind !== "number" || table.rowCount === 0) return null;
  const words = { sentences: report.sentences.slice(0, report.answer ?? report.sentences.length), method: report.method };
  const isPlan = findColumn(table, "verdict") === undefined;
  const pairs = isPlan ? Array.from({ length: table.rowCount }, (_, row) => rowOf(table, row)) : pairsOf(table);
  const left = pairs.filter(({ verdict }) => open.has(verdict));
  if (isPlan) return { ...words, isSettled: false, short: planned(pairs) };
  const [only] = pairs;
  if (pairs.length === 1) return { ...words, isSettled: left.length === 0, short: left.length === 0 ? settledPair(table, only!) : openPair(only!) };
  if (left.length === 0) return { ...words, isSettled: true, short: `all ${pairs.length} pairs settled, as the cell says` };
  return { ...words, isSettled: false, short: `${pairs.length - left.length} of ${pairs.length} pairs settled${severalOpen(left)}` };
}

function rowOf(table: Table, row: number): PairRow {
  const at = (name: string): ReturnType<typeof valueAt> => {
    const column = findColumn(table, name);
    return column === undefined ? null : valueAt(column, row);
  };
  const [verdict, more] = [at("verdict"), at("more_shots")];
  return { row, verdict: typeof verdict === "string" ? verdict : "no verdict", more: typeof more === "number" ? more : null };
}

/** One row for each pair, in the order of the table. */
function pairsOf(table: Table): readonly PairRow[] {
  const byPair = new Map<string, PairRow>();
  for (let row = 0; row < table.rowCount; row++) {
    const [head, against] = [findColumn(table, "head"), findColumn(table, "against")];
    const key = JSON.stringify([head && valueAt(head, row), against && valueAt(against, row)]);
    const found = rowOf(table, row);
    const before = byPair.get(key);
    if (before === undefined || found.verdict !== "no verdict") byPair.set(key, found);
  }
  return [...byPair.values()];
}

/** `about 24 more shots each would settle it`. */
function moreShots(more: number, what: string): string {
  if (more > mostByHitting) return `${aboutShots(more)} more shots each: not to be settled by hitting`;
  const size = more > mostInOneSession ? " (more than one session)" : "";
  return `${aboutShots(more)} more shots each${size} would settle ${what}`;
}

function openPair({ verdict, more }: PairRow): string {
  if (verdict === "no verdict") return "no verdict; the cell says why";
  return more === null || more === 0 ? "undecided; more shots may not settle it, as the cell says" : `undecided; ${moreShots(more, "it")}`;
}

function severalOpen(left: readonly PairRow[]): string {
  const most = Math.max(...left.map(({ more }) => more ?? 0));
  const without = left.filter(({ verdict }) => verdict === "no verdict").length;
  const rest = without === 0 ? "" : `, ${without} without a verdict`;
  return `${rest}${most > 0 ? `; ${moreShots(most, left.length === 1 ? "the other" : "the others")}` : ""}`;
}

function planned(pairs: readonly PairRow[]): string {
  const counts = pairs.flatMap(({ more }) => more ?? []);
  if (counts.length < pairs.length) return "no plan for every pair; the cell says why";
  const most = Math.max(...counts);
  return most === 0 ? "by the plan there are shots enough" : moreShots(most, pairs.length === 1 ? "it" : "all pairs");
}

/** `Heron − Wren, carry: 5.5 yd (95 % interval 2.5 to 8.5 yd; 24 and 24 shots; model of shots in stints), different`. */
function settledPair(table: Table, { row, verdict }: PairRow): string {
  const text = (name: string): string => {
    const column = findColumn(table, name);
    return column === undefined ? "" : String(valueAt(column, row) ?? "");
  };
  const isNarrow = byNarrow.has(verdict);
  const [difference, from, to] = [findColumn(table, "difference"), findColumn(table, isNarrow ? "from90" : "from"), findColumn(table, isNarrow ? "to90" : "to")];
  if (difference?.kind !== "number" || from?.kind !== "number" || to?.kind !== "number") return "settled, as the cell says";
  const digits = digitsOfInterval(from, to) ?? digitsForColumn(difference);
  const interval = `${formatNumber(from.values[row]!, digits)} to ${formatNumber(to.values[row]!, digits)}${from.unit === null ? "" : ` ${unitLabel(from.unit)}`}`;
  const method = table.report!.method.split(":")[0]!;
  const share = formatShare(isNarrow ? 0.9 : (table.report?.confidence ?? 0.95));
  const shown = `${formatMeasure(difference.values[row]!, digits, difference.unit)} (${share} interval ${interval}; ${text("n")} and ${text("n_against")} shots; ${method.charAt(0).toLowerCase()}${method.slice(1)})`;
  return `${text("head")} − ${text("against")}, ${text("of")} ${text("strikes") === "same" ? "at the same strikes" : "as struck"}: ${shown}, ${verdict}`;
}
