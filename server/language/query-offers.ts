import { isEngineName } from "../../core/query/names";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import type { Help } from "../../core/query/vocabulary";
import { unitLabel } from "../../core/present/format-number";
import { inert } from "../../core/present/show-value";
import { withoutColumns, type ColumnSchema, type Schema } from "../../core/table/schema";
import { zones } from "../../core/table/shot-columns";
import type { Suggestion } from "./answers";
import { asCall, fittingColumns, optionEntries, type Likely } from "./call-snippets";
import { schemaInWords } from "./cell-words";
import { plainSnippet } from "./chart-snippets";
import { columnMarkdown } from "./column-hover";
import { escaped } from "./markdown";
import { codeBlock } from "./markdown-blocks";
import type { NotebookView } from "./notebook-view";
import { isConst, textOfString } from "./query-pieces";
import type { QueryPlace } from "./query-place";

/** A suggestion before it is known what it stands in place of. */
export type Offer = Omit<Suggestion, "replace">;

/** The columns of a table as they are named, those of the wanted kind alone. */
export function columnOffers(schema: Schema, of: "number" | "text" | "any" | "group"): readonly Offer[] {
  return fittingColumns(schema, of)
    .filter((column) => !isEngineName(column.name))
    .map((column) => ({
      ...labelled(column.name),
      kind: "column",
      insert: column.name,
      detail: column.unit === null ? (column.kind === "number" ? "number" : column.kind) : unitLabel(column.unit),
      documentation: columnMarkdown(column, schema.rowCount),
    }));
}

/** Names and values as they are written where no quotes stand yet. */
export function quoted(offers: readonly Offer[]): readonly Offer[] {
  return offers.map((offer) => ({ ...offer, insert: JSON.stringify(offer.insert), filter: offer.filter ?? offer.label }));
}

/** The values that a text column is known to have. */
export function valueOffers(column: ColumnSchema): readonly Offer[] {
  const values = column.values ?? (column.name === "zone" ? zones : []);
  return values.map((value) => ({ ...labelled(value), kind: "value", insert: value, detail: inert(column.name) }));
}

/** A name of the person's as a label: on one line, with what cannot be seen made visible. */
function labelled(name: string): { readonly label: string; readonly filter?: string } {
  const label = inert(name);
  return label === name ? { label } : { label, filter: name };
}

/** Offers without those that are written already. */
export function without(offers: readonly Offer[], written: readonly string[]): readonly Offer[] {
  return offers.filter(({ insert }) => !written.includes(insert));
}

/** The constants above the cursor, and whether each is a table. */
export function constantsOf({ context: { before } }: QueryPlace): readonly { readonly name: string; readonly isTable: boolean }[] {
  const isTable = new Map<string, boolean>();
  for (const at of before.keys()) {
    if (!isConst(before, at) || before[at + 1]?.kind !== "name" || before[at + 2]?.text !== "=") continue;
    const value = before[at + 3];
    if (value !== undefined) isTable.set(before[at + 1]!.text, value.kind === "name" && value.text !== "true" && value.text !== "false" && (isTable.get(value.text) ?? true));
  }
  return [...isTable].map(([name, is]) => ({ name, isTable: is }));
}

/** The cell's constants that are plain values. */
export function valueConstantOffers(place: QueryPlace): readonly Offer[] {
  return constantsOf(place).flatMap(({ name, isTable }): Offer[] => (isTable ? [] : [{ label: name, kind: "constant", insert: name, detail: "a value of this cell", rank: 1 }]));
}

/** Whatever a table can begin with: constants, `shots`, other cells, sessions, and tables made from options. */
export function tableOffers(view: NotebookView, cell: number, place: QueryPlace, surroundings: QuerySurroundings): readonly Offer[] {
  const { vocabulary, tables } = surroundings;
  const { next } = place.context;
  const constants = constantsOf(place).flatMap(({ name, isTable }): Offer[] => (isTable ? [{ label: name, kind: "constant", insert: name, detail: "a table of this cell" }] : []));
  const known = namesOfTables(view, cell, surroundings).map((name): Offer => {
    const schema = tables.get(name);
    return { label: name, kind: "cell", insert: name, detail: schema === undefined ? "a table" : schemaInWords(schema), rank: name === "shots" ? 0 : 1 };
  });
  const opening = (["session", "sessions"] as const).map((name): Offer => ({
    label: name,
    kind: "function",
    ...asCall(`${name}("$1")$0`, next),
    detail: name === "session" ? "the shots of a session file" : "the shots of all sessions of a folder",
    rank: 2,
  }));
  const made = [...vocabulary.sources.values()].map(({ name, options, help }): Offer => ({
    label: name,
    kind: "function",
    ...asCall(`${name}({ ${optionEntries(options, noTable)} })$0`, next),
    detail: "a table made from options",
    documentation: helpMarkdown(help),
    rank: 2,
  }));
  return [...constants, ...known, ...opening, ...made];
}

