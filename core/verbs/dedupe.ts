import type { Verb } from "../query/vocabulary";
import { groupRows } from "./group-rows";
import { keepRows } from "./keep-rows";
import { inferred, otherRows } from "./schema-after";

/** `dedupe("head")`: the first row of each combination of values. */
export const dedupe: Verb = {
  name: "dedupe",
  family: "table",
  help: {
    summary: "Keeps the first row of each combination of values in the named columns, or in all columns when none is named.",
    example: 'shots.select("head", "session").dedupe()',
  },
  parameters: [{ name: "columns", kind: "columns", least: 0, help: "Names of columns in quotes; all columns when left out." }],
  infer: (input) => inferred(otherRows(input)),
  run: (input, [given], context) => {
    const names = given?.kind === "columns" && given.names.length > 0 ? given.names : input.columns.map((column) => column.name);
    return keepRows(input, names.length === 0 ? new Int32Array(0) : groupRows(input, names, context.checkpoint).first);
  },
};
