import { inert } from "../present/show-value";
import type { Problem } from "../problem";

/** A problem as a report says it. */
export interface ProblemWords {
  /** Error, warning or note. */
  readonly kind: "Error:" | "Warning:" | "Note:";
  /** Where it is and what is wrong. */
  readonly words: string;
  /** What would be accepted; may be empty. */
  readonly hint: string;
}

/** A problem in words: its file, where it is in another than the notebook, its line, and what is wrong. */
export function problemInWords({ severity, message, hint, file, range }: Problem): ProblemWords {
  const kind = severity === "error" ? "Error:" : severity === "warning" ? "Warning:" : "Note:";
  const place = file === undefined ? `line ${range.start.line}` : `${inert(file)}, line ${range.start.line}`;
  return { kind, words: `${inert(message)} (${place})`, hint: inert(hint) };
}

/** How many cells of a notebook have no result: `2 of 12 cells have no result:`. */
export function withoutResultInWords(lost: number, total: number): string {
  return `${lost} of ${total} ${total === 1 ? "cell" : "cells"} ${lost === 1 ? "has" : "have"} no result:`;
}
