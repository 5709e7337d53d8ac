import type { Limits } from "../limits";
import type { CellKind, NotebookDocument } from "../notebook/document";
import { folderOf } from "../path";
import { chosenLines } from "../present/chosen-lines";
import type { ResultPayload } from "../present/payload";
import { presentOutcome } from "../present/present-outcome";
import type { Problem } from "../problem";
import type { CellOutcome, RunOutcome } from "../run-notebook";
import { provenanceOf, type Provenance } from "./provenance";
import { relativePath } from "./relative-path";

/** Rows of a table that a report shows; the count of all stands beside them. */
export const rowsReported = 50;

/** What a report is made from: a notebook, and what running all of it gave. */
export interface ReportSource {
  readonly document: NotebookDocument;
  /** The notebook's path, relative to the root of its files. */
  readonly path: string;
  readonly outcome: RunOutcome;
  /** Problems of the notebook's text as a whole. */
  readonly textProblems?: readonly Problem[];
  readonly limits: Limits;
  /** The version of the program. */
  readonly version: string;
}

/** A query or a chart as a report shows it. */
export interface ReportCell {
  readonly kind: "query" | "chart";
  readonly name: string;
  /** The table that a chart draws; `null` for a query. */
  readonly table: string | null;
  /** The text below its first line. */
  readonly body: string;
  readonly status: CellOutcome["status"];
  /** What is chosen behind its result, in sentences. */
  readonly chosen: readonly string[];
  /** Problems, placed in the cell's text. */
  readonly problems: readonly Problem[];
  readonly results: readonly ResultPayload[];
}

/** One part of the page, in its order. */
export type ReportPart =
  | { readonly kind: "prose"; readonly text: string }
  | { readonly kind: "cell"; readonly cell: ReportCell }
  /** A region with merge markers, as it stands. */
  | { readonly kind: "conflict"; readonly text: string };

/** A notebook with its results, ready to be written in one form or another: the same run gives the same report. */
export interface Report {
  readonly title: string;
  /** The notebook's file name. */
  readonly fileName: string;
  /** What a reader must know before anything else, such as that the data are synthetic. */
  readonly notes: readonly string[];
  readonly parts: readonly ReportPart[];
  /** Problems outside of queries and charts; those in other files name them relative to the notebook's folder. */
  readonly problems: readonly Problem[];
  readonly provenance: Provenance;
}

/** The report of a run of a whole notebook. No time, host, user or path of a machine goes into it. */
export function makeReport(source: ReportSource): Report {
  const { document, path, outcome, limits } = source;
  const folder = folderOf(path);
  const fileName = path.slice(path.lastIndexOf("/") + 1);
  const outcomes = new Map(outcome.cells.map((each) => [each.index, each]));
  const inFolder = (found: Problem): Problem => (found.file === undefined ? found : { ...found, file: relativePath(folder, found.file) });
  const parts = document.cells.flatMap(({ kind, text }, index): ReportPart[] => {
    if (kind === "prose" || kind === "conflict") return [{ kind, text }];
    const found = outcomes.get(index);
    return found === undefined ? [] : [{ kind: "cell", cell: reportCell(found, text, outcome, limits) }];
  });
  const outside = outcome.checked.cells.filter((cell) => !isRun(cell.kind)).flatMap((cell) => cell.problems);
  return {
    title: outcome.checked.front.title ?? fileName.replace(/\.shots\.md$/u, ""),
    fileName,
    notes: notesOf(parts),
    parts,
    problems: [...(source.textProblems ?? []), ...outside, ...outcome.problems].map(inFolder),
    provenance: provenanceOf({ ...source, folder, fileName, cells: parts.flatMap((part) => (part.kind === "cell" ? [part.cell] : [])) }),
  };
}

/** The cells of a report that have no result. */
export function cellsWithoutResult({ parts }: Pick<Report, "parts">): readonly ReportCell[] {
  return parts.flatMap((part) => (part.kind === "cell" && part.cell.status !== "ok" ? [part.cell] : []));
}

function reportCell(outcome: CellOutcome, text: string, { checked }: RunOutcome, limits: Limits): ReportCell {
  const { name, status, problems, results } = presentOutcome(outcome, { ...limits, rowsShown: rowsReported });
  const kind = outcome.kind === "chart" ? "chart" : "query";
  const end = text.indexOf("\n");
  const table = kind === "chart" ? (checked.cells[outcome.index]?.header?.table ?? null) : null;
  return { kind, name, table, body: end < 0 ? "" : text.slice(end + 1), status, chosen: chosenLines(checked, outcome.index), problems, results };
}

function isRun(kind: CellKind): boolean {
  return kind === "query" || kind === "chart";
}

/** The notes of all results, each once. */
function notesOf(parts: readonly ReportPart[]): readonly string[] {
  const results = parts.flatMap((part) => (part.kind === "cell" ? part.cell.results : []));
  const notes = results.flatMap((result) => (result.type === "table" ? [...result.notes, ...result.sentences.filter(isNoteOfData)] : result.type === "chart" ? result.table.notes : []));
  return [...new Set(notes)];
}

/** True for what verbs of the trade say among their sentences, and other tables as a note. */
function isNoteOfData(sentence: string): boolean {
  return /^(?:Synthetic data|Partly synthetic data):/u.test(sentence);
}
