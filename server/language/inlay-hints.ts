import type { CheckedQuery } from "../../core/query/check-query";
import type { TableExpression } from "../../core/query/table-expression";
import type { ColumnSchema, Schema } from "../../core/table/schema";
import type { HintAnswer } from "./answers";
import { columnsInBrief, listInBrief, schemaInWords } from "./cell-words";
import { columnInBrief, columnKind, nameInCode } from "./column-hover";
import type { NotebookView } from "./notebook-view";

/** Characters of a hint. */
const mostCharacters = 60;

/** Columns up to which all are listed rather than how many went. */
const mostListed = 8;

/** Columns that a tooltip lists. */
const mostInTooltip = 60;

/**
 * What verbs do to the columns of the tables in a query cell: one hint at the end of each line on which a verb ends that
 * changes them, and one behind each constant that is a table. None while the cell has no table that could be checked.
 */
export function hintsOf(view: NotebookView, cell: number): readonly HintAnswer[] {
  const { text, checked } = view.cells[cell]!;
  const query = checked.query;
  if (query === null) return [];
  const hints = new Map<number, HintAnswer>();
  const lineEnd = (offset: number): number => {
    const end = text.indexOf("\n", offset);
    return end < 0 ? text.length : end;
  };
  for (const table of tablesIn(query)) addSteps(table, lineEnd, hints);
  for (const { to, schema } of query.tables.values()) {
    const at = lineEnd(to);
    const isKnown = schema.columns.length > 0 || !schema.open;
    if (isKnown && !hints.has(at)) hints.set(at, { at, label: all(schema), tooltip: tooltipOf(schema) });
  }
  return [...hints.values()].sort((a, b) => a.at - b.at);
}

/** The tables of a cell: those of constants, and the one that its result is made from. */
function tablesIn({ tables, expression }: CheckedQuery): readonly TableExpression[] {
  switch (expression.kind) {
    case "table":
      return [...tables.values(), expression.table];
    case "chart":
      return [...tables.values(), expression.chart.table];
    case "text":
      return [...tables.values(), ...expression.text.holes.map((hole) => hole.table)];
  }
}

/** A hint for each line on which verbs of a chain end; a table within brackets gives way to the one around it. */
function addSteps({ steps }: TableExpression, lineEnd: (offset: number) => number, hints: Map<number, HintAnswer>): void {
  for (const { given } of steps) for (const { table } of given) if (table !== undefined) addSteps(table, lineEnd, hints);
  for (const [i, step] of steps.entries()) {
    const at = lineEnd(step.to);
    const next = steps[i + 1];
    if (next !== undefined && lineEnd(next.to) === at) continue;
    const first = steps.find((other) => lineEnd(other.to) === at) ?? step;
    const label = changeInWords(first.before, step.after);
    if (label !== null) hints.set(at, { at, label, tooltip: tooltipOf(step.after) });
  }
}

/** What became of the columns, `+ curve yd` or `−12 columns`; `null` where they are the same. */
function changeInWords(before: Schema, after: Schema): string | null {
  const isIn = (columns: readonly ColumnSchema[], { name, kind, unit }: ColumnSchema): boolean => columns.some((other) => other.name === name && other.kind === kind && other.unit === unit);
  const added = after.columns.filter((column) => !isIn(before.columns, column));
  const gone = before.columns.filter(({ name }) => !after.columns.some((other) => other.name === name));
  if (added.length === 0 && gone.length === 0) return null;
  if (gone.length === 0) return `+ ${listInBrief(added.map(columnInBrief), mostCharacters)}`;
  const few = gone.length <= 2 && after.columns.length > mostListed;
  const went = few ? `− ${listInBrief(gone.map(columnInBrief), mostCharacters / 2)}` : `−${gone.length} columns`;
  if (added.length === 0) return after.columns.length <= mostListed ? all(after) : went;
  return few ? `${went} + ${listInBrief(added.map(columnInBrief), mostCharacters / 2)}` : all(after);
}

/** All columns: `5 columns: head, n, typical yd …`. */
function all(schema: Schema): string {
  const many = schemaInWords({ columns: schema.columns, open: schema.open, groupedBy: [], fromShots: false });
  if (schema.columns.length === 0) return many;
  return `${many}: ${columnsInBrief(schema.columns, Math.max(20, mostCharacters - many.length - 2))}`;
}

function tooltipOf({ columns, open }: Schema): string {
  const lines = columns.slice(0, mostInTooltip).map((column) => `- ${nameInCode(column.name)}: ${columnKind(column)}`);
  const rest = columns.length > mostInTooltip ? [`- … ${columns.length} in all`] : open ? ["- … and what the data give"] : [];
  return [...lines, ...rest].join("\n");
}
