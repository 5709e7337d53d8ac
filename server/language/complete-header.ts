import { headerKind, splitHeader, type HeaderPiece } from "../../core/notebook/header-text";
import type { Suggestion } from "./answers";
import type { NotebookView } from "./notebook-view";

/** What each attribute of a first line says. */
export const attributeHelp: Readonly<Record<string, string>> = {
  query: "The cell is a query of this name; other cells use its result by it.",
  chart: "The cell is a chart of this name, written in Vega-Lite.",
  table: "The table that the chart draws: a cell that gives one, or shots.",
  description: "What the chart shows, for those who do not see it.",
};

/** What can stand at `offset` in the first line of a query or chart cell. */
export function completeHeader(view: NotebookView, cell: number, offset: number): readonly Suggestion[] {
  const { text, kind } = view.cells[cell]!;
  const end = text.indexOf("\n");
  const line = end < 0 ? text : text.slice(0, end);
  if (offset > line.length) return [];
  const pieces = splitHeader(line);
  const piece = pieces.find(({ from, to }) => from <= offset && offset <= to);
  const isValue = piece !== undefined && piece.name !== null && offset > piece.from + piece.name.length;
  if (isValue) return values(view, cell, piece, offset);
  const header = headerKind(line);
  const replace = piece === undefined ? { from: offset, to: offset } : { from: piece.from, to: piece.from + (piece.name?.length ?? piece.to - piece.from) };
  const hasSign = piece !== undefined && piece.name !== null;
  const isOwn = (one: HeaderPiece): boolean => one !== piece;
  const given = new Set(pieces.filter(isOwn).map(({ name }) => name));
  if (header === null) return piece !== undefined && piece.to < line.length ? [] : firstLines(view, kind === "chart", replace);
  // What begins the line says what the cell is.
  const possible = (header === "chart" ? ["chart", "table", "description"] : ["query"]).filter((name) => !given.has(name));
  return possible.map((name): Suggestion => {
    const snippet = name === "description" ? `description="\${1:${generated(view, cell)}}"` : name === "table" ? "table=${1:shots}" : `${name}=\${1:${freeName(view, name)}}`;
    return { label: name, kind: "key", replace, insert: hasSign ? name : snippet, detail: attributeHelp[name]!, ...(hasSign ? {} : { isSnippet: true as const }) };
  });
}

function firstLines(view: NotebookView, chartFirst: boolean, replace: Suggestion["replace"]): readonly Suggestion[] {
  const query: Suggestion = { label: "query=", kind: "key", replace, insert: `query=\${1:${freeName(view, "query")}}`, isSnippet: true, detail: attributeHelp["query"]!, rank: 4 };
  const chart: Suggestion = { label: "chart=", kind: "key", replace, insert: `chart=\${1:${freeName(view, "chart")}} table=\${2:shots} description="$3"`, isSnippet: true, detail: attributeHelp["chart"]!, rank: 4 };
  return chartFirst ? [chart, query] : [query, chart];
}

function values(view: NotebookView, cell: number, piece: HeaderPiece, offset: number): readonly Suggestion[] {
  const quote = piece.to > piece.valueFrom && piece.valueFrom < offset ? quoteAt(view.cells[cell]!.text, piece.valueFrom) : "";
  const replace = { from: piece.valueFrom + quote.length, to: quote !== "" && piece.closed ? piece.to - 1 : piece.to };
  if (offset < replace.from || offset > replace.to) return [];
  if (piece.name === "table") {
    const { tables, tableNames } = view.surroundingsOf(cell);
    return tableNames()
      .filter((name) => name !== "shots" || view.sources.shots !== null)
      .map((name): Suggestion => {
        const schema = tables.get(name);
        return { label: name, kind: "cell", replace, insert: name, detail: schema === undefined ? "a table" : `${schema.columns.length} columns`, rank: name === "shots" ? 0 : 1 };
      });
  }
  if (piece.name === "query" || piece.name === "chart") {
    const name = freeName(view, piece.name);
    return piece.value === "" ? [{ label: name, kind: "cell", replace, insert: name, detail: "a name that is free" }] : [];
  }
  if (piece.name === "description" && piece.value === "") {
    const words = generated(view, cell);
    return words === "" ? [] : [{ label: words, kind: "word", replace, insert: quote === "" ? `"${words}"` : words, detail: "what the chart draws" }];
  }
  return [];
}

function quoteAt(text: string, at: number): string {
  return text[at] === '"' || text[at] === "'" ? text[at] : "";
}

/** The description that the checked chart would get, as it can stand between quotes in a first line and in a snippet. */
function generated(view: NotebookView, cell: number): string {
  return (view.cells[cell]!.checked.chart?.generated ?? "").replace(/["\\$}]/gu, "'");
}

/** A name that no cell has yet. */
function freeName(view: NotebookView, kind: string): string {
  const base = kind === "chart" ? "picture" : "table";
  const taken = new Set(view.notebook.cells.map((cell) => cell.name));
  for (let n = 1; ; n++) {
    const name = `${base}_${n}`;
    if (!taken.has(name)) return name;
  }
}
