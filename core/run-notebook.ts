import type { Basis } from "./basis";
import { checkChart } from "./chart/check-chart";
import { drawTable } from "./chart/draw-table";
import { createCheckMemo, type CheckMemo } from "./check-memo";
import { checkNotebook, firstUses, type CheckedCell, type CheckedNotebook } from "./check-notebook";
import type { FilePort } from "./file-port";
import { inputsOf, type CellInputs } from "./inputs-of-cell";
import type { Limits } from "./limits";
import type { CellKind, NotebookDocument } from "./notebook/document";
import { loadSources, type Sources } from "./notebook-sources";
import type { TextPayload } from "./present/payload";
import { hasError, problem, type Checked, type Problem } from "./problem";
import { Cancelled, OutOfTime } from "./query/interruption";
import { runQuery } from "./query/run-query";
import type { RunContext, Vocabulary } from "./query/vocabulary";
import { readCells, type ReadNotebook } from "./read-cells";
import type { SessionFacts } from "./session/session-facts";
import { createSessionLoader, type InputFile, type SessionLoader } from "./session-loader";
import { schemaOf } from "./table/schema";
import type { Chart, Table } from "./table/table";
import { textStart, type TextRange } from "./text-position";

/** Whatever a cell gives. */
export type CellValue = Table | Chart | TextPayload;

/** What running one cell gave. */
export interface CellOutcome {
  readonly index: number;
  readonly kind: CellKind;
  readonly name: string;
  /** `failed` for a cell with an error of its own, `blocked` for one that needs something without a result. */
  readonly status: "ok" | "failed" | "blocked";
  /** True when the result of an earlier run still holds. */
  readonly kept: boolean;
  readonly problems: readonly Problem[];
  /** There is one if and only if the status is `ok`. */
  readonly value: CellValue | null;
  /** What it was computed from. */
  readonly basis: Basis;
  /** What went into it; `null` where it was not computed. */
  readonly inputs: CellInputs | null;
}

/** What running a notebook gave. */
export interface RunOutcome {
  readonly checked: CheckedNotebook;
  /** One outcome for each cell that was asked for or that such a cell needs; in the order of running, those that run in none last. */
  readonly cells: readonly CellOutcome[];
  /** Problems in session files and exports; each names its file. */
  readonly problems: readonly Problem[];
  /** Every file that was asked for, sorted by path. */
  readonly inputs: readonly InputFile[];
  /** The sessions whose shots the notebook takes, each once, sorted by file. */
  readonly sessions: readonly SessionFacts[];
  /** True when the run was stopped: cells without an outcome were not run to their end. */
  readonly cancelled: boolean;
}

/** What a run is asked to do, and whom it tells. */
export interface RunRequest {
  /** Numbers of the cells to run; what they need is run with them. All cells when absent. */
  readonly only?: readonly number[];
  readonly isCancelled?: () => boolean;
  readonly onStart?: (index: number) => void;
  readonly onCell?: (outcome: CellOutcome) => void;
}

/** What an engine needs from outside. */
export interface EngineParts {
  readonly files: FilePort;
  /** Loads sessions; reads them through `files` when absent. Runs need one whose tables have their rows. */
  readonly loader?: SessionLoader;
  readonly vocabulary: Vocabulary;
  readonly limits: Limits;
  /** Milliseconds from any fixed moment, for the time limit of a cell alone: no result depends on it. */
  readonly clock: () => number;
  /** Told of a fault of the program in a cell, which ends with `run.internal`. */
  readonly onFault?: (fault: unknown) => void;
}

/**
 * Checks and runs notebooks, whose paths are relative to the root of the files. It remembers the sessions that it has
 * read, what it found in each notebook, and the results of the notebook that was run last, so that only what is out of date
 * is computed again.
 */
export interface Engine {
  readonly check: (document: NotebookDocument, path: string) => Promise<CheckedNotebook>;
  /** What checking rests on beside what it gives. Sessions are what `load` gives, where that is another than the engine's own. */
  readonly look: (document: NotebookDocument, path: string, load?: SessionLoader["load"]) => Promise<LookedAt>;
  readonly run: (document: NotebookDocument, path: string, request?: RunRequest) => Promise<RunOutcome>;
  /** Everything that is wrong with a session file and its exports; each problem names its file. */
  readonly checkSession: (path: string) => Promise<readonly Problem[]>;
  /** Lets go of what is remembered of a notebook or session file alone: it is closed. */
  readonly forget: (path: string) => void;
}

/** A notebook that was read and checked, and nothing run. */
export interface LookedAt {
  readonly notebook: ReadNotebook;
  readonly sources: Sources;
  readonly checked: CheckedNotebook;
}

type Values = ReadonlyMap<string, CellValue>;

/** What is remembered of a notebook or session file for as long as it is open. */
interface Remembered {
  readonly memo: CheckMemo;
  /** Paths of the session files that it named when it was last looked at, and of those that are being loaded for it. */
  sessions: Set<string>;
}

