import path from "node:path";
import type { Problem } from "../../core/problem";

/** Where problems are said: the working folder, and the root that the files of problems are relative to. */
export interface SaidFrom {
  readonly folder: string;
  readonly root: string;
}

/**
 * Lines for a terminal: file, place, severity, message and code, then the hint, and of an export the session file that
 * reads it, where what is wrong is mostly put right. Control characters are shown escaped.
 *
 * The file is named from the working folder, so that it can be opened from there.
 */
export function sayProblem(found: Problem, from: SaidFrom): string {
  const file = found.file === undefined ? "" : sayFile(found.file, from);
  const { line, column } = found.range.start;
  const hint = found.hint === "" ? "" : `\n    ${found.hint}`;
  const session = found.session === undefined ? "" : `\n    read by ${sayFile(found.session, from)}`;
  return forTerminal(`${file}:${line}:${column}: ${found.severity}: ${found.message} [${found.code}]${hint}${session}\n`);
}

/** A file of the root, as it is named from the working folder. */
export function sayFile(file: string, { folder, root }: SaidFrom): string {
  return path.relative(folder, path.join(root, file));
}

/** How many errors, warnings and notes there are, in words. */
export function countProblems(problems: readonly Problem[]): string {
  const of = (severity: Problem["severity"], word: string): string => {
    const count = problems.filter((found) => found.severity === severity).length;
    return `${count} ${word}${count === 1 ? "" : "s"}`;
  };
  return `${of("error", "error")}, ${of("warning", "warning")}, ${of("info", "note")}`;
}

/** Text from data as a terminal may print it: escape sequences and other control characters are made visible. */
export function forTerminal(text: string): string {
  // oxlint-disable-next-line no-control-regex -- making control characters harmless is the purpose
  return text.replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);
}
