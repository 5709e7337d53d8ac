import type { Verb } from "../query/vocabulary";
import { rowsWithMatch } from "./arquero-rows";
import { joinKeys, joinParameters, keyProblems, warnMissingKeys } from "./join-tables";
import { keepRows } from "./keep-rows";
import { inferred, otherRows } from "./schema-after";

/** `semijoin(other, "head")`: the rows that match some row of another table. */
export const semijoin: Verb = {
  name: "semijoin",
  family: "table",
  help: {
    summary: "Keeps the rows that match a row of another table, and adds no columns.",
    example: 'shots.semijoin(shots.groupby("head").count().filter(d => d.count >= 10), "head")',
  },
  parameters: joinParameters,
  infer: (input, [other, columns]) =>
    inferred(otherRows(input), other?.kind === "table" && columns?.kind === "columns" ? keyProblems(input, other.schema, columns.names) : []),
  run: (input, [other, columns], context) => {
    if (other?.kind !== "table" || columns?.kind !== "columns") throw new TypeError("semijoin takes a table and names of columns");
    const keys = joinKeys(input, other.table, columns.names, context.checkpoint);
    warnMissingKeys(keys.left, "semijoin", context);
    return keepRows(input, rowsWithMatch(keys.left, keys.right, true));
  },
};
