import { drawTable } from "./chart/draw-table";
import { checkNotebook, type CheckedCell, type CheckedNotebook } from "./check-notebook";
import type { FilePort } from "./file-port";
import type { Limits } from "./limits";
import type { CellKind, NotebookDocument } from "./notebook/document";
import { readSources, type Sources } from "./notebook-sources";
import { hasError, problem, type Problem } from "./problem";
import { Cancelled, OutOfTime } from "./query/interruption";
import { runQuery } from "./query/run-query";
import type { RunContext, Vocabulary } from "./query/vocabulary";
import { createSessionLoader } from "./session-loader";
import type { Chart, Table } from "./table/table";
import { textStart } from "./text-position";

/** What running one cell gave. */
export interface CellOutcome {
  readonly index: number;
  readonly kind: CellKind;
  readonly name: string;
  /** `failed` for a cell with an error of its own, `blocked` for one that needs a cell without a result. */
  readonly status: "ok" | "failed" | "blocked";
  /** True when the result of an earlier run still holds. */
  readonly kept: boolean;
  readonly problems: readonly Problem[];
  readonly value: Table | Chart | null;
}

/** What running a notebook gave. */
export interface RunOutcome {
  readonly checked: CheckedNotebook;
  /** One outcome for each cell that was asked for or that such a cell needs, in the order of running. */
  readonly cells: readonly CellOutcome[];
  /** Problems in session files and exports; each names its file. */
  readonly problems: readonly Problem[];
  readonly inputs: Sources["inputs"];
  readonly cancelled: boolean;
}

/** What a run is asked to do, and whom it tells. */
export interface RunRequest {
  /** Indexes of the cells to run; what they need is run with them. All cells when absent. */
  readonly only?: readonly number[];
  readonly isCancelled?: () => boolean;
  readonly onStart?: (index: number) => void;
  readonly onCell?: (outcome: CellOutcome) => void;
}

/** What an engine needs from outside. */
export interface EngineParts {
  readonly files: FilePort;
  readonly vocabulary: Vocabulary;
  readonly limits: Limits;
  /** Milliseconds from any fixed moment, for the time limit of a cell alone: no result depends on it. */
  readonly clock: () => number;
}

/** Runs notebooks; remembers sessions and results, so that only what is out of date is computed again. */
export interface Engine {
  readonly check: (document: NotebookDocument, path: string) => Promise<CheckedNotebook>;
  readonly run: (document: NotebookDocument, path: string, request?: RunRequest) => Promise<RunOutcome>;
}

interface Kept {
  readonly key: string;
  readonly value: Table | Chart;
  readonly problems: readonly Problem[];
}

/**
 * Returns an engine: the one that stands under editor, command line and tests.
 *
 * The same document and files give the same outcome, whatever was run before.
 */
