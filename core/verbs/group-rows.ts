import { findColumn, type Column, type Table } from "../table/table";

/** Rows put into groups: the group of each row, and the first row of each group, in order of first appearance. */
export interface Groups {
  readonly of: Int32Array;
  readonly first: Int32Array;
  readonly count: number;
}

/** Codes below `size`, one a row; rows with equal values have equal codes, missing values one of their own. */
interface Codes {
  readonly codes: Int32Array | Float64Array;
  readonly size: number;
}

/** Above this a table of all codes is not worth its memory. */
const mostDense = 1 << 22;

/**
 * The rows grouped by the values of the named columns. A missing value is a group of its own; without names all rows
 * are one group, even when there are none.
 */
export function groupRows(table: Table, names: readonly string[], checkpoint: () => void): Groups {
  if (names.length === 0) return { of: new Int32Array(table.rowCount), first: new Int32Array(table.rowCount > 0 ? 1 : 0), count: 1 };
  let codes: Codes | null = null;
  let groups: Groups | null = null;
  for (const name of names) {
    checkpoint();
    const next = codesOf(findColumn(table, name)!);
    codes = codes === null ? next : combine(codes, next);
    groups = renumber(codes);
    // Renumbering keeps codes small, however many columns there are.
    codes = { codes: groups.of, size: groups.count };
  }
  return groups!;
}

function codesOf(column: Column): Codes {
  switch (column.kind) {
    case "text": {
      const missing = column.labels.length;
      return { codes: column.codes.map((code) => (code < 0 ? missing : code)), size: missing + 1 };
    }
    case "truth":
      return { codes: Int32Array.from(column.values, (value) => value + 1), size: 3 };
    case "number": {
      const known = new Map<number, number>();
      const codes = new Int32Array(column.values.length);
      for (let row = 0; row < codes.length; row++) {
        const value = column.values[row]!;
        let code = known.get(value);
        if (code === undefined) known.set(value, (code = known.size));
        codes[row] = code;
      }
      return { codes, size: known.size };
    }
  }
}

/** Pairs of codes as one; below 2⁵³ as long as both are below the number of rows a table may have. */
function combine(a: Codes, b: Codes): Codes {
  const codes = new Float64Array(a.codes.length);
  for (let row = 0; row < codes.length; row++) codes[row] = a.codes[row]! * b.size + b.codes[row]!;
  return { codes, size: a.size * b.size };
}

function renumber({ codes, size }: Codes): Groups {
  const of = new Int32Array(codes.length);
  const first: number[] = [];
  const dense = size <= mostDense ? new Int32Array(size).fill(-1) : null;
  const sparse = new Map<number, number>();
  for (let row = 0; row < codes.length; row++) {
    const code = codes[row]!;
    let group = dense === null ? (sparse.get(code) ?? -1) : dense[code]!;
    if (group < 0) {
      group = first.push(row) - 1;
      if (dense === null) sparse.set(code, group);
      else dense[code] = group;
    }
    of[row] = group;
  }
  return { of, first: Int32Array.from(first), count: first.length };
}
