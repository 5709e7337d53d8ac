import type { CheckedCell } from "../../core/check-notebook";
import { parseQuery } from "../../core/query/parse-query";
import type { CellSyntax } from "../../core/query/syntax";
import type { Limits } from "../../core/limits";
import type { ReadCell } from "../../core/read-cells";
import type { Source } from "../../core/notebook-sources";
import { nothingKnown } from "../../core/table/schema";
import type { TextRange } from "../../core/text-position";
import { fieldsMade, isJson, namesOfChart } from "./chart-names";
import { originsMade, originsOfShots, unknownOrigins, type Scope } from "./column-origins";
import { choicesDeclared } from "./named-choices";
import type { NotebookView } from "./notebook-view";
import type { Occurrence, Role } from "./occurrence";
import { namesOfQuery } from "./query-names";
import type { CellNames } from "./query-reading";
import { stepsOf } from "./query-steps";
import { scanNames } from "./scan-names";
import type { WrittenName } from "./written-name";

export type { Occurrence, Role };

/** The names in a cell's text, each where it stands, in the order of the text: of front matter the choices that it names, none for prose. */
export function occurrencesOf(view: NotebookView, cell: number): readonly Occurrence[] {
  return namesOf(view, cell).names;
}

const noNames: CellNames = { names: [], result: null, tables: [], additions: [], lookers: [], merged: [], shared: [], choosesUnwritten: false, fieldsMade: [] };

const known = new WeakMap<NotebookView, Map<number, CellNames>>();

/** The names in a cell, with what was met on the way to them. Computed once a version, together with the cells it needs. */
export function namesOf(view: NotebookView, cell: number): CellNames {
  const cells = known.get(view) ?? new Map<number, CellNames>();
  known.set(view, cells);
  const found = cells.get(cell);
  if (found !== undefined) return found;
  // Cells in a cycle are read without what they need of one another.
  const open = [cell];
  const entered = new Set<number>();
  for (let next = open.at(-1); next !== undefined; next = open.at(-1)) {
    const needs = entered.has(next) ? [] : (view.cells[next]?.checked.needs ?? []).filter((need) => !cells.has(need) && !entered.has(need));
    entered.add(next);
    if (needs.length > 0) {
      open.push(...needs);
      continue;
    }
    open.pop();
    if (!cells.has(next)) cells.set(next, readNames(view, next, cells));
  }
  return cells.get(cell)!;
}

function readNames(view: NotebookView, index: number, cells: ReadonlyMap<number, CellNames>): CellNames {
  if (index === view.notebook.frontIndex && index >= 0) return { ...noNames, names: choicesDeclared(view) };
  const cell = readCellOf(view, index);
  const checked = view.cells[index]?.checked;
  if (cell === undefined || checked === undefined) return noNames;
  const header = headerNames(cell);
  const tableOf = (name: string): Scope => scopeOf(view, name, index, cells);
  if (cell.kind === "chart") {
    const table = cell.header?.table ?? null;
    const scope = table === null ? { schema: nothingKnown, origins: unknownOrigins } : tableOf(table);
    const names = [...header, ...namesOfChart(cell, checked.chart, scope)];
    return { ...noNames, names, tables: [scope.origins], fieldsMade: fieldsMade(cell.text, cell.bodyOffset) };
  }
  const surroundings = view.surroundingsOf(index);
  const syntax = syntaxOf(checked, cell, surroundings.limits);
  if (syntax === null) return { ...noNames, names: [...header, ...scanNames(cell.text, cell.bodyOffset, index, surroundings)] };
  const found = namesOfQuery(syntax, {
    index,
    text: cell.text,
    vocabulary: surroundings.vocabulary,
    stepsOf: stepsOf(cell.text, checked.query, surroundings),
    tableOf,
    sessionsAt: (path) => scopeOfSource(view.sources.byPath.get(path)),
  });
  return { ...found, names: [...header, ...found.names] };
}

/** The query or chart cell at a place of the notebook, as it was read by itself. */
export function readCellOf(view: NotebookView, index: number): ReadCell | undefined {
  return cellsByIndex(view).get(index);
}

const byIndex = new WeakMap<NotebookView, ReadonlyMap<number, ReadCell>>();

function cellsByIndex(view: NotebookView): ReadonlyMap<number, ReadCell> {
  const before = byIndex.get(view);
  if (before !== undefined) return before;
  const cells = new Map(view.notebook.cells.map((cell) => [cell.index, cell]));
  byIndex.set(view, cells);
  return cells;
}

const parsed = new WeakMap<object, { readonly text: string; readonly syntax: CellSyntax | null }>();

/** The syntax of a query cell, parsed once as long as its check holds; `null` when it cannot be parsed. */
function syntaxOf(checked: CheckedCell, { text, bodyOffset }: ReadCell, limits: Limits): CellSyntax | null {
  // The check of a cell that has not changed gives the same query as before.
  const key = checked.query ?? checked;
  const before = parsed.get(key);
  if (before?.text === text) return before.syntax;
  const syntax = parseQuery(text, bodyOffset, limits).value;
  parsed.set(key, { text, syntax });
  return syntax;
}

/** True for a cell whose names can be told only in part: one that cannot be parsed, or that has merge markers. */
export function isBroken(view: NotebookView, index: number): boolean {
  const cell = readCellOf(view, index);
  const checked = view.cells[index]?.checked;
  if (cell === undefined || checked === undefined) return checked?.kind === "conflict";
  if (cell.kind === "chart") return checked.chart === null && !isJson(cell.text, cell.bodyOffset);
  return syntaxOf(checked, cell, view.surroundingsOf(index).limits) === null;
}

function scopeOf(view: NotebookView, name: string, own: number, cells: ReadonlyMap<number, CellNames>): Scope {
  const cell = view.notebook.cells.find((each) => each.isNamed && each.name === name);
  if (cell === undefined) return name === "shots" ? scopeOfSource(view.sources.shots ?? undefined) : { schema: nothingKnown, origins: unknownOrigins };
  const schema = view.cells[cell.index]?.checked.schema ?? nothingKnown;
  const origins = cell.index === own ? undefined : cells.get(cell.index)?.result?.origins;
  return { schema, origins: origins ?? (schema === nothingKnown ? unknownOrigins : originsMade(schema, `${cell.index}:0`)) };
}

function scopeOfSource(source: Source | undefined): Scope {
  const schema = source?.schema ?? null;
  const files = (source?.files ?? []).map(({ path }) => path).filter((path) => path.endsWith(".session.yaml"));
  return { schema: schema ?? nothingKnown, origins: originsOfShots(schema, files) };
}

/** The names in a cell's header line: its own, and the table of a chart. */
function headerNames({ header, kind }: ReadCell): readonly WrittenName[] {
  if (header === null) return [];
  const named = (name: string, { start, end }: TextRange, isDeclaration: boolean): WrittenName[] => {
    const span = { from: start.column - 1, to: end.column - 1 };
    if (span.from >= span.to) return [];
    return [{ ...span, role: "cell", name, symbol: `cell:${name}`, isDeclaration, form: "bare", whole: span, ending: "", files: [] }];
  };
  const own = named(header.name, header.nameRange, true);
  const table = kind === "chart" && header.table !== null && header.tableRange !== null ? named(header.table, header.tableRange, false) : [];
  return [...own, ...table].sort((a, b) => a.from - b.from);
}