/** A result of an earlier run, and what it was computed from. */
interface Kept {
  readonly key: string;
  readonly outcome: CellOutcome;
}

/** Gives up a run; never leaves this file. */
class Stopped extends Error {}

/**
 * Returns an engine: the one that stands under editor, command line and tests.
 *
 * The same document and files give the same outcome, whatever was run before.
 */
export function createEngine(parts: EngineParts): Engine {
  const { files, vocabulary, limits, clock } = parts;
  const loader = parts.loader ?? createSessionLoader(files, limits);
  const kept = new Map<string, Kept>();
  const documents = new Map<string, Remembered>();

  async function look(document: NotebookDocument, path: string, loadOne = loader.load): Promise<LookedAt> {
    const known = remembered(path);
    const { memo } = known;
    const notebook = readCells(document, memo);
    const named = new Set<string>();
    const load: SessionLoader["load"] = (session) => {
      named.add(session);
      known.sessions.add(session);
      return loadOne(session);
    };
    const sources = await loadSources(notebook, path, files, { load, combine: loader.combine }, memo);
    const checked = checkNotebook(document, notebook, sources, vocabulary, limits, memo);
    memo.nextRound();
    known.sessions = named;
    keepUsed();
    return { notebook, sources, checked };
  }

  function remembered(path: string): Remembered {
    const known = documents.get(path) ?? { memo: createCheckMemo(), sessions: new Set() };
    documents.set(path, known);
    return known;
  }

  function keepUsed(): void {
    const all = [...documents.values()];
    loader.keepUsed((session) => all.some(({ sessions }) => sessions.has(session)));
  }

  async function run(document: NotebookDocument, path: string, request: RunRequest = {}): Promise<RunOutcome> {
    const { sources, checked } = await look(document, path);
    const wanted = withNeeds(checked, request.only);
    const ordered = new Set(checked.order);
    const values = new Map<string, CellValue>();
    if (sources.shots?.table) values.set("shots", sources.shots.table);
    const cells: CellOutcome[] = [];
    const give = (outcome: CellOutcome): void => {
      cells.push(outcome);
      request.onCell?.(outcome);
    };
    let cancelled = false;
    try {
      for (const index of checked.order) {
        if (!wanted.has(index)) continue;
        const cell = checked.cells[index]!;
        const outcome = keptOutcome(cell) ?? runCell(cell, checked, sources, values, request);
        if (outcome.value !== null) values.set(cell.name, outcome.value);
        give(outcome);
      }
    } catch (error) {
      if (!(error instanceof Stopped)) throw error;
      cancelled = true;
    }
    // Cells that run in no order, being in a cycle or of one name, still say what is wrong with them.
    for (const cell of checked.cells) if (wanted.has(cell.index) && !ordered.has(cell.index)) give(withoutResult(cell, cell.problems));
    forgetOthers(checked);
    return { checked, cells, problems: checked.fileProblems, inputs: sources.inputs, sessions: sessionsOf(sources), cancelled };
  }

  function keptOutcome(cell: CheckedCell): CellOutcome | null {
    const before = kept.get(cell.name);
    if (before === undefined || before.key !== cell.key) return null;
    return { ...before.outcome, index: cell.index, kept: true };
  }

  /** Lets go of results that no cell of the notebook can use any more. */
  function forgetOthers(checked: CheckedNotebook): void {
    const keys = new Map(checked.cells.map((cell) => [cell.name, cell.key]));
    for (const [name, { key }] of kept) if (keys.get(name) !== key) kept.delete(name);
  }

  /** @throws {Stopped} when the run was cancelled. */
  function runCell(cell: CheckedCell, checked: CheckedNotebook, sources: Sources, values: Values, request: RunRequest): CellOutcome {
    const isCancelled = request.isCancelled ?? ((): boolean => false);
    if (isCancelled()) throw new Stopped();
    request.onStart?.(cell.index);
    if (hasError(cell.problems)) return withoutResult(cell, cell.problems);
    const lost = firstUses(cell.references).filter(({ name }) => !values.has(name));
    if (lost.length > 0) return withoutResult(cell, [...cell.problems, ...lost.map(({ name, range }) => problem("run.blocked", { name }, range))]);
    const problems: Problem[] = [...cell.problems];
    const until = clock() + limits.cellTime;
    const context: RunContext = {
      limits,
      units: checked.front.units,
      margins: checked.front.margins,
      marginsUnread: checked.front.marginsUnread,
      seed: checked.front.seed,
      warn: (found) => problems.push(found.make(rangeOf(cell))),
      checkpoint: () => {
        if (isCancelled()) throw new Cancelled();
        if (clock() > until) throw new OutOfTime();
      },
    };
    const tables = tablesFor(cell, sources, values);
    const { value, problems: found } = computed(cell, () =>
      cell.query === null ? drawCell(cell, values, limits) : runQuery(cell.query, tables, context, vocabulary),
    );
    problems.push(...found);
    if (value === null || hasError(problems)) return withoutResult(cell, problems);
    const outcome: CellOutcome = { ...namesOf(cell), status: "ok", kept: false, problems, value, inputs: inputsOf(tables.values()) };
    if (cell.key !== null) kept.set(cell.name, { key: cell.key, outcome });
    return outcome;
  }

  /** What `run` gives, or the problem with which it ended: the one place where a cell's faults are caught. */
  function computed(cell: CheckedCell, run: () => Checked<CellValue | null>): Checked<CellValue | null> {
    try {
      return run();
    } catch (error) {
      if (error instanceof Cancelled) throw new Stopped();
      if (error instanceof OutOfTime) return { value: null, problems: [problem("run.out-of-time", { seconds: limits.cellTime / 1000 }, rangeOf(cell))] };
      parts.onFault?.(error);
      const reason = error instanceof Error ? error.message : "something that is no error was thrown";
      return { value: null, problems: [problem("run.internal", { reason }, rangeOf(cell))] };
    }
  }

  async function checkSession(path: string): Promise<readonly Problem[]> {
    remembered(path).sessions.add(path);
    const { fault, problems } = await loader.load(path);
    return fault === null ? problems : [problem("run.file", { path, reason: fault }, textStart, { file: path })];
  }

  function forget(path: string): void {
    documents.delete(path);
    keepUsed();
  }

  return { check: async (document, path) => (await look(document, path)).checked, look, run, checkSession, forget };
}

