import { inFirstLine } from "../../core/chart/describe-chart";
import { freeNames, takenNames } from "../../core/notebook/cell-names";
import { attributesOf, headerAttributeHelp } from "../../core/notebook/header-attributes";
import { whyNotAName } from "../../core/query/names";
import type { Suggestion } from "./answers";
import { columnsInBrief, schemaInWords } from "./cell-words";
import { plainSnippet } from "./chart-snippets";
import { headerPlace, type HeaderPlace } from "./header-line";
import { escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";

/** Characters of a list of columns. */
const mostColumns = 300;

/** What can stand at `offset` in the first line of a query or chart cell; nothing beyond that line. */
export function completeHeader(view: NotebookView, cell: number, offset: number): readonly Suggestion[] {
  const place = headerPlace(view.cells[cell]!.text, offset);
  if (place === null) return [];
  if (place.kind === null) return firstLine(view, cell, place, offset);
  if (place.at === "value") return valuesAt(view, cell, place, offset);
  return attributesAt(view, cell, place, offset);
}

/** What an attribute says, in words; "" for one that means nothing. */
export function attributeHelp(kind: "query" | "chart", name: string): string {
  const help: Readonly<Record<string, string>> = headerAttributeHelp[kind];
  return Object.hasOwn(help, name) ? help[name]! : "";
}

/** A whole first line where there is none: on an empty line, for a word that is begun, or above a body. */
function firstLine(view: NotebookView, cell: number, { line, span }: HeaderPlace, offset: number): readonly Suggestion[] {
  const isWord = /^\s*[a-z]*\s*$/u.test(line) && !/\S\s/u.test(line.slice(0, offset));
  if (!isWord && offset !== 0) return [];
  const own = view.cells[cell]!.kind === "chart" ? "chart" : "query";
  const table = tablesFor(view, cell)[0] ?? "shots";
  const replace = isWord && line.trim() !== "" ? span : { from: offset, to: offset };
  // The line decides what the cell is, whatever it was made as.
  return ([own, own === "chart" ? "query" : "chart"] as const).map((kind, rank): Suggestion => {
    const rest = kind === "chart" ? ` table=\${2:${plainSnippet(table)}} description="$3"` : "";
    const insert = `${kind}=\${1:${freeName(view, kind)}}${rest}${isWord ? "" : "\n"}`;
    return { label: `${kind}=`, kind: "key", replace, insert, isSnippet: true, detail: attributeHelp(kind, kind), rank };
  });
}

function attributesAt(view: NotebookView, cell: number, { kind, line, pieces, piece, at, span }: HeaderPlace, offset: number): readonly Suggestion[] {
  if (kind === null) return [];
  const isBefore = piece !== null && piece.name !== null && offset === piece.from;
  const isRenamed = at === "name" && piece?.name !== null && !isBefore;
  const given = new Set(pieces.flatMap((each) => (isRenamed && each === piece ? [] : [each.name])));
  const replace = isBefore ? { from: offset, to: offset } : span;
  const isTight = at === "gap" && /\S/u.test(line[offset - 1] ?? " ");
  return attributesOf(kind)
    .filter((name) => !given.has(name) && name !== kind)
    .map((name): Suggestion => {
      const base = { label: name, kind: "key" as const, replace, detail: attributeHelp(kind, name) };
      if (isRenamed) return { ...base, insert: name };
      const insert = `${isTight ? " " : ""}${attributeSnippet(view, cell, name)}${isBefore ? " " : ""}`;
      return { ...base, insert, isSnippet: true };
    });
}

function attributeSnippet(view: NotebookView, cell: number, name: string): string {
  if (name === "table") return `table=\${1:${plainSnippet(tablesFor(view, cell)[0] ?? "shots")}}`;
  return name === "description" ? `description="\${1:${plainSnippet(describedAs(view, cell) ?? "")}}"` : `${name}=$1`;
}

function valuesAt(view: NotebookView, cell: number, place: HeaderPlace, offset: number): readonly Suggestion[] {
  const { kind, piece, span, quote } = place;
  const close = quote !== "" && piece?.closed === false ? quote : "";
  switch (piece?.name) {
    case "table": {
      // Of a quote that is not closed yet, the next one closes what is not meant: only the word at the cursor is replaced.
      const replace = quote === "" ? span : wordAt(place.line, offset, span);
      return tablesFor(view, cell).map((name) => tableOffer(view, cell, name, `${name}${close}`, replace));
    }
    case "description": {
      const words = describedAs(view, cell);
      if (words === null) return [];
      return [{ label: words, kind: "word", replace: span, insert: quote === "" ? `"${words}"` : `${quote === "'" ? words.replaceAll("'", "\u2019") : words}${close}`, detail: "what is drawn", filter: quote === "" ? words : place.line.slice(span.from, span.to) }];
    }
    case "query":
    case "chart":
      if (piece.name !== kind) return [];
      return namesFor(view, cell, kind).map((name): Suggestion => ({ label: name, kind: "cell", replace: span, insert: `${name}${close}`, detail: "a name that is free" }));
    default:
      return [];
  }
}

function tableOffer(view: NotebookView, cell: number, name: string, insert: string, replace: Suggestion["replace"]): Suggestion {
  const schema = view.surroundingsOf(cell).tables.get(name);
  const known = schema === undefined ? {} : { detail: schemaInWords(schema), documentation: escaped(columnsInBrief(schema.columns, mostColumns)) };
  return { label: name, kind: "cell", replace, insert, ...known };
}

/** Tables that a cell can draw: those of `shots` and of other cells, but not of one that needs this cell itself. */
function tablesFor(view: NotebookView, cell: number): readonly string[] {
  const after = cellsAfter(view, cell);
  const isAfter = (name: string): boolean => view.checked.cells.some((each) => after.has(each.index) && each.name === name);
  return view.surroundingsOf(cell).tableNames().filter((name) => !isAfter(name) && (name !== "shots" || view.notebook.front.shots.length > 0));
}

/** The cells that need a cell, directly or through others. */
function cellsAfter(view: NotebookView, cell: number): ReadonlySet<number> {
  const after = new Set([cell]);
  // Reaches as far as the longest chain; each round adds a cell or is the last.
  for (let size = 0; size < after.size; ) {
    size = after.size;
    for (const { index, needs } of view.checked.cells) if (needs.some((each) => after.has(each))) after.add(index);
  }
  return after;
}

/** Names that a cell can have: those that other cells use and no cell has, and one that is made. */
function namesFor(view: NotebookView, cell: number, kind: "query" | "chart"): readonly string[] {
  const names = new Set(["shots", ...view.notebook.cells.filter(({ index }) => index !== cell).map(({ name }) => name)]);
  const wanted = kind === "chart" ? [] : view.checked.cells.filter(({ index }) => index !== cell).flatMap(({ references }) => references.map(({ name }) => name));
  return [...new Set([...wanted.filter((name) => !names.has(name) && whyNotAName(name) === null), freeName(view, kind)])];
}

function freeName(view: NotebookView, kind: "query" | "chart"): string {
  return freeNames(kind, takenNames(view.cells)).next().value;
}

/** What is drawn, as it can stand between double quotes of a first line; `null` while that is not known. */
function describedAs(view: NotebookView, cell: number): string | null {
  const { chart } = view.cells[cell]!.checked;
  return chart?.fieldsKnown === true ? inFirstLine(chart.generated) : null;
}

function wordAt(line: string, offset: number, { from, to }: Suggestion["replace"]): Suggestion["replace"] {
  const before = /[\p{ID_Continue}]*$/u.exec(line.slice(from, offset))![0].length;
  const after = /^[\p{ID_Continue}]*/u.exec(line.slice(offset, to))![0].length;
  return { from: offset - before, to: offset + after };
}
