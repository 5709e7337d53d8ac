import { problem } from "../problem";
import type { Option, OptionValues, RunContext, VerbProblem } from "../query/vocabulary";
import type { Table } from "../table/table";
import { findColumn } from "../table/table";

/** The option `by` of charts: the column whose values are told apart. */
export const groupOption: Option = {
  kind: "column",
  of: "group",
  required: false,
  help: 'Column of text, or "stint" or "pass", whose values get a colour and a shape each; "head" unless told.',
};

/** The column that groups: as told, else the head where the table has it, else none. */
export function whatGroups(table: Table, options: OptionValues): string | null {
  const told = options["by"];
  if (typeof told === "string") return told;
  return findColumn(table, "head") === undefined ? null : "head";
}

/** The refusal of a table with more rows than a chart may have marks; `null` when it may be drawn. */
export function tooMany(table: Table, context: RunContext): { readonly type: "refused"; readonly problems: readonly VerbProblem[] } | null {
  const { marks } = context.limits;
  if (table.rowCount <= marks) return null;
  return {
    type: "refused",
    problems: [{ at: null, make: (range) => problem("chart.too-many-marks", { count: table.rowCount, most: marks }, range) }],
  };
}

/** The refusal of more panels than a chart may have; `null` when they may be drawn. */
export function tooManyPanels(count: number, context: RunContext): { readonly type: "refused"; readonly problems: readonly VerbProblem[] } | null {
  const { panels } = context.limits;
  if (count <= panels) return null;
  return {
    type: "refused",
    problems: [{ at: "by", make: (range) => problem("chart.too-many-panels", { count, most: panels }, range) }],
  };
}
