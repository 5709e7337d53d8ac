import type { Verb } from "../query/vocabulary";
import { findColumn, type Column } from "../table/table";
import { orderedRows } from "./arquero-rows";
import { keepRows } from "./keep-rows";
import { inferred } from "./schema-after";

/** `orderby("head", op.desc("carry"))`: the rows in order. */
export const orderby: Verb = {
  name: "orderby",
  family: "table",
  help: {
    summary: "Orders the rows by columns, the first named first; missing values come last, equal rows stay in their order, text goes by character code.",
    example: 'shots.orderby("head", op.desc("carry"))',
  },
  parameters: [{ name: "columns", kind: "ordering", help: 'Names of columns in quotes, or op.desc("carry") for the greatest first.' }],
  infer: (input) => inferred(input),
  run: (input, [given], context) => {
    if (given?.kind !== "ordering") throw new TypeError("orderby takes names of columns");
    const keys = given.keys.map(({ name, descending }) => ({ values: ranks(findColumn(input, name)!), descending }));
    context.checkpoint();
    return keepRows(input, orderedRows(keys, input.rowCount));
  },
};

/** A number for each row that orders as its value does; `NaN` where the value is missing. */
function ranks(column: Column): Float64Array {
  switch (column.kind) {
    case "number":
      return column.values;
    case "truth":
      return Float64Array.from(column.values, (value) => (value < 0 ? Number.NaN : value));
    case "text": {
      const { labels } = column;
      // By code unit, so that the order is the same on every machine and in every language.
      const sorted = [...labels.keys()].sort((a, b) => (labels[a]! < labels[b]! ? -1 : labels[a]! > labels[b]! ? 1 : 0));
      const rank = new Float64Array(labels.length);
      sorted.forEach((code, place) => (rank[code] = place));
      return Float64Array.from(column.codes, (code) => (code < 0 ? Number.NaN : rank[code]!));
    }
  }
}
