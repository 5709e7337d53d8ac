import type { FormResult } from "../../core/present/form-message";
import type { Problem } from "../../core/problem";
import { unreadText, type HeadCount } from "../../core/session/new-session";

/** Problems that are listed one by one; the rest is counted. */
const listed = 12;

/** What a new session makes of its exports, in words, and the shots of each head. */
export function resultOf(text: string, heads: readonly HeadCount[], problems: readonly Problem[]): FormResult {
  const shots = heads.reduce((sum, head) => sum + head.shots, 0);
  const found = problems.filter(({ severity }) => severity !== "info");
  const more = found.length - listed;
  return {
    text,
    words: [
      `${shots} ${shots === 1 ? "shot" : "shots"} of ${heads.length} ${heads.length === 1 ? "head" : "heads"}, ${found.length === 0 ? "and nothing wrong with them" : `and ${found.length} ${found.length === 1 ? "problem" : "problems"}`}:`,
      ...found.slice(0, listed).map((each) => `⚠ ${sayFound(each)}`),
      ...(more > 0 ? [`⚠ … and ${more} more, which the notebook says when it runs.`] : []),
    ],
    table: { headings: ["Head", "Shots", "Stints"], rows: heads.map((head) => [head.head ?? "no head", String(head.shots), String(head.stints)]) },
  };
}

/** Why nothing can be proposed for exports with these problems, and what helps; `null` where something can. */
export function refusalOf(problems: readonly Problem[]): string | null {
  const unread = unreadText(problems);
  return unread.length === 0 ? null : unread.map((found) => `${sayFound(found)}; ${found.hint}.`).join(" ");
}

/** A problem in a line: where in the export, or in the session file, it is. */
export function sayFound({ file, range, message }: Problem): string {
  return file === undefined ? `session file, line ${range.start.line}: ${message}` : `${file}, line ${range.start.line}, column ${range.start.column}: ${message}`;
}
