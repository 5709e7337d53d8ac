import { laidOpen } from "../../core/chart/shape-at";
import type { Properties, Shape } from "../../core/chart/shape";
import { bodyOffset } from "../../core/notebook/read-header";
import { freeNames, takenNames } from "../../core/notebook/cell-names";
import type { Span } from "../../core/query/syntax";
import type { Schema } from "../../core/table/schema";
import type { Suggestion } from "./answers";
import type { NotebookView } from "./notebook-view";

/** What a value is likely to be, of several that are accepted. */
const usual: ReadonlySet<string> = new Set(["point", "nominal", "linear", "mean"]);

/** Numbers that are usual behind a key, in pixels, shares or counts; elsewhere the least from 1 on that is accepted. */
const usualNumbers: ReadonlyMap<string, number> = new Map([
  ["width", 400], ["height", 300], ["size", 60], ["fontSize", 12], ["labelFontSize", 12], ["titleFontSize", 13], ["strokeWidth", 2],
  ["opacity", 0.7], ["fillOpacity", 0.7], ["strokeOpacity", 0.7], ["tickCount", 6], ["maxbins", 20], ["columns", 3], ["spacing", 20],
  ["padding", 10], ["labelLimit", 200], ["titleLimit", 300], ["limit", 300], ["labelAngle", 0],
]);

/** The same for the sizes of a mark, which are those of a bar or a tick. */
const barWidth = 12;

/** Columns by the path to where they stand, the likeliest first. */
type ColumnsAt = (path: readonly string[]) => readonly string[];

/** Text with nothing in it that a snippet would take for a mark of its own. */
export function plainSnippet(text: string): string {
  return text.replace(/[\\$}]/gu, "\\$&");
}

/**
 * A value of the first of these shapes that is not `null`, as a snippet that is accepted as it stands.
 *
 * @param path the keys to it, which decide which columns come first.
 */
export function valueSnippet(shape: Shape, path: readonly string[], columnsAt: ColumnsAt): string {
  const alternatives = laidOpen(shape);
  const first = alternatives.find((each) => each.is !== "null") ?? alternatives[0];
  switch (first?.is) {
    case "object":
      return objectSnippet(first.of, path, columnsAt);
    case "list":
      return `[${valueSnippet(first.of, path, columnsAt)}]`;
    case "transforms":
      return "[{ $1 }]";
    case "choice":
      return inQuotes(first.of.find((word) => usual.has(word)) ?? first.of[0] ?? "");
    case "column":
      return inQuotes(columnsAt(path)[0] ?? "");
    case "new column":
      return inQuotes("made");
    case "pattern":
      return inQuotes(/"([^"]+)"/u.exec(first.what)?.[1] ?? "");
    case "words":
      return '"$1"';
    case "truth":
      return "${1:true}";
    case "number":
      return `\${1:${usualNumber(path, first)}}`;
    default:
      return "null";
  }
}

function usualNumber(path: readonly string[], { least, most }: Extract<Shape, { is: "number" }>): number {
  const [around, key = ""] = [path.at(-2), path.at(-1)];
  // A fixed value of a channel is one of what the channel draws.
  const named = key === "value" ? around : key;
  const usualOne = around === "mark" && (key === "width" || key === "height") ? barWidth : usualNumbers.get(named ?? "");
  return Math.min(most, Math.max(least, usualOne ?? 1));
}

function objectSnippet(of: Properties, path: readonly string[], columnsAt: ColumnsAt): string {
  const part = (key: string): string => `"${key}": ${valueSnippet(of[key]!, [...path, key], columnsAt)}`;
  if (Object.hasOwn(of, "mark")) return `{ ${part("mark")} }`;
  if (Object.hasOwn(of, "op") && Object.hasOwn(of, "as")) return '{ "op": "count", "as": "${1:made}" }';
  if (Object.hasOwn(of, "valid")) return `{ ${part("field")}, "valid": true }`;
  if (Object.hasOwn(of, "field")) return `{ ${part("field")} }`;
  return Object.hasOwn(of, "filled") && Object.hasOwn(of, "type") ? `{ ${part("type")} }` : "{ $1 }";
}

function inQuotes(text: string): string {
  const json = JSON.stringify(text);
  return text === "" ? '"$1"' : `"\${1:${plainSnippet(json.slice(1, -1))}}"`;
}

/** A whole chart: what it answers, what it shows, the columns it wants, and its specification. */
interface WholeChart {
  readonly question: string;
  readonly description: string;
  readonly columns: readonly string[];
  readonly parts: readonly string[];
}

const byHead = ['    "color": { "field": "head" },', '    "shape": { "field": "head" }'];

const wholeCharts: readonly WholeChart[] = [
  {
    question: "where did the shots land, by head?",
    description: "Carry of each shot against how far left or right it landed, by head.",
    columns: ["offline", "carry", "head"],
    parts: ['  "mark": "point",', '  "encoding": {', '    "x": { "field": "offline" },', '    "y": { "field": "carry" },', ...byHead, "  }"],
  },
  {
    question: "where on the face were the shots struck?",
    description: "Where on the face each shot was struck, from heel to toe and from low to high, one panel a head.",
    columns: ["strike_x", "strike_y", "head"],
    parts: ['  "mark": "point",', '  "encoding": {', '    "x": { "field": "strike_x" },', '    "y": { "field": "strike_y" },', '    "column": { "field": "head" }', "  }"],
  },
  {
    question: "how are the values of a column spread?",
    description: "How many shots had which carry, one panel a head.",
    columns: ["carry", "head"],
    parts: ['  "mark": "bar",', '  "encoding": {', '    "x": { "field": "${1:carry}", "bin": true },', '    "y": { "aggregate": "count" },', '    "row": { "field": "head" }', "  }"],
  },
  {
    question: "how did a column go from shot to shot?",
    description: "Ball speed of each shot in hitting order, by head.",
    columns: ["shot", "ball_speed", "head"],
    parts: ['  "mark": "point",', '  "encoding": {', '    "x": { "field": "shot" },', '    "y": { "field": "${1:ball_speed}" },', ...byHead, "  }"],
  },
];

/**
 * Whole charts for an empty cell, those of which the table has the columns; with a first line where there is none, and
 * with a description where the first line has none.
 */
export function wholeChartsFor(view: NotebookView, cell: number, schema: Schema, replace: Span): readonly Suggestion[] {
  const { text, checked } = view.cells[cell]!;
  const { header } = checked;
  const has = (name: string): boolean => schema.open || schema.columns.some((column) => column.name === name);
  if (header === null && (bodyOffset(text) > 0 || text.slice(0, replace.from).includes("\n"))) return [];
  const name = freeNames("chart", takenNames(view.cells)).next().value;
  return wholeCharts
    .filter(({ columns }) => columns.every(has))
    .map(({ question, description, parts }): Suggestion => {
      const first = header === null ? [`chart=\${2:${name}} table=\${3:shots} description="${description}"`] : [];
      const says = header !== null && (header.description ?? "").trim() === "" ? [`  "description": ${JSON.stringify(description)},`] : [];
      const insert = [...first, "{", ...says, ...parts, "}"].join("\n");
      return { label: question, kind: "snippet", replace, insert, isSnippet: true, detail: "a whole chart" };
    });
}
