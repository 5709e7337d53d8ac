import { oneOf, problemKind as kind, shown } from "../problem-kind";

const attributes = 'query=NAME, or chart=NAME table=NAME description="…"';

/** What can be wrong with the text of a notebook, the header lines of its cells and its front matter. */
export const notebookProblems = {
  "nb.too-large": kind(
    "error",
    (f: { length: number; most: number }) => `this notebook has ${f.length} characters`,
    (f) => `at most ${f.most} characters are read as a notebook: open it as text, and split it`,
  ),
  "nb.too-many-cells": kind(
    "error",
    (f: { count: number; most: number }) => `this notebook has ${f.count} cells`,
    (f) => `at most ${f.most} cells: split it`,
  ),
  "nb.newer-format": kind(
    "error",
    (f: { format: string }) => `this notebook is of format ${f.format}, and only format 1 is known here`,
    () => "update Fairstrike, or open the file as text",
  ),
  "nb.unclosed-fence": kind(
    "error",
    () => "this cell is never closed and goes on to the end of the file",
    (): string => "close it with a line of the same three or more ` or ~ that it begins with",
  ),
  "nb.unclosed-front": kind(
    "warning",
    () => "the front matter that seems to begin here is never closed, so it is read as text",
    () => "close it with a line ---",
  ),
  "nb.front-not-first": kind(
    "warning",
    () => "this looks like front matter, and is read as text since it is not at the very beginning",
    () => "leave out the blank lines above it",
  ),
  "nb.not-a-cell": kind(
    "info",
    (f: { line: string }) => `${shown(f.line)} looks like a cell and is read as text`,
    () => "a cell stands outside of lists and quotations, and its first line is, in lower case, ```js query=NAME or ```json chart=NAME table=NAME",
  ),
  "nb.conflict": kind(
    "error",
    () => "this part has merge markers in it and cannot run",
    () => "keep our lines, their lines or both, and leave the markers out",
  ),
  "nb.stray-marker": kind(
    "warning",
    (f: { marker: string }) => `${shown(f.marker)} looks like a merge marker that was left over`,
    () => "leave the line out",
  ),

  "nb.no-header": kind(
    "warning",
    () => "this cell has no name yet",
    () => `its first line is ${attributes}; saving adds one`,
  ),
  "nb.header-slip": kind(
    "error",
    (f: { line: string; instead: string }) => `${shown(f.line)} does not name this cell`,
    (f) => `did you mean ${f.instead}? the first line of a cell is ${attributes}`,
  ),
  "nb.two-kinds": kind(
    "error",
    (f: { first: string; second: string }) => `a cell is ${f.first}= or ${f.second}=, not both; it is read as ${f.first}=`,
    () => `the first line of a cell is ${attributes}`,
  ),
  "nb.bad-name": kind(
    "error",
    (f: { name: string; reason: string }) => `a cell cannot be called ${shown(f.name)}: ${f.reason}`,
    () => "a name is letters, digits and _, and begins with no digit: gap, carry_by_head",
  ),
  "nb.bad-table": kind(
    "error",
    (f: { name: string }) => `${shown(f.name)} cannot be the name of a table`,
    () => "table= names a query cell, or shots",
  ),
  "nb.no-table": kind(
    "error",
    () => "this chart names no table to draw",
    () => "write table=NAME in its first line: the name of a query cell, or shots",
  ),
  "nb.unknown-attribute": kind(
    "warning",
    (f: { name: string; nearest: string | undefined; known: readonly string[] }) => `${shown(f.name)} means nothing here; it is kept`,
    (f) => `${f.nearest === undefined ? "" : `did you mean ${f.nearest}? `}this cell can have ${oneOf(f.known)}`,
  ),
  "nb.duplicate-attribute": kind(
    "error",
    (f: { name: string }) => `${shown(f.name)} is already there; this one is not read`,
    () => "keep one of the two",
  ),
  "nb.unclosed-quote": kind(
    "error",
    (f: { quote: string }) => `the quote ${f.quote} is never closed on this line`,
    () => 'close it; between double quotes \\" stands for a quote',
  ),
  "nb.stray-word": kind(
    "warning",
    (f: { word: string }) => `${shown(f.word)} means nothing here; it is kept`,
    () => `a header line is ${attributes}; a value with spaces is quoted`,
  ),

  "nb.second-front": kind(
    "warning",
    () => "there is front matter above this one, and that one holds",
    () => "move what is still wanted there; saving keeps this as a block of text",
  ),
  "nb.not-a-map": kind(
    "error",
    () => "the front matter is not a list of `key: value` lines",
    () => "write one key a line: title: Three irons",
  ),
  "nb.unknown-key": kind(
    "warning",
    (f: { key: string; nearest: string | undefined; known: readonly string[] }) => `${shown(f.key)} means nothing in the front matter; it is kept`,
    (f) => `${f.nearest === undefined ? "" : `did you mean ${f.nearest}? `}accepted are ${oneOf(f.known)}`,
  ),
  "nb.value": kind(
    "error",
    (f: { key: string; found: string; accepted: string }) =>
      f.found === "" ? `${f.key} has no value that can be read` : `${f.key} cannot be ${shown(f.found)}`,
    (f) => `${f.key} is ${f.accepted}`,
  ),
  "nb.choice-name": kind(
    "error",
    (f: { name: string }) => `a choice cannot be called ${shown(f.name)}`,
    () => "a name is letters, digits and _, and begins with no digit: head, carry_window",
  ),
  "nb.choice-key": kind(
    "error",
    (f: { name: string; key: string; nearest: string | undefined; known: readonly string[] }) => `${shown(f.key)} means nothing in the choice ${f.name}`,
    (f) => `${f.nearest === undefined ? "" : `did you mean ${f.nearest}? `}a choice has ${oneOf(f.known)}`,
  ),
  "nb.choice-column": kind(
    "error",
    (f: { name: string; column: string; nearest: string | undefined; known: readonly string[] }) => `no table here has the column ${shown(f.column)} that ${f.name} is of`,
    (f) => `${f.nearest === undefined ? "" : `did you mean ${f.nearest}? `}columns here are ${oneOf(f.known, 40)}`,
  ),
  "nb.choice-value": kind(
    "warning",
    (f: { name: string; column: string; value: string; nearest: string | undefined; known: readonly string[] }) => `no row has ${shown(f.value)} in the column ${f.column}`,
    (f) => `${f.nearest === undefined ? "" : `did you mean ${f.nearest}? `}values there are ${oneOf(f.known, 12)}, or any`,
  ),
  "nb.choice-unused": kind(
    "info",
    (f: { name: string; how: string }) => `no cell uses the choice ${f.name}`,
    (f) => `a cell uses it as ${f.how}`,
  ),
  "nb.duplicate-session": kind(
    "error",
    (f: { path: string }) => `${shown(f.path)} is already there; its shots count once`,
    () => "keep one of the two",
  ),
  "nb.margin-column": kind(
    "error",
    (f: { name: string; nearest: string | undefined; known: readonly string[] }) => `${shown(f.name)} is no column that can have a margin`,
    (f) => `${f.nearest === undefined ? "" : `did you mean ${f.nearest}? `}a margin is for a shot column with a unit: ${oneOf(f.known, 8)}`,
  ),
  "nb.margin": kind(
    "error",
    (f: { name: string; found: string; example: string }) => `the margin of ${f.name} cannot be ${shown(f.found)}`,
    (f) => `a number above 0 with its unit: ${f.name}: ${f.example}`,
  ),
} as const;