function namesOf(cell: CheckedCell): Pick<CellOutcome, "index" | "kind" | "name" | "basis"> {
  return { index: cell.index, kind: cell.kind, name: cell.name, basis: cell.basis };
}

/** Codes that say that what a cell needs has no result; by themselves they are no fault of the cell. */
const blocking: ReadonlySet<Problem["code"]> = new Set(["run.blocked", "run.no-front-shots", "run.no-shots"]);

function withoutResult(cell: CheckedCell, problems: readonly Problem[]): CellOutcome {
  const errors = problems.filter((found) => found.severity === "error");
  const isBlocked = errors.length > 0 && errors.every((found) => blocking.has(found.code));
  return { ...namesOf(cell), status: isBlocked ? "blocked" : "failed", kept: false, problems, value: null, inputs: null };
}

/** The sessions behind every table that the notebook names, each once. */
function sessionsOf({ shots, byPath }: Sources): readonly SessionFacts[] {
  const all = [shots, ...byPath.values()].flatMap((source) => source?.table?.sessions ?? []);
  return [...new Map(all.map((session) => [session.file, session])).values()].sort((a, b) => (a.file < b.file ? -1 : 1));
}

/** The place of problems that concern a cell as a whole. */
function rangeOf(cell: CheckedCell): TextRange {
  return cell.header?.nameRange ?? textStart;
}

function tablesFor(cell: CheckedCell, sources: Sources, values: Values): ReadonlyMap<string, Table> {
  const tables = new Map<string, Table>();
  for (const { name } of cell.references) {
    const value = values.get(name);
    if (value?.type === "table") tables.set(name, value);
  }
  for (const { path } of cell.query?.paths ?? []) {
    const table = sources.byPath.get(path)?.table;
    if (table) tables.set(path, table);
  }
  return tables;
}

function drawCell(cell: CheckedCell, values: Values, limits: Limits): Checked<Chart | null> {
  const table = values.get(cell.header?.table ?? "");
  if (cell.chart === null || table?.type !== "table") throw new TypeError("a chart cell without errors has a specification and a table");
  const again = cell.chart.isPartial ? checkChart(cell.chart.from.text, cell.chart.from.bodyOffset, schemaOf(table), limits) : null;
  const said = new Set(cell.problems.map(keyOfProblem));
  const problems = (again?.problems ?? []).filter((found) => !said.has(keyOfProblem(found)));
  const chart = again === null ? cell.chart : again.value;
  if (chart === null) return { value: null, problems };
  const drawn = drawTable(chart, table, cell.header?.description ?? null, limits, rangeOf(cell));
  return { value: drawn.value, problems: [...problems, ...drawn.problems] };
}

function keyOfProblem({ code, range }: Problem): string {
  return JSON.stringify([code, range]);
}

/** The query and chart cells asked for, and all that they need, directly or not. */
function withNeeds(checked: CheckedNotebook, only: readonly number[] | undefined): ReadonlySet<number> {
  const wanted = new Set<number>();
  const waiting = only === undefined ? checked.cells.map((cell) => cell.index).reverse() : [...only];
  for (let index = waiting.pop(); index !== undefined; index = waiting.pop()) {
    const cell = checked.cells[index];
    if (cell === undefined || wanted.has(index) || (cell.kind !== "query" && cell.kind !== "chart")) continue;
    wanted.add(index);
    waiting.push(...cell.needs);
  }
  return wanted;
}
