import type { Verb } from "../query/vocabulary";
import { inferred } from "./schema-after";

/** `ungroup()`: the rows as one group again. */
export const ungroup: Verb = {
  name: "ungroup",
  family: "table",
  help: {
    summary: "Takes back groupby, so that the rows are one group again.",
    example: 'shots.groupby("head").slice(0, 3).ungroup().count()',
  },
  parameters: [],
  infer: (input) => inferred({ ...input, groupedBy: [] }),
  run: (input) => ({ ...input, groupedBy: [], report: null }),
};
