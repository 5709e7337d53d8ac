import type { NotebookChoice } from "../../core/notebook/choice";
import type { ColumnSchema } from "../../core/table/schema";
import type { NotebookView } from "./notebook-view";
import type { FoundChoice } from "./requests";

/** What the shots hold in the column of a choice; what the tables of cells hold, where the shots have no such column. */
export function foundFor(choice: NotebookChoice, { sources, checked }: NotebookView): FoundChoice {
  const nothing: FoundChoice = { name: choice.name, values: null, range: null, unit: null };
  if (choice.kind === "word") return { ...nothing, values: choice.among };
  const ofShots = columnIn(sources.shots?.schema?.columns, choice.column);
  const columns = ofShots === null ? checked.cells.flatMap(({ schema }) => columnIn(schema?.columns, choice.column) ?? []) : [ofShots];
  const [first] = columns;
  if (first === undefined) return nothing;
  if (first.kind === "truth") return { ...nothing, values: ["false", "true"] };
  if (first.kind === "number") return { ...nothing, range: first.range === undefined ? null : { low: first.range.low, high: first.range.high }, unit: first.unit };
  const isKnown = columns.every(({ values }) => values !== undefined);
  return { ...nothing, values: isKnown ? [...new Set(columns.flatMap(({ values }) => values ?? []))].sort() : null };
}

function columnIn(columns: readonly ColumnSchema[] | undefined, name: string): ColumnSchema | null {
  return columns?.find((column) => column.name === name) ?? null;
}
