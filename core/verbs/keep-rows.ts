import type { Column, Table, TextColumn } from "../table/table";

/**
 * The table with only the rows in `rows`, in that order; −1 stands for a row in which everything is missing.
 *
 * A column's values are copied when they are first asked for, since most verbs look at few of the columns that a
 * filter leaves. Nothing shows the difference but the time it takes.
 */
export function keepRows(table: Table, rows: Int32Array): Table {
  return { ...table, columns: table.columns.map((column) => pickRows(column, rows)), rowCount: rows.length, report: null };
}

/** One column with only the rows in `rows`, in that order; −1 gives a missing value. Copied when first asked for. */
export function pickRows(column: Column, rows: Int32Array): Column {
  const { name, origin } = column;
  switch (column.kind) {
    case "number": {
      const values = once(() => {
        const from = column.values;
        const into = new Float64Array(rows.length);
        for (let i = 0; i < rows.length; i++) into[i] = rows[i]! < 0 ? Number.NaN : from[rows[i]!]!;
        return into;
      });
      return {
        kind: "number",
        name,
        unit: column.unit,
        origin,
        ...(column.digits === undefined ? {} : { digits: column.digits }),
        get values() {
          return values();
        },
      };
    }
    case "truth": {
      const values = once(() => {
        const from = column.values;
        const into = new Int8Array(rows.length);
        for (let i = 0; i < rows.length; i++) into[i] = rows[i]! < 0 ? -1 : from[rows[i]!]!;
        return into;
      });
      return {
        kind: "truth",
        name,
        origin,
        get values() {
          return values();
        },
      };
    }
    case "text": {
      const text = once(() => pickText(column, rows));
      return {
        kind: "text",
        name,
        origin,
        get codes() {
          return text().codes;
        },
        get labels() {
          return text().labels;
        },
      };
    }
  }
}

/** The labels that are left, numbered in order of first appearance, so that no label without a row lingers. */
function pickText(column: TextColumn, rows: Int32Array): { readonly codes: Int32Array; readonly labels: readonly string[] } {
  const { codes: from, labels: all } = column;
  const renumbered = new Int32Array(all.length).fill(-1);
  const labels: string[] = [];
  const codes = new Int32Array(rows.length);
  for (let i = 0; i < rows.length; i++) {
    const old = rows[i]! < 0 ? -1 : from[rows[i]!]!;
    if (old < 0) {
      codes[i] = -1;
      continue;
    }
    if (renumbered[old]! < 0) renumbered[old] = labels.push(all[old]!) - 1;
    codes[i] = renumbered[old]!;
  }
  return { codes, labels };
}

/** Makes a value when first asked and forgets what it was made from. */
function once<T>(make: () => T): () => T {
  let maker: (() => T) | null = make;
  let made: T;
  return () => {
    if (maker !== null) {
      made = maker();
      maker = null;
    }
    return made;
  };
}
