import type { Verb } from "../query/vocabulary";
import { inferJoin, joinParameters, runJoin } from "./join-tables";

/** `join_left(other, "head")`: every row, with what matches it in another table. */
export const joinLeft: Verb = {
  name: "join_left",
  family: "table",
  help: {
    summary: "Puts matching rows of two tables side by side and keeps every row of the first; what the other does not have is missing.",
    example: 'shots.join_left(shots.groupby("head").rollup({ typical: op.median("carry") }), "head")',
  },
  parameters: joinParameters,
  infer: inferJoin,
  run: (input, [other, columns], context) => {
    if (other?.kind !== "table" || columns?.kind !== "columns") throw new TypeError("join_left takes a table and names of columns");
    return runJoin(input, other.table, columns.names, true, "join_left", context);
  },
};
