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

/** What was last found in a session file with its exports: the problems in the session file itself, and its text. */
export interface FoundInSession {
  readonly text: string;
  readonly problems: readonly Problem[];
}

/**
 * What can be said of a session file before its exports are read again: all that is wrong with its text, and of what its
 * exports showed in it last whatever stands outside of the lines that changed since, where it stands now.
 *
 * @param before what was found last; `null` when nothing was.
 */
export function sessionTextProblems(text: string, before: FoundInSession | null): readonly Problem[] {
  const own = readSession(text).problems;
  if (before === null || hasError(readYaml(text).problems)) return own;
  const ofText = new Set(readSession(before.text).problems.map(keyOfProblem));
  return [...own, ...before.problems.filter((found) => !ofText.has(keyOfProblem(found))).flatMap(lineMover(before.text, text))];
}

function keyOfProblem({ code, range, message }: Problem): string {
  return JSON.stringify([code, range, message]);
}

/** Moves problems of a text into another, without fixes; those that touch a line that is not in the other are left out. */
function lineMover(before: string, now: string): (found: Problem) => readonly Problem[] {
  const [old, lines] = [linesOf(before), linesOf(now)];
  const most = Math.min(old.length, lines.length);
  let above = 0;
  while (above < most && old[above] === lines[above]) above++;
  let below = 0;
  while (below < most - above && old.at(-1 - below) === lines.at(-1 - below)) below++;
  const added = lines.length - old.length;
  return ({ fix: _ofBefore, mends: _none, ...found }) => {
    const { start, end } = found.range;
    if (end.line <= above) return [found];
    if (start.line <= old.length - below) return [];
    return [{ ...found, range: { start: { ...start, line: start.line + added }, end: { ...end, line: end.line + added } } }];
  };
}

function linesOf(text: string): readonly string[] {
  return text.split(/\r\n|\r|\n/u);
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
