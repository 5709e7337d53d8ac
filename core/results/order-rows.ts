import { compareTexts, type RowOrder } from "../present/sort-rows";
import type { TextColumn, TruthColumn } from "../table/table";
import type { KeptTable } from "./kept-table";

/**
 * The numbers of all rows in the given order: the same order as `sortRows` gives for the same rows, over typed columns.
 *
 * @returns `null` where the rows are as they came: without an order, or by a column that is not there.
 */
export function orderRows(table: KeptTable, order: RowOrder): Uint32Array | null {
  const column = order === null ? undefined : table.columns[order.column];
  if (order === null || column === undefined) return null;
  return column.kind === "number" ? byNumbers(column.values, order.direction === "ascending" ? 1 : -1) : byRanks(column, order.direction);
}

function byNumbers(keys: Float64Array, sign: 1 | -1): Uint32Array {
  const rows = new Uint32Array(keys.length);
  let present = 0;
  for (let row = 0; row < keys.length; row++) if (!Number.isNaN(keys[row]!)) rows[present++] = row;
  // Equal ones stay as they came in both directions.
  rows.subarray(0, present).sort((a, b) => sign * (keys[a]! - keys[b]!) || a - b);
  for (let row = 0; row < keys.length; row++) if (Number.isNaN(keys[row]!)) rows[present++] = row;
  return rows;
}

/** Rows are counted out to the places of their values: there are few distinct ones, whose order is known beforehand. */
function byRanks(column: TextColumn | TruthColumn, direction: "ascending" | "descending"): Uint32Array {
  const codes = column.kind === "text" ? column.codes : column.values;
  const ascending = column.kind === "text" ? codesInOrder(column) : [0, 1];
  const places = new Float64Array(ascending.length + 1);
  // Missing has the code -1, and comes last in both directions.
  for (const code of codes) places[code < 0 ? ascending.length : code]!++;
  let next = 0;
  for (const code of [...(direction === "ascending" ? ascending : ascending.toReversed()), ascending.length]) {
    const count = places[code]!;
    places[code] = next;
    next += count;
  }
  const rows = new Uint32Array(codes.length);
  for (let row = 0; row < codes.length; row++) {
    const code = codes[row]!;
    rows[places[code < 0 ? ascending.length : code]!++] = row;
  }
  return rows;
}

/** The codes of a column's texts in the order of the texts, each compared with others however many rows have it. */
function codesInOrder({ labels }: TextColumn): readonly number[] {
  return labels
    .map((label, code) => ({ label, code }))
    .sort((one, other) => compareTexts(one.label, other.label))
    .map(({ code }) => code);
}
