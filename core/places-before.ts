import type { Replacement } from "./replace-spans";
import type { LineTable, TextPosition, TextRange } from "./text-position";

/**
 * Gives places of a text, in which replacements were made, each within a line, their place in the text as it was.
 *
 * @param lines of the text as it was.
 */
export function placesBefore(mends: readonly Replacement[], lines: LineTable): (range: TextRange) => TextRange {
  const byLine = new Map<number, { readonly from: number; readonly old: number; readonly text: number }[]>();
  for (const { from, to, text } of mends) {
    const { line, column } = lines.positionAt(from);
    const others = byLine.get(line) ?? [];
    others.push({ from: column, old: to - from, text: text.length });
    byLine.set(line, others);
  }
  const before = ({ line, column }: TextPosition): TextPosition => {
    let shift = 0;
    for (const { from, old, text } of byLine.get(line) ?? []) {
      if (column - shift <= from) break;
      if (column - shift < from + text) return { line, column: from + Math.min(column - shift - from, old) };
      shift += text - old;
    }
    return { line, column: column - shift };
  };
  return ({ start, end }) => ({ start: before(start), end: before(end) });
}
