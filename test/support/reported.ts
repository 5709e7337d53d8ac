import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { writeReport, type ReportForm } from "../../core/report/write-report";
import { createEngine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { memoryFiles } from "./memory-files";
import { smallFiles } from "./small-session";

/** The report of a notebook's text, which stands beside the small session unless other files are given. */
export async function reported(text: string, form: ReportForm, files: Readonly<Record<string, string>> = smallFiles, path = "n.shots.md"): Promise<string> {
  const engine = createEngine({ files: memoryFiles(files), vocabulary, limits: defaultLimits, clock: () => 0 });
  const document = parseNotebook(text).value;
  const outcome = await engine.run(document, path);
  return (await writeReport({ document, path, outcome, limits: defaultLimits, version: "0.0.0" }, form))!;
}
