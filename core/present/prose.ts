import { markdownText } from "./table-markdown";

/** What a hole of a text gives: words within a line, or a block with a line to itself. Both are Markdown. */
export interface Piece {
  readonly kind: "words" | "block";
  readonly markdown: string;
}

/**
 * The text as literal Markdown for the middle of somebody's words: nothing in it becomes markup, wherever on a line it
 * stands and whatever stands beside it.
 *
 * Source: CommonMark 0.31.2, backslash escapes, list markers, setext headings.
 */
export function proseText(text: string): string {
  return markdownText(text)
    .replace(/^(\d{1,9})(?=[.)](?:\s|$))/u, "$1\\")
    .replace(/^(?!\\)(?=[!-/:-@[-`{-~])/u, "\\");
}

/**
 * A text with what its holes give, as Markdown.
 *
 * The author's words stay as they are, but for a backslash where they and what a hole gives would make markup
 * together; blank lines stand around a block, and none at the ends.
 *
 * @param texts what stands between the pieces: one more than there are pieces.
 */
export function joinProse(texts: readonly string[], pieces: readonly Piece[]): string {
  let text = texts[0]!;
  for (const [index, { kind, markdown }] of pieces.entries()) {
    const next = texts[index + 1]!;
    if (kind === "words") text = `${withWords(text, markdown)}${endsAsListNumber(text, markdown, next) ? "\\" : ""}${next}`;
    else text = `${withoutBlankEnd(text)}\n\n${markdown.trimEnd()}\n\n${withoutBlankStart(next)}`;
  }
  return withoutBlankEnd(withoutBlankStart(text));
}

/** Markdown as plain text: as it is, with its backslash escapes read. */
export function plainMarkdown(markdown: string): string {
  return markdown.replace(/\\([!-/:-@[-`{-~])/gu, "$1");
}

function withWords(before: string, words: string): string {
  // A backslash of the author's would take the place of the one that keeps the first character from being markup.
  let backslashes = 0;
  while (before[before.length - 1 - backslashes] === "\\") backslashes++;
  const isOpen = backslashes % 2 === 1 && /^[!-/:-@[-`{-~]/u.test(words);
  return `${before}${isOpen ? "\\" : ""}${words}`;
}

/** True for `12` before the author's `. `, at the beginning of a line: a number, and no item of a list. */
function endsAsListNumber(before: string, words: string, next: string): boolean {
  if (!/\d$/u.test(words) || !/^[.)](?:\s|$)/u.test(next)) return false;
  return !/\p{L}/u.test(before.slice(before.lastIndexOf("\n") + 1) + words);
}

function withoutBlankStart(text: string): string {
  return text.replace(/^(?:[ \t]*\n)+/u, "");
}

function withoutBlankEnd(text: string): string {
  return text.trimEnd();
}
