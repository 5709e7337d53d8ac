import { scopeOf, findName, type ColumnScope, type KnownColumn } from "../../core/chart/column-scope";
import type { JsonNode } from "../../core/chart/json-tree";
import { readLooseJson, type JsonPlace } from "../../core/chart/loose-json";
import { acceptedAt, partOf } from "../../core/chart/shape-at";
import type { Shape } from "../../core/chart/shape";
import { defaultLimits } from "../../core/limits";
import { bodyOffset } from "../../core/notebook/read-header";
import { nothingKnown, type ColumnSchema, type Schema } from "../../core/table/schema";
import type { NotebookView } from "./notebook-view";

/** What is being written in a chart's specification, what is accepted there, and what is known of its columns. */
export interface ChartPlace {
  readonly place: JsonPlace;
  readonly root: JsonNode | null;
  /** The object or list that the key or value stands in; `null` for the specification itself. */
  readonly holder: JsonNode | null;
  /** The alternatives for the value; for a key those for the object that it is in. */
  readonly shapes: readonly Shape[];
  readonly scope: ColumnScope;
  /** The table that is drawn. */
  readonly schema: Schema;
}

/** The place at `offset` in the body of a chart cell; `null` where neither a key nor a value can be written. */
export function chartPlaceAt(view: NotebookView, cell: number, offset: number): ChartPlace | null {
  const { text } = view.cells[cell]!;
  const body = Math.min(bodyOffset(text), text.length);
  if (offset < body || text.length - body > defaultLimits.chartText) return null;
  const { root, place } = readLooseJson(text, body, offset, defaultLimits.depth);
  if (place === null) return null;
  const schema = drawnSchema(view, cell);
  const { shapes, scope } = acceptedAt(root, place.path, scopeOf(schema), defaultLimits, place.replace.from);
  const holder = nodeAt(root, place.kind === "key" ? place.path : place.path.slice(0, -1));
  return { place, root, holder, shapes, scope, schema };
}

/** What is known of the table that a chart cell draws. */
export function drawnSchema(view: NotebookView, cell: number): Schema {
  const table = view.cells[cell]!.checked.header?.table ?? null;
  return (table === null ? null : view.surroundingsOf(cell).tables.get(table)) ?? nothingKnown;
}

/** The last key of the path, past numbers of a list; "" for the specification itself. */
export function lastKey(path: JsonPlace["path"]): string {
  return path.findLast((step) => typeof step === "string") ?? "";
}

/** The text of a key of an object; `null` where it has none. */
export function textAt(node: JsonNode | null, key: string): string | null {
  const value = partOf(node, key);
  return value?.kind === "text" ? value.value : null;
}

/** The column that the nearest object around the place has as its field; `null` where none has one that is known. */
export function fieldAround({ root, place, scope }: ChartPlace): { readonly name: string; readonly known: KnownColumn } | null {
  for (let length = place.path.length; length >= 0; length--) {
    const field = textAt(nodeAt(root, place.path.slice(0, length)), "field");
    const name = field === null ? null : findName(scope, field);
    const known = name === null ? undefined : scope.columns.get(name);
    if (name !== null && known !== undefined) return { name, known };
  }
  return null;
}

/** A column of the scope as a table has it: the table's own, or one that a transform of the chart makes. */
export function columnOf(name: string, { scope, schema }: Pick<ChartPlace, "scope" | "schema">): ColumnSchema {
  const known = scope.columns.get(name);
  const own = schema.columns.find((column) => column.name === name);
  if (own !== undefined && known?.isMade !== true) return own;
  return { name, kind: known?.kind ?? "number", unit: known?.unit ?? null, origin: "computed" };
}

function nodeAt(root: JsonNode | null, path: JsonPlace["path"]): JsonNode | null {
  return path.reduce(partOf, root);
}
