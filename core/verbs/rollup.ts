import type { AggregateCall, RunContext, Verb } from "../query/vocabulary";
import { findColumn, makeTable, missingCount, summaryOf, type Column, type Table } from "../table/table";
import { groupRows, type Groups } from "./group-rows";
import { pickRows } from "./keep-rows";
import { allKnown, duplicates, inferred, knownColumns, summaryAfter, uncounted } from "./schema-after";
import { verbProblem } from "./verb-problem";

/** `rollup({ name: op.mean("carry") })`: one row a group. */
export const rollup: Verb = {
  name: "rollup",
  family: "table",
  help: {
    summary: "Gives one row a group, with the columns grouped by and what is computed from the group's rows; missing values are left out.",
    example: 'shots.groupby("head").rollup({ shots: op.count(), typical: op.median("carry"), sd: op.sd("carry") })',
  },
  parameters: [{ name: "columns", kind: "aggregates", help: 'New names and functions of many rows: { typical: op.median("carry") }.' }],
  infer: (input, [given]) => {
    const columns = [...knownColumns(input, input.groupedBy).map(uncounted), ...(given?.kind === "aggregates" ? given.columns : [])];
    const schema = { columns, open: !allKnown(input, input.groupedBy), groupedBy: [], ...summaryAfter(input) };
    return inferred(schema, duplicates(columns, "columns"));
  },
  run: (input, [given], context) => {
    if (given?.kind !== "aggregates") throw new TypeError("rollup takes functions of many rows");
    const groups = groupRows(input, input.groupedBy, context.checkpoint);
    const computed = given.calls.map((call) => compute(call, groups, context));
    return makeTable([...groupColumns(input, groups), ...computed], groups.count, summaryOf(input));
  },
};

/** The columns that the table is grouped by, one row a group. */
export function groupColumns(input: Table, groups: Groups): readonly Column[] {
  return input.groupedBy.map((name) => pickRows(findColumn(input, name)!, groups.first));
}

function compute({ name, aggregate, column, numbers, result }: AggregateCall, groups: Groups, context: RunContext): Column {
  context.checkpoint();
  const values = aggregate.compute(column, groups.of, groups.count, numbers);
  const made = asColumn(values, name, result);
  const undetermined = missingCount(made);
  if (undetermined > 0) context.warn(verbProblem("columns", "query.undetermined", { name, count: undetermined, of: groups.count }));
  return made;
}

function asColumn(values: ReturnType<AggregateCall["aggregate"]["compute"]>, name: string, { kind, unit }: AggregateCall["result"]): Column {
  if (!(values instanceof Float64Array)) return { kind: "text", name, origin: "computed", codes: values.codes, labels: values.labels };
  if (kind !== "truth") return { kind: "number", name, unit, origin: "computed", values };
  return { kind: "truth", name, origin: "computed", values: Int8Array.from(values, (value) => (Number.isNaN(value) ? -1 : value)) };
}
