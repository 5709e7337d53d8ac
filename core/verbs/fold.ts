import type { Verb, VerbProblem } from "../query/vocabulary";
import type { ColumnSchema } from "../table/schema";
import { findColumn, makeTable, summaryOf, type Column } from "../table/table";
import { columnInWords } from "./column-in-words";
import { pickRows } from "./keep-rows";
import { allKnown, duplicates, inferred, knownColumns, summaryAfter, uncounted } from "./schema-after";
import { stackColumns } from "./stack-columns";
import { tooLarge } from "./table-size";
import { verbProblem } from "./verb-problem";

/** `fold("carry", "total")`: several columns as one, with a column that says which. */
export const fold: Verb = {
  name: "fold",
  family: "table",
  help: {
    summary: "Makes a row of each value of the named columns: key says which column it was in, value is the value, the other columns are repeated.",
    example: 'shots.select("head", "carry", "total").fold("carry", "total")',
  },
  parameters: [{ name: "columns", kind: "columns", least: 1, help: "Names of columns of one kind and one unit, in quotes." }],
  infer: (input, [given]) => {
    const names = given?.kind === "columns" ? given.names : [];
    const folded = knownColumns(input, names);
    const others = input.columns.filter((column) => !names.includes(column.name)).map(uncounted);
    const key: ColumnSchema = { name: "key", kind: "text", unit: null, origin: "computed", values: [...names].sort() };
    const first = folded[0];
    const known = allKnown(input, names) && first !== undefined;
    const columns = known ? [...others, key, valueColumn(folded, first)] : [...others, key];
    const schema = { columns, open: input.open, groupedBy: input.groupedBy.filter((name) => !names.includes(name)), ...summaryAfter(input) };
    return inferred(schema, [...duplicates(columns, "columns"), ...mixtures(folded)]);
  },
  run: (input, [given], context) => {
    if (given?.kind !== "columns") throw new TypeError("fold takes names of columns");
    const { names } = given;
    const times = names.length;
    const rowCount = input.rowCount * times;
    const refused = tooLarge("columns", rowCount, input.columns.length - times + 2, context.limits);
    if (refused !== null) return refused;
    const folded = names.map((name) => findColumn(input, name)!);
    // One row after another, and within it the columns in the order named.
    const rows = Int32Array.from({ length: rowCount }, (_, place) => Math.floor(place / times));
    const places = Int32Array.from({ length: rowCount }, (_, place) => (place % times) * input.rowCount + Math.floor(place / times));
    const others = input.columns.filter((column) => !names.includes(column.name)).map((column) => pickRows(column, rows));
    const codes = Int32Array.from({ length: rowCount }, (_, place) => place % times);
    const key: Column = { kind: "text", name: "key", origin: "computed", codes, labels: rowCount === 0 ? [] : names };
    const value: Column = { ...pickRows(stackAll(folded, input.rowCount, context.checkpoint), places), name: "value", origin: "computed" };
    const table = makeTable([...others, key, value], rowCount, summaryOf(input));
    return { ...table, groupedBy: input.groupedBy.filter((name) => !names.includes(name)) };
  },
};

function valueColumn(folded: readonly ColumnSchema[], first: ColumnSchema): ColumnSchema {
  const values = folded.every((column) => column.values !== undefined) ? [...new Set(folded.flatMap((column) => column.values!))].sort() : undefined;
  return { name: "value", kind: first.kind, unit: first.unit, origin: "computed", ...(values === undefined ? {} : { values }) };
}

function stackAll([first, ...more]: readonly Column[], rowCount: number, checkpoint: () => void): Column {
  let all = first!;
  for (const [index, column] of more.entries()) {
    checkpoint();
    all = stackColumns(all, { column: all, rowCount: rowCount * (index + 1) }, { column, rowCount });
  }
  return all;
}

function mixtures([first, ...more]: readonly ColumnSchema[]): readonly VerbProblem[] {
  return more.flatMap((column) => {
    if (first === undefined || (column.kind === first.kind && column.unit === first.unit)) return [];
    const words = (of: ColumnSchema): string => `${of.name} (${columnInWords(of)})`;
    return [verbProblem("columns", "query.mixed-columns", { first: words(first), second: words(column) })];
  });
}
