import type { Verb, VerbProblem } from "../query/vocabulary";
import type { ColumnSchema } from "../table/schema";
import { findColumn, makeTable, summaryOf, valueAt, type Column, type Table } from "../table/table";
import { groupRows, type Groups } from "./group-rows";
import { pickRows } from "./keep-rows";
import { groupColumns } from "./rollup";
import { duplicates, inferred, knownColumns, summaryAfter, uncounted } from "./schema-after";
import { refuse, verbProblem } from "./verb-problem";

/** `pivot("head", "typical")`: a column for each value of another. */
export const pivot: Verb = {
  name: "pivot",
  family: "table",
  help: {
    summary: "Makes a column of each value of the first column, holding the second column's value; the rows are the groups of groupby.",
    example: 'shots.groupby("zone", "head").rollup({ typical: op.median("carry") }).groupby("zone").pivot("head", "typical")',
  },
  parameters: [{ name: "columns", kind: "columns", least: 2, help: "The column whose values become names, then the column whose values stand below them." }],
  infer: (input, [given]) => {
    const names = given?.kind === "columns" ? given.names : [];
    const problems: VerbProblem[] = names.length === 2 ? [] : [wrongCount(names.length)];
    const kept: readonly ColumnSchema[] = knownColumns(input, input.groupedBy).map(uncounted);
    // The names of the new columns are values, known only when the cell runs.
    return inferred({ columns: kept, open: true, groupedBy: [], ...summaryAfter(input) }, problems);
  },
  run: (input, [given], context) => {
    const [keys, values] = given?.kind === "columns" ? given.names : [];
    if (keys === undefined || values === undefined) throw new TypeError("pivot takes two names of columns");
    const rows = groupRows(input, input.groupedBy, context.checkpoint);
    const columns = groupRows(input, [keys], context.checkpoint);
    const { limits } = context;
    if (columns.count > limits.columns) return refuse("columns", "run.too-large", { what: "columns", count: columns.count, most: limits.columns });
    const cells = rows.count * columns.count;
    if (cells > limits.rows) return refuse("columns", "run.too-large", { what: "values", count: cells, most: limits.rows });
    const keyColumn = findColumn(input, keys)!;
    const place = placeRows(rows, columns);
    if (place.clash !== null) {
      const key = labelOf(keyColumn, place.clash.row) ?? "missing";
      return refuse("columns", "query.several-values", { key, count: place.clash.count });
    }
    const made: Column[] = [...groupColumns(input, rows)];
    let unnamed = 0;
    for (let column = 0; column < columns.count; column++) {
      const name = labelOf(keyColumn, columns.first[column]!);
      if (name === null) unnamed = countOf(columns, column);
      else made.push(belowName(input, values, name, place.rows.subarray(column * rows.count, (column + 1) * rows.count)));
    }
    if (unnamed > 0) context.warn(verbProblem("columns", "query.missing-keys", { count: unnamed, verb: "pivot" }));
    const problems = duplicates(made, "columns");
    return problems.length > 0 ? { type: "refused", problems } : makeTable(made, rows.count, summaryOf(input));
  },
};

function wrongCount(got: number): VerbProblem {
  return verbProblem("columns", "query.column-count", { verb: "pivot", wanted: "two columns, names and values", got });
}

function belowName(input: Table, values: string, name: string, rows: Int32Array): Column {
  const column = pickRows(findColumn(input, values)!, rows);
  return { ...column, name, origin: "computed" };
}

/** Where each value goes: the row of the input for each column and row of the result, −1 for none. */
function placeRows(rows: Groups, columns: Groups): { readonly rows: Int32Array; readonly clash: { readonly row: number; readonly count: number } | null } {
  const placed = new Int32Array(rows.count * columns.count).fill(-1);
  const counts = new Int32Array(placed.length);
  let clash: number | null = null;
  for (let row = 0; row < rows.of.length; row++) {
    const place = columns.of[row]! * rows.count + rows.of[row]!;
    counts[place]!++;
    if (placed[place]! < 0) placed[place] = row;
    else clash ??= place;
  }
  return { rows: placed, clash: clash === null ? null : { row: placed[clash]!, count: counts[clash]! } };
}

function countOf(groups: Groups, group: number): number {
  return groups.of.reduce((count, other) => count + (other === group ? 1 : 0), 0);
}

/** The name that a value gives to a column; `null` for a missing value. */
function labelOf(column: Column, row: number): string | null {
  const value = valueAt(column, row);
  return value === null ? null : String(value);
}