export function createEngine(parts: EngineParts): Engine {
  const { files, vocabulary, limits, clock } = parts;
  const loader = createSessionLoader(files, limits);
  const kept = new Map<string, Kept>();

  async function run(document: NotebookDocument, path: string, request: RunRequest = {}): Promise<RunOutcome> {
    const isCancelled = request.isCancelled ?? ((): boolean => false);
    const sources = await readSources(document, path, files, loader);
    const checked = checkNotebook(document, sources, vocabulary, limits);
    const wanted = withNeeds(checked, request.only);
    const values = new Map<string, Table | Chart>();
    if (sources.shots?.table) values.set("shots", sources.shots.table);
    const outcomes: CellOutcome[] = [];
    let cancelled = false;
    for (const index of checked.order) {
      if (!wanted.has(index)) continue;
      // Between cells the thread is given back, so that a request to stop can arrive.
      await Promise.resolve();
      if (isCancelled()) {
        cancelled = true;
        break;
      }
      const cell = checked.cells[index]!;
      const before = cell.key === null ? undefined : kept.get(cell.name);
      let outcome: CellOutcome;
      if (before !== undefined && before.key === cell.key) {
        outcome = { ...facts(cell), status: "ok", kept: true, problems: before.problems, value: before.value };
      } else {
        request.onStart?.(index);
        try {
          outcome = runCell(cell, checked, sources, values, isCancelled);
        } catch (error) {
          if (!(error instanceof Cancelled)) throw error;
          cancelled = true;
          break;
        }
      }
      if (outcome.value === null) kept.delete(cell.name);
      else {
        values.set(cell.name, outcome.value);
        if (cell.key !== null) kept.set(cell.name, { key: cell.key, value: outcome.value, problems: outcome.problems });
      }
      outcomes.push(outcome);
      request.onCell?.(outcome);
    }
    const names = new Set(checked.cells.map((cell) => cell.name));
    for (const name of kept.keys()) if (!names.has(name)) kept.delete(name);
    // Cells that are in no order (without a readable header, or in a cycle) still say what is wrong with them.
    for (const cell of checked.cells) {
      const silent = (cell.kind === "query" || cell.kind === "chart") && !checked.order.includes(cell.index);
      if (!silent || (request.only !== undefined && !request.only.includes(cell.index))) continue;
      const outcome: CellOutcome = { ...facts(cell), status: "failed", kept: false, problems: cell.problems, value: null };
      outcomes.push(outcome);
      request.onCell?.(outcome);
    }
    return { checked, cells: outcomes, problems: checked.fileProblems, inputs: sources.inputs, cancelled };
  }

  function runCell(
    cell: CheckedCell,
    checked: CheckedNotebook,
    sources: Sources,
    values: ReadonlyMap<string, Table | Chart>,
    isCancelled: () => boolean,
  ): CellOutcome {
    if (hasError(cell.problems)) {
      const errors = cell.problems.filter((found) => found.severity === "error");
      const status = errors.every((found) => found.code === "run.blocked") ? "blocked" : "failed";
      return { ...facts(cell), status, kept: false, problems: cell.problems, value: null };
    }
    const lost = cell.needs.find((name) => !values.has(name));
    if (lost !== undefined) {
      const found = problem("run.blocked", { name: lost }, cell.header?.nameRange ?? textStart);
      return { ...facts(cell), status: "blocked", kept: false, problems: [...cell.problems, found], value: null };
    }
    const problems: Problem[] = [...cell.problems];
    const until = clock() + limits.cellTime;
    const context: RunContext = {
      limits,
      units: checked.front.units,
      margins: checked.front.margins,
      seed: checked.front.seed,
      warn: (found) => problems.push(found.make(cell.header?.nameRange ?? textStart)),
      checkpoint: () => {
        if (isCancelled()) throw new Cancelled();
        if (clock() > until) throw new OutOfTime();
      },
    };
    try {
      const result = cell.query === null ? drawCell(cell, values, limits) : runQuery(cell.query, tablesFor(cell, sources, values), context, vocabulary);
      problems.push(...result.problems);
      const ok = result.value !== null && !hasError(problems);
      return { ...facts(cell), status: ok ? "ok" : "failed", kept: false, problems, value: ok ? result.value : null };
    } catch (error) {
      if (!(error instanceof OutOfTime)) throw error;
      problems.push(problem("run.out-of-time", { seconds: limits.cellTime / 1000 }, cell.header?.nameRange ?? textStart));
      return { ...facts(cell), status: "failed", kept: false, problems, value: null };
    }
  }

  return {
    check: async (document, path) =>
      checkNotebook(document, await readSources(document, path, files, loader), vocabulary, limits),
    run,
  };
}

function facts(cell: CheckedCell): Pick<CellOutcome, "index" | "kind" | "name"> {
  return { index: cell.index, kind: cell.kind, name: cell.name };
}

function tablesFor(cell: CheckedCell, sources: Sources, values: ReadonlyMap<string, Table | Chart>): ReadonlyMap<string, Table> {
  const tables = new Map<string, Table>();
  for (const [name, value] of values) if (value.type === "table") tables.set(name, value);
  for (const { path } of cell.query?.paths ?? []) {
    const table = sources.byPath.get(path)?.table;
    if (table) tables.set(path, table);
  }
  return tables;
}

function drawCell(
  cell: CheckedCell,
  values: ReadonlyMap<string, Table | Chart>,
  limits: Limits,
): { readonly value: Chart | null; readonly problems: readonly Problem[] } {
  const table = cell.header?.table ? values.get(cell.header.table) : undefined;
  if (cell.chart === null || table?.type !== "table") return { value: null, problems: [] };
  return drawTable(cell.chart, table, cell.header?.description ?? null, limits, cell.header?.nameRange ?? textStart);
}

/** The cells asked for and all that they need, directly or not. */
function withNeeds(checked: CheckedNotebook, only: readonly number[] | undefined): ReadonlySet<number> {
  if (only === undefined) return new Set(checked.order);
  const byName = new Map(checked.cells.map((cell) => [cell.name, cell.index]));
  const wanted = new Set<number>();
  const waiting = [...only];
  for (let index = waiting.pop(); index !== undefined; index = waiting.pop()) {
    if (wanted.has(index)) continue;
    wanted.add(index);
    for (const name of checked.cells[index]?.needs ?? []) {
      const needed = byName.get(name);
      if (needed !== undefined) waiting.push(needed);
    }
  }
  return wanted;
}
