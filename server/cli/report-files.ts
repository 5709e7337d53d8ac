import { defaultLimits } from "../../core/limits";
import { htmlMark } from "../../core/report/html-report";
import { markdownMark } from "../../core/report/markdown-report";
import { writeReport, type ReportForm } from "../../core/report/write-report";
import { UsageError, type Terminal } from "./command";
import { reportFile, writeResults, type FileForm } from "./results-file";
import type { RanNotebook } from "./run-opened";
import { version } from "./version";

/** The forms of a report; each has an option of its name. */
export const reportForms: readonly ReportForm[] = ["html", "markdown"];

const forms: Readonly<Record<ReportForm, FileForm>> = {
  html: { ending: /\.html?$/iu, words: ".html", mark: htmlMark },
  markdown: { ending: /\.md$/iu, words: ".md", mark: markdownMark },
};

/** A report that was asked for, and the file that it goes to; `null` for standard output. */
export interface ReportTarget {
  readonly form: ReportForm;
  readonly file: string | null;
}

/**
 * Where the reports go that the options ask for.
 *
 * @throws {UsageError} before anything was run when one of them cannot or must not go there.
 */
export async function reportTargets(options: Readonly<Partial<Record<ReportForm, string>>>, folder: string): Promise<readonly ReportTarget[]> {
  const targets: ReportTarget[] = [];
  for (const form of reportForms) {
    const given = options[form];
    if (given !== undefined) targets.push({ form, file: given === "-" ? null : await reportFile(given, folder, forms[form]) });
  }
  return targets;
}

/**
 * Writes the reports of a run, also of one in which cells failed.
 *
 * @throws {UsageError} when a file is one of the inputs or cannot be written.
 */
export async function writeReports(targets: readonly ReportTarget[], ran: RanNotebook, terminal: Terminal): Promise<void> {
  const { opened, outcome } = ran;
  // What is wrong with a file that is no notebook is said with the other problems.
  if (targets.length === 0 || opened.document === null || outcome === null) return;
  const textProblems = opened.problems.map(({ file: _file, ...found }) => found as typeof opened.problems[number]);
  for (const { form, file } of targets) {
    const text = await writeReport({ document: opened.document, path: opened.place.path, outcome, textProblems, limits: defaultLimits, version }, form);
    if (text === null) throw new UsageError("the report was stopped");
    if (file === null) await terminal.out(text);
    else await writeResults(file, text, opened, ran.inputs);
  }
}
