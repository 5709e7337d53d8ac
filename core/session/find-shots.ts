import { problem } from "../problem";
import type { DelimitedText } from "../table/delimited-text";
import { fieldText, rowRange } from "../table/delimited-text";
import type { ProblemList } from "../table/problem-list";
import type { Unit } from "../units";
import { parseUnit } from "../units";

/** Which rows of an export are shots, and the units that a row of units states. */
export interface ShotRows {
  /** Rows of the text, ascending. */
  readonly rows: Int32Array;
  /** The unit of each column by index, from a row of units right under the header. */
  readonly units: ReadonlyMap<number, Unit>;
}

/** How rows that are no shots are told. */
export interface ShotRowHints {
  /** The index of the column of shot numbers; −1 when there is none. */
  readonly shotColumn: number;
  /** Columns in which the word of a summary row may stand. */
  readonly mayNameSummary: (column: number) => boolean;
  /** True for the name of a head, which is never the word of a summary. */
  readonly isHead: (text: string) => boolean;
}

const summaryWords =
  /^(?:averages?|avg\.?|mean|median|std\.?(?: ?dev\.?)?|st\.? ?dev\.?|stdev\.?|standard deviation|s\.?d\.?|deviation|dev\.?|min\.?|minimum|max\.?|maximum|totals?|sum|range|variance|count)\s*(?:\([^()]*\))?\s*:?$/iu;

/** First letters of the words above, lower case: no other row is looked at twice. */
const initials = new Set(Array.from("amsdtrvc", (letter) => letter.charCodeAt(0)));

/**
 * The rows of an export that are shots. Rows without any value, a row of units under the header and rows of averages
 * and the like are left out, each said; nothing else is.
 */
export function findShots(text: DelimitedText, hints: ShotRowHints, list: ProblemList): ShotRows {
  const units = unitsRow(text);
  const rows = new Int32Array(text.rowCount);
  let count = 0;
  let blank = 0;
  let firstBlank = -1;
  if (units.size > 0) {
    const facts = { units: [...new Set(units.values())] };
    list.add("csv.units-row", () => problem("csv.units-row", facts, rowRange(text, 0)));
  }
  for (let row = units.size > 0 ? 1 : 0; row < text.rowCount; row++) {
    const first = firstField(text, row);
    if (first < 0) {
      if (blank++ === 0) firstBlank = row;
      continue;
    }
    const word = mayBeSummary(text, row, first) ? summaryWord(text, row, first, hints) : null;
    if (word === null) rows[count++] = row;
    else list.add("csv.summary-row", () => problem("csv.summary-row", { word }, rowRange(text, row)));
  }
  if (blank > 0) list.add("csv.blank-rows", () => problem("csv.blank-rows", { count: blank }, rowRange(text, firstBlank)));
  return { rows: rows.subarray(0, count), units };
}

/** The units of the first row when each of its fields is a unit or empty; nothing when it is a shot. */
function unitsRow(text: DelimitedText): ReadonlyMap<number, Unit> {
  const units = new Map<number, Unit>();
  if (text.rowCount === 0) return units;
  for (let column = 0; column < text.header.length; column++) {
    const field = (fieldText(text, 0, column) ?? "?").trim();
    if (field === "" || field === "-") continue;
    const unit = parseUnit(field.replace(/^[([](.*)[)\]]$/u, "$1"));
    if (unit === undefined) return new Map();
    units.set(column, unit);
  }
  return units;
}

/** The index of the first field with something in it; −1 for a row of nothing but delimiters and white space. */
function firstField(text: DelimitedText, row: number): number {
  const columns = text.header.length;
  const base = row * (columns + 1);
  for (let column = 0; column < columns; column++) {
    const from = text.starts[base + column]!;
    if (text.starts[base + column + 1]! - 1 <= from) continue;
    // Digits, signs, letters and what is beyond ASCII are something; spaces and quotes are looked at.
    if (text.bytes[from]! > 34 || (fieldText(text, row, column) ?? "?").trim() !== "") return column;
  }
  return -1;
}

function mayBeSummary(text: DelimitedText, row: number, column: number): boolean {
  const index = row * (text.header.length + 1) + column;
  const from = text.starts[index]!;
  const first = text.bytes[from]!;
  return first <= 34 || (initials.has(first | 0x20) && text.starts[index + 1]! - 1 - from <= 60);
}

function summaryWord(text: DelimitedText, row: number, column: number, hints: ShotRowHints): string | null {
  const word = (fieldText(text, row, column) ?? "").trim();
  if (!hints.mayNameSummary(column) || !summaryWords.test(word) || hints.isHead(word)) return null;
  const number = hints.shotColumn < 0 ? "" : (fieldText(text, row, hints.shotColumn) ?? "");
  return /^\s*\d+(?:\.0*)?\s*$/.test(number) ? null : word;
}
