import { desc, table } from "arquero";
import { NoCodeGeneration } from "../query/interruption";

// The only file that uses Arquero. It is given numbers alone, in columns named here: no text of a cell, of a header or
// of the data reaches it, because it compiles functions from the names and expressions it is given.

/** One key to order by: a number a row; rows without one are `NaN` and come last either way. */
export interface OrderKey {
  readonly values: Float64Array;
  readonly descending: boolean;
}

/** Row numbers in the order of the keys, the first key first; rows with equal keys stay in their order. */
export function orderedRows(keys: readonly OrderKey[], rowCount: number): Int32Array {
  const columns = Object.fromEntries(
    keys.map(({ values, descending }, index) => {
      const last = descending ? -Infinity : Infinity;
      return [`c${index}`, values.map((value) => (Number.isNaN(value) ? last : value))];
    }),
  );
  const order = keys.map(({ descending }, index) => (descending ? desc(`c${index}`) : `c${index}`));
  return compiled(() => rowsOf(table({ ...columns, row: rowNumbers(rowCount) }).orderby(...order, "row").array("row")));
}

/** Pairs of rows with equal keys. */
export interface RowPairs {
  readonly left: Int32Array;
  /** −1 for a left row that matches none. */
  readonly right: Int32Array;
}

/**
 * The rows of two tables that have equal keys, by left row, then by right row. The key −1 matches nothing.
 *
 * @param unmatched whether left rows that match none are kept.
 */
export function matchedRows(left: Int32Array, right: Int32Array, unmatched: boolean): RowPairs {
  const a = table({ c0: left.map((key) => (key < 0 ? -1 : key)), c1: rowNumbers(left.length) });
  const b = table({ c0: right.map((key) => (key < 0 ? -2 : key)), c2: rowNumbers(right.length) });
  return compiled(() => {
    const joined = a.join(b, [["c0"], ["c0"]], [["c1"], ["c2"]], { left: unmatched }).orderby("c1", "c2");
    return { left: rowsOf(joined.array("c1")), right: rowsOf(joined.array("c2")) };
  });
}

/** The left rows that have, or have not, a row of equal key on the right. The key −1 matches nothing. */
export function rowsWithMatch(left: Int32Array, right: Int32Array, matching: boolean): Int32Array {
  const a = table({ c0: left.map((key) => (key < 0 ? -1 : key)), c1: rowNumbers(left.length) });
  const b = table({ c0: right.map((key) => (key < 0 ? -2 : key)) });
  const on: [string[], string[]] = [["c0"], ["c0"]];
  return compiled(() => rowsOf((matching ? a.semijoin(b, on) : a.antijoin(b, on)).array("c1")));
}

function rowNumbers(count: number): Int32Array {
  return Int32Array.from({ length: count }, (_, row) => row);
}

/** Row numbers out of a column; where there is none, −1. */
function rowsOf(column: ArrayLike<unknown>): Int32Array {
  return Int32Array.from(column, (row) => (typeof row === "number" ? row : -1));
}

/** Says plainly that a place forbids compiling, where it does. */
function compiled<T>(run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (error instanceof EvalError) throw new NoCodeGeneration("Arquero compiles comparators and joins", { cause: error });
    throw error;
  }
}
