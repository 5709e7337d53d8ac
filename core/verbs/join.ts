import type { Verb } from "../query/vocabulary";
import { inferJoin, joinParameters, runJoin } from "./join-tables";

/** `join(other, "head")`: matching rows of two tables side by side. */
export const join: Verb = {
  name: "join",
  family: "table",
  help: {
    summary: "Puts matching rows of two tables side by side; rows that match none are left out, and columns that both have end in _1 and _2.",
    example: 'shots.join(shots.groupby("head").rollup({ typical: op.median("carry") }), "head")',
  },
  parameters: joinParameters,
  infer: inferJoin,
  run: (input, [other, columns], context) => {
    if (other?.kind !== "table" || columns?.kind !== "columns") throw new TypeError("join takes a table and names of columns");
    return runJoin(input, other.table, columns.names, false, "join", context);
  },
};
