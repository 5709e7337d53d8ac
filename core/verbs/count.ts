import type { Verb } from "../query/vocabulary";
import { makeTable, numberColumn, summaryOf } from "../table/table";
import { groupRows } from "./group-rows";
import { groupColumns } from "./rollup";
import { allKnown, duplicates, inferred, knownColumns, summaryAfter, uncounted } from "./schema-after";

/** `count()`: how many rows each group has. */
export const count: Verb = {
  name: "count",
  family: "table",
  help: {
    summary: "Gives one row a group, with its number of rows in the column count.",
    example: 'shots.groupby("head", "zone").count()',
  },
  parameters: [],
  infer: (input) => {
    const counted = { name: "count", kind: "number", unit: null, origin: "computed" } as const;
    const columns = [...knownColumns(input, input.groupedBy).map(uncounted), counted];
    const schema = { columns, open: !allKnown(input, input.groupedBy), groupedBy: [], ...summaryAfter(input) };
    return inferred(schema, duplicates(columns, null));
  },
  run: (input, _, context) => {
    const groups = groupRows(input, input.groupedBy, context.checkpoint);
    const counts = new Float64Array(groups.count);
    for (const group of groups.of) counts[group]!++;
    return makeTable([...groupColumns(input, groups), numberColumn("count", counts)], groups.count, summaryOf(input));
  },
};
