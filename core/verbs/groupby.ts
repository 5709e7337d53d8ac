import type { Verb } from "../query/vocabulary";
import { inferred } from "./schema-after";

/** `groupby("head")`: what the verbs that follow do group by group. */
export const groupby: Verb = {
  name: "groupby",
  family: "table",
  help: {
    summary: "Groups the rows by the values of columns, for rollup, count, slice, sample and pivot; a missing value is a group of its own.",
    example: 'shots.groupby("head").rollup({ typical: op.median("carry") })',
  },
  parameters: [{ name: "columns", kind: "columns", least: 1, help: "Names of columns in quotes." }],
  infer: (input, [given]) => inferred({ ...input, groupedBy: given?.kind === "columns" ? given.names : [] }),
  run: (input, [given]) => {
    if (given?.kind !== "columns") throw new TypeError("groupby takes names of columns");
    return { ...input, groupedBy: given.names, report: null };
  },
};
