import type { Basis } from "./basis";
import { createCheckMemo, type CheckMemo } from "./check-memo";
import { checkChart, type CheckedChart } from "./chart/check-chart";
import { contentKey } from "./content-key";
import { cappedProblems } from "./capped-problems";
import type { Limits } from "./limits";
import type { CellHeader, CellKind, FrontMatter, NotebookDocument } from "./notebook/document";
import { choiceText } from "./notebook/choice";
import { checkChoices } from "./check-choices";
import type { Source, Sources } from "./notebook-sources";
import { hasError, problem, type Problem } from "./problem";
import { orderCells } from "./query/cell-graph";
import { checkQuery, type CheckedQuery } from "./query/check-query";
import { closestName } from "./closest-name";
import type { Reference } from "./query/references";
import { usedChoices } from "./query/used-choices";
import type { Vocabulary } from "./query/vocabulary";
import type { ReadCell, ReadNotebook } from "./read-cells";
import { nothingKnown, type Schema } from "./table/schema";
import type { TextRange } from "./text-position";

/** A cell that was checked: what it is, what it needs, what it will give, and what is wrong with it. */
export interface CheckedCell {
  readonly index: number;
  readonly kind: CellKind;
  /** The name as written, `cell 3` for a query or chart without one, and "" for any other cell. */
  readonly name: string;
  readonly header: CellHeader | null;
  readonly query: CheckedQuery | null;
  readonly chart: CheckedChart | null;
  /** Every use of a table by its name, constants of the cell left out. */
  readonly references: readonly Reference[];
  /** Numbers of the cells whose results it uses, each once. */
  readonly needs: readonly number[];
  /** What is known of the table it gives; `null` when it gives none or nothing is known. */
  readonly schema: Schema | null;
  /** Problems in the cell's text. */
  readonly problems: readonly Problem[];
  /** Equal as long as text, settings and everything it needs are equal; `null` when it cannot run. */
  readonly key: string | null;
  /** What its result would be computed from, directly or through the cells it needs; empty for a cell that is not run. */
  readonly basis: Basis;
}

/** A notebook that was checked without running anything. */
export interface CheckedNotebook {
  readonly front: FrontMatter;
  /** One for each cell of the document, in its order. */
  readonly cells: readonly CheckedCell[];
  /** Numbers of the query and chart cells, each after the cells it needs; cells in a cycle or of one name are left out. */
  readonly order: readonly number[];
  /** Problems in session files and exports; each names its file. */
  readonly fileProblems: readonly Problem[];
}

/** What a name stands for in the cells that come after it. */
interface Known {
  /** `null` while nothing is known of its columns. */
  readonly schema: Schema | null;
  /** `null` when it cannot have a result. */
  readonly key: string | null;
  readonly basis: Basis;
  readonly gives: ReadCell["uses"]["gives"];
}

/** What checking one cell needs of the others. */
interface Surroundings {
  readonly known: ReadonlyMap<string, Known>;
  /** What is known of the columns of `shots` and of the cells that give a table. */
  readonly schemas: ReadonlyMap<string, Schema>;
  /** Every name that stands for a cell or `shots`, whether or not it has a result. */
  readonly names: ReadonlySet<string>;
  readonly notebook: ReadNotebook;
  readonly sources: Sources;
  readonly vocabulary: Vocabulary;
  readonly limits: Limits;
  readonly memo: CheckMemo;
}

/**
 * Checks every cell of a notebook against the tables it names: the same check in the editor, on the command line and
 * before a run.
 *
 * What is wrong is said where it is; a cell that needs another which cannot run is blocked, which is said once for
 * each name.
 *
 * @param memo what earlier checks of this notebook gave.
 */
