import { checkChart, type CheckedChart } from "./chart/check-chart";
import { contentKey } from "./content-key";
import type { Limits } from "./limits";
import type { CellKind, FrontMatter, NotebookDocument } from "./notebook/document";
import type { CellHeader } from "./notebook/document";
import { readFrontMatter } from "./notebook/read-front-matter";
import { bodyOffset, readHeader } from "./notebook/read-header";
import type { Source, Sources } from "./notebook-sources";
import { hasError, problem, type Problem } from "./problem";
import { orderCells } from "./query/cell-graph";
import { checkQuery, type CheckedQuery } from "./query/check-query";
import { referencesOf } from "./query/references";
import type { Vocabulary } from "./query/vocabulary";
import type { Schema } from "./table/schema";
import type { TextRange } from "./text-position";
import { textStart } from "./text-position";

/** A cell that was checked: what it is, what it needs, what it will give, and what is wrong with it. */
export interface CheckedCell {
  readonly index: number;
  readonly kind: CellKind;
  readonly name: string;
  readonly header: CellHeader | null;
  readonly query: CheckedQuery | null;
  readonly chart: CheckedChart | null;
  /** Names of the cells whose results it uses, each once. */
  readonly needs: readonly string[];
  /** What is known of the table it gives; `null` when it gives none or nothing is known. */
  readonly schema: Schema | null;
  /** Problems in the cell's text. */
  readonly problems: readonly Problem[];
  /** Equal as long as text, settings and everything it needs are equal; `null` when it cannot run. */
  readonly key: string | null;
}

/** A notebook that was checked without running anything. */
export interface CheckedNotebook {
  readonly front: FrontMatter;
  readonly cells: readonly CheckedCell[];
  /** Indexes of the query and chart cells, each after the cells it needs. */
  readonly order: readonly number[];
  /** Problems in session files and exports; each names its file. */
  readonly fileProblems: readonly Problem[];
}

interface Draft {
  readonly index: number;
  readonly text: string;
  readonly header: CellHeader;
  readonly references: readonly { readonly name: string; readonly range: TextRange }[];
  readonly paths: readonly { readonly path: string; readonly range: TextRange }[];
}

/**
 * Checks every cell of a notebook against the tables it names: the same check in the editor, on the command line and
 * before a run.
 */
export function checkNotebook(
  document: NotebookDocument,
  sources: Sources,
  vocabulary: Vocabulary,
  limits: Limits,
): CheckedNotebook {
  const frontIndex = document.cells.findIndex((cell) => cell.kind === "front");
  const front = readFrontMatter(document.cells[frontIndex]?.text ?? "");
  const problems = document.cells.map((): Problem[] => []);
  problems[frontIndex]?.push(...front.problems, ...sources.frontProblems);
  for (const [index, found] of sources.cellProblems) problems[index]!.push(...found);

  const drafts: Draft[] = [];
  for (const [index, cell] of document.cells.entries()) {
    if (cell.kind === "conflict") problems[index]!.push(problem("nb.conflict", {}, firstLine(cell.text)));
    if (cell.kind !== "query" && cell.kind !== "chart") continue;
    if (cell.text.length > limits.cellText) {
      problems[index]!.push(problem("run.cell-too-long", { length: cell.text.length, most: limits.cellText }, firstLine(cell.text)));
      continue;
    }
    const read = readHeader(cell.text.slice(0, Math.max(0, bodyOffset(cell.text) - 1)));
    problems[index]!.push(...read.problems);
    const header = read.value ?? unnamed(cell.kind, index, cell.text);
    const { table, tableRange } = header;
    const found =
      cell.kind === "query"
        ? referencesOf(cell.text, bodyOffset(cell.text))
        : { names: table === null ? [] : [{ name: table, range: tableRange ?? firstLine(cell.text) }], paths: [] };
    drafts.push({ index, text: cell.text, header, references: found.names, paths: found.paths });
  }

  const graph = orderCells(
    drafts.map((draft) => ({ name: draft.header.name, references: draft.references, nameRange: draft.header.nameRange })),
  );
  for (const found of graph.problems) problems[drafts[found.cell]!.index]!.push(found.problem);

  const settings = contentKey(front.value.units, String(front.value.seed), JSON.stringify(front.value.margins));
  const schemas = new Map<string, Schema>();
  const keys = new Map<string, string>();
  if (sources.shots !== null) {
    keys.set("shots", sources.shots.key);
    if (sources.shots.schema !== null) schemas.set("shots", sources.shots.schema);
  }
  const known = new Set([...drafts.map((draft) => draft.header.name), "shots"]);
  const checked = new Map<number, CheckedCell>();
  for (const position of graph.order) {
    const draft = drafts[position]!;
    const cell = checkCell(draft, { schemas, known, sources, vocabulary, limits, units: front.value.units });
    const own = [...problems[draft.index]!, ...cell.problems];
    const needs = [...new Set(draft.references.map((reference) => reference.name))].filter((name) => known.has(name));
    const inputs = [...needs.map((name) => keys.get(name)), ...draft.paths.map(({ path }) => sources.byPath.get(path)?.key)];
    const key =
      hasError(own) || inputs.includes(undefined) ? null : contentKey(draft.text, settings, ...(inputs as readonly string[]));
    if (key !== null) keys.set(draft.header.name, key);
    if (cell.schema !== null) schemas.set(draft.header.name, cell.schema);
    checked.set(draft.index, {
      index: draft.index,
      kind: draft.header.kind,
      name: draft.header.name,
      header: draft.header,
      query: cell.query,
      chart: cell.chart,
      needs,
      schema: cell.schema,
      problems: own,
      key,
    });
  }
  return {
    front: front.value,
    cells: document.cells.map((cell, index) => checked.get(index) ?? unrun(index, cell.kind, problems[index]!, drafts)),
    order: graph.order.map((position) => drafts[position]!.index),
    fileProblems: sources.fileProblems,
  };
}

