import path from "node:path";
import { defaultLimits } from "../../core/limits";
import { presentOutcome } from "../../core/present/present-outcome";
import type { Problem } from "../../core/problem";
import type { RanNotebook } from "./run-opened";

/** Rows of a table that a results file gets; the count of all is beside them. */
export const rowsWritten = 100_000;

/**
 * The results of a run as JSON, keys in a fixed order, so that equal runs give equal bytes.
 *
 * `problems` at the top are those outside of every cell: in the front matter, in session files and in exports. Each
 * problem has its file, relative to the notebook's root, and both ends of its place, from 1. A cell's `result` is what
 * its last output shows: for a table with a picture the table. Missing values are `null`.
 */
export function resultsJson({ opened, cells, problems }: RanNotebook): string {
  const results = {
    fairstrike: 1,
    notebook: path.posix.basename(opened.place.path),
    problems: problems.map(problemJson),
    cells: cells.map(({ outcome, problems: own }) => ({
      name: outcome.name,
      kind: outcome.kind,
      status: outcome.status,
      problems: own.map(problemJson),
      result: presentOutcome(outcome, { ...defaultLimits, rowsShown: rowsWritten }).results.at(-1) ?? null,
    })),
  };
  return `${JSON.stringify(results, null, 1)}\n`;
}

/** A problem as results have it: keys in a fixed order, its file or `null`, both ends of its place. */
export function problemJson({ code, severity, message, hint, file, range }: Problem): Record<string, unknown> {
  return { code, severity, message, hint, file: file ?? null, start: range.start, end: range.end };
}