export function checkNotebook(
  document: NotebookDocument,
  notebook: ReadNotebook,
  sources: Sources,
  vocabulary: Vocabulary,
  limits: Limits,
  memo: CheckMemo = createCheckMemo(),
): CheckedNotebook {
  const { cells } = notebook;
  const graph = orderCells(cells.map(({ name, isNamed, index, nameRange, uses }) => ({ name: isNamed ? name : `#${index}`, nameRange, references: uses.names })));
  const problems = notebook.problems.map((own, index) => [...own, ...(sources.problems.get(index) ?? [])]);
  for (const found of graph.problems) problems[cells[found.cell]!.index]!.push(found.problem);

  const known = new Map<string, Known>();
  const schemas = new Map<string, Schema>();
  const remember = (name: string, one: Known): void => {
    known.set(name, one);
    if (one.schema !== null) schemas.set(name, one.schema);
  };
  const { shots } = sources;
  // Where there are no shots, what needs them rests on their files all the same, and can run once they are mended.
  if (shots !== null) remember("shots", { schema: shots.schema, key: shots.table === null ? null : shots.key, basis: memo.of("basis of shots", shots.key, [], () => basisOfFiles(shots)), gives: "table" });
  const named = cells.filter((cell) => cell.isNamed);
  const around: Surroundings = { known, schemas, names: new Set([...named.map((cell) => cell.name), "shots"]), notebook, sources, vocabulary, limits, memo };
  const indexes = indexesByName(named);
  const settings = contentKey(notebook.front.units, String(notebook.front.seed), JSON.stringify(notebook.front.margins), String(notebook.front.marginsUnread));

  // All that a cell is checked against besides its text: the columns of what it names, and the names it may have meant.
  const names = JSON.stringify(named.map((cell) => [cell.name, cell.uses.gives]));
  // The same string again is compared in no time.
  const meant = memo.of("names", names, [], () => names);
  // A cell is checked with the choices that it uses; of the others, their names alone are told.
  const choiceNames = JSON.stringify(notebook.front.choices.map(({ name, kind }) => [name, kind]));
  const meantChoices = memo.of("names of choices", choiceNames, [], () => choiceNames);
  const inputsOf = ({ name, uses }: ReadCell): readonly unknown[] => [
    meant,
    name,
    notebook.front.units,
    limits,
    memo.of("choices", choicesOf(uses, notebook), [], () => choicesOf(uses, notebook)),
    meantChoices,
    ...uses.names.map((use) => schemas.get(use.name)),
    ...uses.paths.map(({ path }) => sources.byPath.get(path)?.schema),
  ];

  const checked = document.cells.map((cell, index) => withoutRun(index, cell.kind, problems[index]!));
  const check = (cell: ReadCell, inOrder: boolean): void => {
    const body = memo.of(`body of ${cell.kind}`, cell.text, inputsOf(cell), () => checkBody(cell, around));
    const own = [...problems[cell.index]!, ...(inOrder ? wantedTables(cell, around) : []), ...body.problems];
    const key = hasError(own) ? null : keyOf(cell, around, settings);
    const basis = basisOf(cell, around, settings);
    if (inOrder && cell.isNamed) remember(cell.name, { schema: body.schema, key, basis, gives: cell.uses.gives });
    const { index, kind, name, header, uses } = cell;
    const needs = [...new Set(uses.names.flatMap((use) => indexes.get(use.name) ?? []))];
    checked[index] = { index, kind, name, header, query: body.query, chart: body.chart, references: uses.names, needs, schema: body.schema, problems: own, key, basis };
  };
  for (const position of graph.order) check(cells[position]!, true);
  // What runs in no order is checked all the same: a cell just copied has only its name to change.
  const ordered = new Set(graph.order);
  for (const [position, cell] of cells.entries()) if (!ordered.has(position)) check(cell, false);

  const front = checked[notebook.frontIndex];
  if (front !== undefined && notebook.front.choices.length > 0) {
    const found = checkChoices(notebook.front.choices, {
      uses: cells.map(({ uses }) => uses),
      chosen: checked.flatMap(({ query }) => query?.chosen ?? []),
      schemas: shots?.table || shots === null ? schemas : null,
      most: limits.problems,
    });
    checked[notebook.frontIndex] = { ...front, problems: [...front.problems, ...found] };
  }
  return {
    front: notebook.front,
    cells: checked,
    order: graph.order.map((position) => cells[position]!.index),
    fileProblems: sources.fileProblems,
  };
}

function unknownTable(name: string, candidates: readonly string[], range: TextRange): Problem {
  const nearest = closestName(name, candidates);
  if (nearest === null) return problem("query.unknown-table", { name, candidates }, range);
  return problem("query.unknown-table", { name, candidates, nearest }, range, { fix: { title: `Use ${nearest}`, edits: [{ range, text: nearest }] } });
}

/** Names that a cell may have meant: `shots`, and the other cells that give a table. */
function tableNames(cell: ReadCell, { notebook }: Surroundings): readonly string[] {
  const cells = notebook.cells.filter((other) => other.isNamed && other.uses.gives === "table" && other.name !== cell.name);
  return [...new Set(["shots", ...cells.map((other) => other.name)])];
}

type CheckedBody = Pick<CheckedCell, "query" | "chart" | "schema" | "problems">;

