import type { Verb } from "../query/vocabulary";
import { rowsWithMatch } from "./arquero-rows";
import { joinKeys, joinParameters, keyProblems } from "./join-tables";
import { keepRows } from "./keep-rows";
import { inferred, otherRows } from "./schema-after";

/** `antijoin(other, "head")`: the rows that match no row of another table. */
export const antijoin: Verb = {
  name: "antijoin",
  family: "table",
  help: {
    summary: "Keeps the rows that match no row of another table; a row with a missing key matches none and is kept.",
    example: 'shots.antijoin(shots.groupby("head").count().filter(d => d.count < 10), "head")',
  },
  parameters: joinParameters,
  infer: (input, [other, columns]) =>
    inferred(otherRows(input), other?.kind === "table" && columns?.kind === "columns" ? keyProblems(input, other.schema, columns.names) : []),
  run: (input, [other, columns], context) => {
    if (other?.kind !== "table" || columns?.kind !== "columns") throw new TypeError("antijoin takes a table and names of columns");
    const keys = joinKeys(input, other.table, columns.names, context.checkpoint);
    return keepRows(input, rowsWithMatch(keys.left, keys.right, false));
  },
};
