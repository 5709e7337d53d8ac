import { convert, isConvertible } from "../units";
import type { Column, NumberColumn, TextColumn, TruthColumn } from "./table";
import { valueAt } from "./table";

/** Columns of equal length, to be put under one another with others. */
export interface ColumnPart {
  readonly columns: readonly Column[];
  readonly rowCount: number;
}

/**
 * The columns of all parts, rows under one another in the order of the parts; missing where a part lacks a column.
 *
 * Columns go by name, in the order of first appearance. Numbers are converted to the unit of the first part that has
 * one. Where kinds or units do not fit together, all values of the column become text.
 */
export function joinColumns(parts: readonly ColumnPart[]): Column[] {
  const only = parts.length === 1 ? parts[0] : undefined;
  if (only !== undefined) return [...only.columns];
  const names = [...new Set(parts.flatMap((part) => part.columns.map((column) => column.name)))];
  const lookups = parts.map((part) => new Map(part.columns.map((column) => [column.name, column])));
  const rowCount = parts.reduce((sum, part) => sum + part.rowCount, 0);
  return names.map((name) => {
    const pieces: Piece[] = [];
    let start = 0;
    parts.forEach((part, i) => {
      const column = lookups[i]!.get(name);
      if (column !== undefined) pieces.push({ column, start });
      start += part.rowCount;
    });
    return joined(pieces, rowCount);
  });
}

interface Piece {
  readonly column: Column;
  readonly start: number;
}

function joined(pieces: readonly Piece[], rowCount: number): Column {
  const [{ column: first }] = pieces as [Piece];
  if (pieces.every(({ column }) => column.kind === "truth")) return joinedTruth(first as TruthColumn, pieces, rowCount);
  if (pieces.every(({ column }) => column.kind === "number")) {
    const numbers = joinedNumbers(pieces, rowCount);
    if (numbers !== null) return numbers;
  }
  return joinedText(first, pieces, rowCount);
}

function joinedTruth(first: TruthColumn, pieces: readonly Piece[], rowCount: number): TruthColumn {
  const values = new Int8Array(rowCount).fill(-1);
  for (const { column, start } of pieces) values.set((column as TruthColumn).values, start);
  return { ...first, values };
}

function joinedNumbers(pieces: readonly Piece[], rowCount: number): NumberColumn | null {
  const columns = pieces.map(({ column }) => column as NumberColumn);
  const first = columns[0]!;
  const { unit } = first;
  const fits = (other: NumberColumn["unit"]): boolean => other === unit || (other !== null && unit !== null && isConvertible(other, unit));
  if (!columns.every((column) => fits(column.unit))) return null;
  const values = new Float64Array(rowCount).fill(Number.NaN);
  columns.forEach((column, i) => {
    const { start } = pieces[i]!;
    const from = column.unit;
    if (from === unit || from === null || unit === null) values.set(column.values, start);
    else column.values.forEach((value, row) => (values[start + row] = convert(value, from, unit)));
  });
  return { ...first, values };
}

function joinedText(first: Column, pieces: readonly Piece[], rowCount: number): TextColumn {
  const codes = new Int32Array(rowCount).fill(-1);
  const labels: string[] = [];
  const known = new Map<string, number>();
  const codeOf = (label: string): number => {
    const code = known.get(label) ?? labels.push(label) - 1;
    known.set(label, code);
    return code;
  };
  for (const { column, start } of pieces) {
    if (column.kind === "text") {
      const own = column.labels.map(codeOf);
      column.codes.forEach((code, row) => (codes[start + row] = code < 0 ? -1 : own[code]!));
      continue;
    }
    for (let row = 0; row < column.values.length; row++) {
      const value = valueAt(column, row);
      if (value !== null) codes[start + row] = codeOf(column.kind === "number" && column.unit !== null ? `${String(value)} ${column.unit}` : String(value));
    }
  }
  return { kind: "text", name: first.name, origin: first.origin, codes, labels };
}