function checkBody(cell: ReadCell, around: Surroundings): CheckedBody {
  const { sources, vocabulary, limits } = around;
  if (cell.kind === "query") {
    const { value, problems } = checkQuery(cell.text, cell.bodyOffset, {
      vocabulary,
      tables: around.schemas,
      cells: around.names,
      tableNames: () => tableNames(cell, around),
      sessions: (path) => sources.byPath.get(path)?.schema ?? null,
      units: around.notebook.front.units,
      choices: around.notebook.front.choices,
      limits,
    });
    const schema = value?.result.type === "table" ? value.result.schema : null;
    return { query: value, chart: null, schema, problems: cappedProblems(problems, limits.problems) };
  }
  const unknown = cell.uses.names
    .filter(({ name }) => !around.names.has(name))
    .map(({ name, range }) => unknownTable(name, tableNames(cell, around), range));
  const table = cell.header?.table ?? null;
  const { value, problems } = checkChart(cell.text, cell.bodyOffset, (table === null ? null : around.schemas.get(table)) ?? nothingKnown, limits);
  return { query: null, chart: value, schema: null, problems: cappedProblems([...unknown, ...problems], limits.problems) };
}

/** What is wrong with the tables that a cell wants: one that has no result, a chart or a text. Said at the first use of each. */
function wantedTables(cell: ReadCell, { known, names, notebook, sources }: Surroundings): readonly Problem[] {
  return firstUses(cell.uses.names).flatMap(({ name, range }) => {
    if (!names.has(name)) return [];
    if (name === "shots" && sources.shots === null && notebook.namesAllShots) return [problem("run.no-front-shots", {}, range)];
    const found = known.get(name);
    if (found !== undefined && found.gives !== "table") return [problem("query.not-a-table", { found: `the ${found.gives} ${name}` }, range)];
    if (found !== undefined && found.key !== null) return [];
    const because = name === "shots" ? sources.problems.get(notebook.frontIndex)?.find(({ severity }) => severity === "error")?.message : undefined;
    return [problem("run.blocked", { name, ...(because === undefined ? {} : { because }) }, range)];
  });
}

/** The first use of each name. */
export function firstUses(references: readonly Reference[]): readonly Reference[] {
  return references.filter(({ name }, index) => references.findIndex((other) => other.name === name) === index);
}

function keyOf(cell: ReadCell, { known, sources, memo, notebook }: Surroundings, settings: string): string | null {
  const inputs = [...firstUses(cell.uses.names).map(({ name }) => known.get(name)?.key), ...cell.uses.paths.map(({ path }) => sources.byPath.get(path)?.key)];
  const keys = inputs.filter((key) => typeof key === "string");
  return keys.length < inputs.length ? null : memo.of("key", cell.text, [settings, choicesOf(cell.uses, notebook), ...keys], () => contentKey(cell.text, settings, choicesOf(cell.uses, notebook), ...keys));
}

function basisOf(cell: ReadCell, { known, sources, memo, notebook }: Surroundings, settings: string): Basis {
  const inputs = firstUses(cell.uses.names).map(({ name }) => known.get(name)?.basis ?? nothing);
  // Every cell adds to what those before it rest on: in a long chain, most of it is as it was at the last check.
  const keys = cell.uses.paths.map(({ path }) => sources.byPath.get(path)?.key);
  return memo.of("basis", cell.text, [textOf(cell), settings, choicesOf(cell.uses, notebook), ...inputs, ...keys], () => joinedBasis(cell, sources, settings, [basisOfChoices(cell.uses, notebook), ...inputs]));
}

/** What a cell takes of the choices, as text. */
function choicesOf(uses: ReadCell["uses"], notebook: ReadNotebook): string {
  return usedChoices(uses, notebook.front.choices).map(choiceText).join("\n");
}

function basisOfChoices(uses: ReadCell["uses"], notebook: ReadNotebook): Basis {
  return Object.fromEntries(usedChoices(uses, notebook.front.choices).map((choice) => [`the choice ${choice.name}`, contentKey(choiceText(choice))]));
}

const nothing: Basis = {};

function joinedBasis(cell: ReadCell, sources: Sources, settings: string, inputs: readonly Basis[]): Basis {
  const files = cell.uses.paths.map(({ path }) => basisOfFiles(sources.byPath.get(path)));
  return Object.assign({ [textOf(cell)]: contentKey(cell.text), "the front matter": settings }, ...inputs, ...files) as Basis;
}

/** A cell without a name is used by no other, and what it is called changes with its place. */
function textOf({ name, isNamed }: ReadCell): string {
  return isNamed ? `the text of ${name}` : "its text";
}

function basisOfFiles(source: Source | undefined): Basis {
  return Object.fromEntries((source?.files ?? []).map(({ path, digest }) => [path, digest ?? ""]));
}

function indexesByName(cells: readonly ReadCell[]): ReadonlyMap<string, readonly number[]> {
  const indexes = new Map<string, readonly number[]>();
  for (const { name, index } of cells) indexes.set(name, [...(indexes.get(name) ?? []), index]);
  return indexes;
}

/** A cell that gives no result whatever happens. */
function withoutRun(index: number, kind: CellKind, problems: readonly Problem[]): CheckedCell {
  return { index, kind, name: "", header: null, query: null, chart: null, references: [], needs: [], schema: null, problems, key: null, basis: {} };
}
