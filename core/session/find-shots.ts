import { problem } from "../problem";
import type { DelimitedText } from "../table/delimited-text";
import { fieldText, rowRange } from "../table/delimited-text";
import type { ProblemList } from "../table/problem-list";
import type { Unit } from "../units";
import { parseUnit } from "../units";
import type { ShotRowHints } from "./shot-row-hints";
import { summaryRows } from "./summary-rows";

/** Which rows of an export are shots, and the units that a row of units states. */
export interface ShotRows {
  /** Rows of the text, ascending. */
  readonly rows: Int32Array;
  /** The unit of each column by index, from a row of units right under the header. */
  readonly units: ReadonlyMap<number, Unit>;
}

/**
 * The rows of an export that are shots. Rows without any value, a row of units under the header and rows of averages
 * and the like are left out, each said; nothing else is.
 */
export function findShots(text: DelimitedText, hints: ShotRowHints, list: ProblemList): ShotRows {
  const units = unitsRow(text, hints);
  const rows = new Int32Array(text.rowCount);
  let count = 0;
  let blank = 0;
  let firstBlank = -1;
  if (units !== null) {
    const facts = { units: [...new Set(units.known.values())], unknown: units.unknown };
    list.add("csv.units-row", () => problem("csv.units-row", facts, rowRange(text, 0)));
  }
  const isSummary = summaryRows(text, hints, list);
  for (let row = units === null ? 0 : 1; row < text.rowCount; row++) {
    const first = firstField(text, row);
    if (first < 0) {
      if (blank++ === 0) firstBlank = row;
      continue;
    }
    if (!isSummary(row, first)) rows[count++] = row;
  }
  if (blank > 0) list.add("csv.blank-rows", () => problem("csv.blank-rows", { count: blank }, rowRange(text, firstBlank)));
  return { rows: rows.subarray(0, count), units: units?.known ?? new Map() };
}

/**
 * The units of the first row when it is a row of units: no digit in it, no head, and at least half of what stands
 * there are units. `null` when it is a shot.
 */
function unitsRow(text: DelimitedText, hints: ShotRowHints): { readonly known: ReadonlyMap<number, Unit>; readonly unknown: readonly string[] } | null {
  if (text.rowCount === 0 || hints.unitsRow === false) return null;
  const known = new Map<number, Unit>();
  const unknown: string[] = [];
  for (let column = 0; column < text.header.length; column++) {
    const field = (fieldText(text, 0, column) ?? "?").trim();
    if (field === "" || field === "-") continue;
    const unit = unitIn(field);
    if (unit !== undefined) known.set(column, unit);
    else if (hints.unitsRow === null && (/\d/.test(field) || (column === hints.headColumn && hints.isHead(field)))) return null;
    else unknown.push(field);
  }
  return hints.unitsRow === true || (known.size > 0 && known.size >= unknown.length) ? { known, unknown } : null;
}

/** The unit that a field of a row of units states: `yd`, `[yd]`, `yd.`, `yd L/R`. */
function unitIn(field: string): Unit | undefined {
  const bare = field.replace(/^[([](.*)[)\]]$/u, "$1").replace(/\s+\p{L}\/\p{L}$/u, "");
  return parseUnit(bare) ?? parseUnit(bare.replace(/\.$/u, ""));
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