const noTable: Likely = { columns: withoutColumns, table: "shots" };

/** Names that stand for a table in a cell: `shots`, and other cells. */
export function namesOfTables(view: NotebookView, cell: number, { tableNames }: QuerySurroundings): readonly string[] {
  const own = view.cells[cell]!.checked.name;
  return tableNames().filter((name) => name !== own && (name !== "shots" || view.sources.shots !== null));
}

/**
 * Functions that can stand at the cursor: of one row, of the rows of a group, or for ordering.
 *
 * @param prefix `op.`, or "" where that stands already.
 */
export function functionOffers(place: QueryPlace, { vocabulary }: QuerySurroundings, prefix: "op." | ""): readonly Offer[] {
  const { frames, next } = place.context;
  const offer = (name: string, args: string, detail: string, documentation: string): Offer => ({ label: prefix + name, kind: "function", ...asCall(`${prefix}${name}(${args})$0`, next), detail, documentation });
  const { row } = place;
  if (row === null && place.parameterOf(frames.length - 1)?.kind === "ordering") return [offer("desc", '"$1"', "from the largest down", "The rows with the largest values first.")];
  if (row === null && frames.some((_, frame) => place.parameterOf(frame)?.kind === "aggregates")) {
    return [...vocabulary.aggregates.values()].map(({ name, of, numbers, help }) => {
      const args = [...(of === "none" ? [] : ['"$1"']), ...numbers.map((number, i) => `\${${i + 2}:${(number.least + number.most) / 2}}`)];
      return offer(name, args.join(", "), of === "none" ? "of the rows" : `of a column of ${of === "any" ? "any kind" : `${of}s`}`, helpMarkdown(help));
    });
  }
  return [...vocabulary.rowFunctions.values()].map(({ name, parameters, help }) => {
    const needed = parameters.filter((parameter) => parameter.optional !== true);
    const args = needed.map((parameter, i) => {
      if (i === 0 && row !== null) return `${plainSnippet(row.name)}.$1`;
      return parameter.kind === "text" || name === "any_of" ? `"$${i + 1}"` : `\${${i + 1}:${parameter.name}}`;
    });
    return offer(name, args.join(", "), parameters.map((parameter) => parameter.name).join(", "), helpMarkdown(help));
  });
}

/** Strings right between the brackets of a frame, before the cursor: what was named there already. */
export function writtenIn({ context: { before, frames } }: QueryPlace, frame: number): readonly string[] {
  return before.slice(frames[frame]!.at + 1).flatMap((piece) => (piece.kind === "string" ? [textOfString(piece)] : []));
}

/** What a name of the language is for, with an example, in Markdown. */
export function helpMarkdown({ summary, example }: Help): string {
  return `${escaped(summary)}\n\n${codeBlock(example, "js")}`;
}

/** A text as it stands between quotes of the given kind. */
export function inQuotes(text: string, quote: string): string {
  const json = JSON.stringify(text).slice(1, -1);
  return quote === "'" ? json.replaceAll('\\"', '"').replaceAll("'", "\\'") : json;
}

/** A table to join or draw: another cell's, or `shots`. */
export function likelyTable(view: NotebookView, cell: number, surroundings: QuerySurroundings): string {
  return namesOfTables(view, cell, surroundings).find((name) => name !== "shots") ?? "shots";
}

/** True for a table that is known to have all of the columns. */
export function hasColumns(schema: Schema | undefined, needs: readonly string[]): boolean {
  return schema !== undefined && needs.every((need) => schema.columns.some(({ name }) => name === need));
}
