import { parseNotebook } from "../../core/notebook/parse-notebook";
import { hasError, type Problem } from "../../core/problem";
import { readSession } from "../../core/session/read-session";
import { readYaml } from "../../core/yaml-text";
import type { NotebookView } from "./notebook-view";
import { problemMover } from "./placed-notebook";
import { syntaxProblems } from "./syntax-problems";

/**
 * What can be said at once of a session file that cannot be read as YAML: all that is wrong with its text, whatever its
 * exports hold. `null` for one that can be read.
 */
export function earlySessionProblems(text: string): readonly Problem[] | null {
  return hasError(readYaml(text).problems) ? readSession(text).problems : null;
}

/**
 * What can be said at once of a notebook that is open as text, where the text of a cell cannot be read: what is wrong with
 * cells as texts, and of those that are as they were checked last what was found then. `null` where every cell can be read.
 *
 * @param before what was checked last; `null` when nothing was.
 */
export function earlyNotebookProblems(text: string, before: NotebookView | null): readonly Problem[] | null {
  const { value: document, problems: whole } = parseNotebook(text);
  const keyOf = (cell: { readonly kind: string; readonly text: string }): string => `${cell.kind}\n${cell.text}`;
  const checked = new Map((before?.cells ?? []).map((cell) => [keyOf(cell), cell.checked.problems]));
  const found = document.cells.map((cell) => checked.get(keyOf(cell)) ?? null);
  const early = document.cells.map(({ kind, text: own }, index) => (found[index] === null ? syntaxProblems(kind, own) : []));
  if (early.every((problems) => problems.length === 0)) return null;
  const move = problemMover(text, document);
  return [...whole, ...early.flatMap((problems, index) => [...problems, ...(found[index] ?? [])].map((each) => move(index, each)))];
}
