import type { VerbProblem, Verb } from "../query/vocabulary";
import type { ColumnSchema, Schema } from "../table/schema";
import { findColumn, sessionsBehind } from "../table/table";
import { columnInWords } from "./column-in-words";
import { inferred, sessionsAfter, uncounted } from "./schema-after";
import { joinSessions, sessionInTwoAirs, stackColumns } from "./stack-columns";
import { tooLarge } from "./table-size";
import { refuse, verbProblem } from "./verb-problem";

/** `concat(other)`: the rows of both tables. */
export const concat: Verb = {
  name: "concat",
  family: "table",
  help: {
    summary: "Puts the rows of another table behind these; a column that only one of them has is missing in the other's rows.",
    example: 'shots.filter(d => d.head === "Wren").concat(shots.filter(d => d.head === "Heron"))',
  },
  parameters: [{ name: "other", kind: "table", help: "Another table: a cell, a const, or verbs on one." }],
  infer: (input, [other]) => {
    if (other?.kind !== "table") return inferred(input);
    const below = other.schema;
    const columns = [
      ...input.columns.map((column) => stacked(column, below, input.open)),
      ...below.columns.filter((column) => !input.columns.some(({ name }) => name === column.name)).map((column) => stacked(column, input, below.open)),
    ];
    const open = input.open || below.open;
    const schema = { columns, open, groupedBy: input.groupedBy, ...sessionsAfter(input, below) };
    return inferred(schema, differences(input, below));
  },
  run: (input, [other], context) => {
    if (other?.kind !== "table") throw new TypeError("concat takes a table");
    const below = other.table;
    const twofold = sessionInTwoAirs(input.sessions, below.sessions);
    if (twofold !== undefined) return refuse("other", "trade.two-airs", { session: twofold.name, verb: "concat" });
    const rowCount = input.rowCount + below.rowCount;
    const added = below.columns.filter((column) => findColumn(input, column.name) === undefined);
    const refused = tooLarge("other", rowCount, input.columns.length + added.length, context.limits);
    if (refused !== null) return refused;
    const columns = [...input.columns, ...added].map((column) =>
      stackColumns(
        column,
        { column: findColumn(input, column.name) ?? null, rowCount: input.rowCount },
        { column: findColumn(below, column.name) ?? null, rowCount: below.rowCount },
      ),
    );
    return { ...input, columns, rowCount, sessions: joinSessions(input.sessions, below.sessions), behind: joinSessions(sessionsBehind(input), sessionsBehind(below)), report: null };
  },
};

/** The column with the values of both tables, where both are known. */
function stacked(column: ColumnSchema, other: Schema, open: boolean): ColumnSchema {
  const { values, ...rest } = uncounted(column);
  const beside = other.columns.find(({ name }) => name === column.name);
  if (values === undefined || open || other.open) return rest;
  if (beside === undefined) return { ...rest, values };
  return beside.values === undefined ? rest : { ...rest, values: [...new Set([...values, ...beside.values])].sort() };
}

function differences(above: Schema, below: Schema): readonly VerbProblem[] {
  return above.columns.flatMap((column) => {
    const other = below.columns.find(({ name }) => name === column.name);
    if (other === undefined || (other.kind === column.kind && other.unit === column.unit)) return [];
    const facts = { name: column.name, here: columnInWords(column), there: columnInWords(other) };
    return [verbProblem("other", "query.different-columns", facts)];
  });
}