/** A table of which nothing is known: every column may be there. */
const unknownTable: Schema = { columns: [], open: true, groupedBy: [], fromShots: false };

interface Surroundings {
  readonly schemas: ReadonlyMap<string, Schema>;
  readonly known: ReadonlySet<string>;
  readonly sources: Sources;
  readonly vocabulary: Vocabulary;
  readonly limits: Limits;
  readonly units: FrontMatter["units"];
}

type CellCheck = Pick<CheckedCell, "query" | "chart" | "schema" | "problems">;

function checkCell(draft: Draft, around: Surroundings): CellCheck {
  const blocked: Problem[] = [];
  for (const { name, range } of draft.references) {
    if (name === "shots") blocked.push(...missingShots(around.sources.shots, range));
    // A table that exists but whose columns are not known was reported where it is made.
    else if (around.known.has(name) && !around.schemas.has(name)) blocked.push(problem("run.blocked", { name }, range));
  }
  for (const { path, range } of draft.paths) {
    const fault = around.sources.byPath.get(path)?.fault ?? null;
    if (fault !== null) blocked.push(problem("run.no-shots", { name: path, reason: fault }, range));
  }
  if (draft.header.kind === "query") {
    const query = checkQuery(draft.text, bodyOffset(draft.text), {
      vocabulary: around.vocabulary,
      tables: around.schemas,
      cells: around.known,
      sessions: (path) => around.sources.byPath.get(path)?.schema ?? null,
      units: around.units,
      limits: around.limits,
    });
    const schema = query.value?.result.type === "table" ? query.value.result.schema : null;
    return { query: query.value, chart: null, schema, problems: [...blocked, ...query.problems] };
  }
  const table = draft.header.table === null ? null : (around.schemas.get(draft.header.table) ?? null);
  const chart = checkChart(draft.text, bodyOffset(draft.text), table ?? unknownTable, around.limits);
  const unknown = draft.references
    .filter(({ name }) => !around.known.has(name))
    .map(({ name, range }) => problem("query.unknown-table", { name, candidates: [...around.known].sort() }, range));
  return { query: null, chart: chart.value, schema: null, problems: [...blocked, ...unknown, ...chart.problems] };
}

function missingShots(shots: Source | null, range: TextRange): readonly Problem[] {
  if (shots === null) return [problem("run.no-front-shots", {}, range)];
  return shots.fault === null ? [] : [problem("run.no-shots", { name: "shots", reason: shots.fault }, range)];
}

function unrun(index: number, kind: CellKind, problems: readonly Problem[], drafts: readonly Draft[]): CheckedCell {
  const header = drafts.find((draft) => draft.index === index)?.header ?? null;
  return { index, kind, name: header?.name ?? "", header, query: null, chart: null, needs: [], schema: null, problems, key: null };
}

/** The header of a cell that has none yet: its name has a space, so that no other cell can use it. */
function unnamed(kind: "query" | "chart", index: number, text: string): CellHeader {
  return {
    kind,
    name: `cell ${index + 1}`,
    nameRange: firstLine(text),
    table: null,
    tableRange: null,
    description: null,
    attributes: new Map(),
  };
}

function firstLine(text: string): TextRange {
  const end = text.search(/[\r\n]/u);
  return { start: textStart.start, end: { line: 1, column: (end < 0 ? text.length : end) + 1 } };
}
