import type { Verb } from "../query/vocabulary";
import { filter } from "./filter";

/** `choose("head")`: the rows that named choices of the front matter let through. */
export const choose: Verb = {
  name: "choose",
  family: "table",
  help: {
    summary: "Keeps the rows that named choices of the front matter let through; without names, all choices of columns that the table has.",
    example: "shots.choose()",
  },
  parameters: [{ name: "choices", kind: "choices", help: "Names of choices of columns in the front matter, in quotes; all of them where none is named." }],
  // Choices are made into one condition before the verb is asked.
  infer: filter.infer,
  run: filter.run,
};
