import { readJson } from "./json-tree";

/**
 * The brackets that a JSON text lacks at its end, where they alone make it JSON; `null` where they do not.
 *
 * @param start where the value begins in `text`.
 * @returns them with the line ends or spaces before them, and where they go: behind what is written.
 * @example missingBrackets('{ "a": [1', 0, 9) // { offset: 9, text: "] }" }
 */
export function missingBrackets(text: string, start: number, depth: number): { readonly offset: number; readonly text: string } | null {
  const end = text.trimEnd().length;
  const open = openBrackets(text, start, end);
  if (open.length === 0 || open.length > depth) return null;
  const added = open.toReversed().map((at) => closing(text, at, end)).join("");
  return "value" in readJson(text.slice(0, end) + added, start, depth) ? { offset: end, text: added } : null;
}

/** Where the brackets stand that are open at `end`, outermost first; those within texts are none. */
function openBrackets(text: string, start: number, end: number): readonly number[] {
  const open: number[] = [];
  for (const { 0: sign, index } of text.slice(start, end).matchAll(/"(?:[^"\\\n]|\\.)*"?|[{}[\]]/gu)) {
    if (sign === "{" || sign === "[") open.push(start + index);
    else if (sign === "}" || sign === "]") open.pop();
  }
  return open;
}

/** The bracket that closes the one at `from`, on a line of its own where lines end between the two. */
function closing(text: string, from: number, end: number): string {
  const sign = text[from] === "{" ? "}" : "]";
  if (!text.slice(from, end).includes("\n")) return sign === "}" ? " }" : sign;
  const indent = /^[ \t]*/u.exec(text.slice(text.lastIndexOf("\n", from) + 1))![0];
  return `\n${indent}${sign}`;
}
