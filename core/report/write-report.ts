import { htmlReport } from "./html-report";
import { markdownReport } from "./markdown-report";
import { makeReport, type ReportSource } from "./report";

/** The forms that a report can have. */
export type ReportForm = "html" | "markdown";

/**
 * The report of a run in one form; the same run gives the same bytes.
 *
 * @param isCancelled asked now and then while charts are drawn.
 * @returns `null` when it was cancelled.
 */
export async function writeReport(source: ReportSource, form: ReportForm, isCancelled?: () => boolean): Promise<string | null> {
  const report = makeReport(source);
  return form === "html" ? htmlReport(report, isCancelled) : markdownReport(report);
}
