import { fenceOf } from "../../core/notebook/fence";
import { isBlank } from "../../core/notebook/lines";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { lineTable } from "../../core/text-position";
import type { Suggestion } from "./answers";
import { completeFront } from "./complete-front";
import { completeHeader } from "./complete-header";
import { completeNotebook } from "./features";
import type { CellView, NotebookView } from "./notebook-view";

/** A stretch of a notebook's text that is about to become a cell, and where it begins in the text. */
interface Begun {
  readonly kind: CellView["kind"];
  readonly text: string;
  readonly from: number;
}

/** The beginning of a notebook, as a snippet. */
const firstFront = "---\nfairstrike: 1\nshots: $1\n---\n";
const firstCell = `\n\`\`\`js query=\${2:first}\nshots$0\n\`\`\`\n`;

/**
 * What can stand at `offset` of a notebook that is open as text, where there is no cell yet: the beginning of an empty
 * notebook, keys of front matter that is not closed, a first line behind a fence, and the line below the last one of a
 * cell that is not closed. Elsewhere in prose there is nothing.
 *
 * @param view what is known of the cells that `text` has.
 * @param text the whole text; its lines end in LF.
 * @returns suggestions whose stretches are in `text`.
 */
export async function completeText(view: NotebookView, text: string, offset: number): Promise<readonly Suggestion[]> {
  if (/^\s*(?:[a-z]*|--?)\s*$|^\s*---$/u.test(text)) return beginnings(text, offset);
  const table = lineTable(text);
  const lines = text.split("\n");
  const line = table.positionAt(offset).line - 1;
  const startOf = (index: number): number => table.offsetAt({ line: index + 1, column: 1 });
  const below = line === lines.length - 1 && lines[line] === "" ? unclosedCell(view, text) : null;
  // A line that is still empty is in no cell: to complete it, the cell has it.
  if (below !== null) return at(await completeNotebook(withCell(view, below), below.index, below.text.length), offset - below.text.length);
  const header = fenceHeader(lines[line]!, startOf(line));
  if (header !== null && offset >= header.from) return begun(view, header, offset, completeHeader);
  const front = unclosedFront(lines, line);
  return front === null ? [] : begun(view, { kind: "front", text: front, from: startOf(1) }, offset, completeFront);
}

function beginnings(text: string, offset: number): readonly Suggestion[] {
  const word = /[a-z-]+/u.exec(text);
  const from = word?.index ?? offset;
  const to = from + (word?.[0].length ?? 0);
  if (offset < from || offset > to) return [];
  const base = { kind: "snippet", replace: { from, to }, isSnippet: true, filter: text.trim() } as const;
  return [
    { ...base, label: "notebook", insert: `${firstFront}${firstCell}`, detail: "front matter and a first query" },
    { ...base, label: "---", insert: firstFront, detail: "front matter: which shots, in which units" },
  ];
}

/** The last cell with an empty line more, where it is a query or chart that the end of the text closes; else `null`. */
function unclosedCell(view: NotebookView, text: string): CellView | null {
  const last = view.cells.at(-1);
  const isOpen = parseNotebook(text).value.cells.at(-1)?.form.closing === "";
  return last !== undefined && isOpen ? { ...last, text: `${last.text}\n` } : null;
}

/** What stands behind a fence and its word, where no cell begins there yet. */
function fenceHeader(line: string, start: number): Begun | null {
  const fence = fenceOf(line);
  const words = /^[ \t]*(?<word>[^\s=]+)[ \t]+(?<rest>[^\n]*)$/u.exec(fence?.info ?? "")?.groups;
  if (words === undefined) return null;
  const text = words["rest"]!;
  return { kind: /json|chart/iu.test(words["word"]!) ? "chart" : "query", text, from: start + line.length - text.length };
}

/** What stands behind a `---` at the beginning that nothing closes, as long as no empty line comes before the cursor's. */
function unclosedFront(lines: readonly string[], cursor: number): string | null {
  if (cursor === 0 || !/^\ufeff?---[ \t]*$/u.test(lines[0]!) || lines.slice(1, cursor).some((line) => isBlank(line) || fenceOf(line) !== null)) return null;
  const end = lines.findIndex((line, i) => i > cursor && (isBlank(line) || fenceOf(line) !== null));
  return lines.slice(1, end < 0 ? undefined : end).join("\n");
}

/** What can stand in a text that becomes a cell behind all others. */
async function begun(
  view: NotebookView,
  { kind, text, from }: Begun,
  offset: number,
  complete: (view: NotebookView, cell: number, offset: number) => readonly Suggestion[] | Promise<readonly Suggestion[]>,
): Promise<readonly Suggestion[]> {
  const index = view.cells.length;
  const checked: CellView["checked"] = { index, kind, name: "", header: null, query: null, chart: null, references: [], needs: [], schema: null, problems: [], key: null, basis: {} };
  return at(await complete(withCell(view, { index, kind, text, checked }), index, offset - from), from);
}

function withCell(view: NotebookView, cell: CellView): NotebookView {
  return { ...view, cells: [...view.cells.slice(0, cell.index), cell, ...view.cells.slice(cell.index + 1)] };
}

function at(suggestions: readonly Suggestion[], from: number): readonly Suggestion[] {
  return suggestions.map((each) => ({ ...each, replace: { from: each.replace.from + from, to: each.replace.to + from } }));
}
