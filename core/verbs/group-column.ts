import type { Option, OptionValue, OptionValues, VerbProblem } from "../query/vocabulary";
import type { Schema } from "../table/schema";
import { schemaOf } from "../table/schema";
import type { NumberColumn, Table, TextColumn } from "../table/table";
import { findColumn } from "../table/table";
import type { Refused } from "./verb-problem";
import { refuse, verbProblem } from "./verb-problem";

/** The option `by` of the verbs of the trade: what is told apart. */
export const byOption: Option = {
  kind: "column",
  of: "text",
  required: false,
  help: 'Column of text that tells apart what is looked at; "head" unless told.',
};

/** The option `confidence` of the verbs of the trade. */
export const confidenceOption: Option = {
  kind: "number",
  above: 0.5,
  below: 1,
  whole: false,
  usual: 0.95,
  required: false,
  help: "Confidence of the interval, above 0.5 and below 1; 0.95 unless told.",
};

/** The name of the column that groups: as told, else the head. */
export function groupName(values: OptionValues): string {
  const told = values["by"];
  return typeof told === "string" ? told : "head";
}

/** The confidence: as told, else 0.95. */
export function confidenceOf(values: OptionValues): number {
  const told = values["confidence"];
  return typeof told === "number" ? told : 0.95;
}

/**
 * What keeps a verb of the trade from grouping this table as asked: rows that are no shots, groups made before, or no column to group by.
 * `null` when nothing does, or when it cannot be known before the table is there.
 */
export function groupingProblem(input: Schema, values: OptionValues, verb: string): Refused | null {
  if (input.isSummary === true) return refuse(null, "trade.not-shots", { verb });
  if (input.groupedBy.length > 0) return refuse(null, "trade.grouped", { verb, columns: input.groupedBy });
  const texts = input.columns.filter((column) => column.kind === "text").map((column) => column.name);
  if (input.open || texts.includes(groupName(values))) return null;
  return refuse(null, "trade.no-group-column", { name: groupName(values), candidates: texts });
}

/** The problem of a verb that works on shots where the rows are made from shots and are none. */
export function summaryProblem(input: Schema, verb: string): readonly VerbProblem[] {
  return input.isSummary === true ? [verbProblem(null, "trade.not-shots", { verb })] : [];
}

/** The column that groups, or what keeps the verb from it. */
export function groupColumn(table: Table, values: OptionValues, verb: string): TextColumn | Refused {
  const refused = groupingProblem(schemaOf(table), values, verb);
  if (refused !== null) return refused;
  return findColumn(table, groupName(values)) as TextColumn;
}

/** A column of numbers that was checked to be there. */
export function numbersNamed(table: Table, name: OptionValue | undefined): NumberColumn {
  const column = typeof name === "string" ? findColumn(table, name) : undefined;
  if (column?.kind !== "number") throw new TypeError("the option of names a column of numbers");
  return column;
}
