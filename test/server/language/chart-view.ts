import { lineTable } from "../../../core/text-position";
import type { Suggestion } from "../../../server/language/answers";
import type { NotebookView } from "../../../server/language/notebook-view";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";

/** The first line of the chart cells of these tests. */
export const chartLine = 'chart=c table=shots description="Shots."\n';

/** The view of a notebook with one chart cell of this marked text behind a query `stock`, and where the mark was. */
export async function chartView(marked: string): Promise<{ view: NotebookView; cell: number; text: string; offset: number }> {
  const { text, offset } = atMark(marked);
  const view = await notebookView([smallFront, ["query", "query=stock\nshots.filter(d => d.carry > 150)"], ["chart", text]]);
  return { view, cell: 2, text, offset };
}

/** The text after a suggestion was taken, with what a snippet would put there if nothing more is typed. */
export function accepted(text: string, { replace, insert, isSnippet }: Suggestion): string {
  const written = isSnippet ? insert.replace(/\\([\\$}])|\$\{\d+:((?:\\.|[^}\\])*)\}|\$\{?\d+\}?/gu, (_, c: string | undefined, word: string | undefined) => c ?? (word ?? "").replace(/\\(.)/gu, "$1")) : insert;
  return text.slice(0, replace.from) + written + text.slice(replace.to);
}

/** What is wrong with a chart cell of this text: `code at the marked text`. */
export async function problemsOf(text: string): Promise<readonly string[]> {
  const { view, cell } = await chartView(`${text}¦`);
  const lines = lineTable(text);
  return view.cells[cell]!.checked.problems.map(({ code, range }) => `${code} at ${text.slice(lines.offsetAt(range.start), lines.offsetAt(range.end))}`);
}
