import type { Verb } from "../query/vocabulary";
import { findColumn } from "../table/table";
import { allKnown, inferred, knownColumns } from "./schema-after";

/** `select("a", "b")`: some of the columns, in the order named. */
export const select: Verb = {
  name: "select",
  family: "table",
  help: {
    summary: "Keeps only the named columns, in the order named.",
    example: 'shots.select("head", "shot", "carry", "offline")',
  },
  parameters: [{ name: "columns", kind: "columns", least: 1, help: "Names of columns in quotes." }],
  infer: (input, [given]) => {
    const names = given?.kind === "columns" ? given.names : [];
    return inferred({
      ...input,
      columns: knownColumns(input, names),
      open: !allKnown(input, names),
      groupedBy: input.groupedBy.filter((name) => names.includes(name)),
    });
  },
  run: (input, [given]) => {
    if (given?.kind !== "columns") throw new TypeError("select takes names of columns");
    const { names } = given;
    return {
      ...input,
      columns: names.map((name) => findColumn(input, name)!),
      groupedBy: input.groupedBy.filter((name) => names.includes(name)),
      report: null,
    };
  },
};
