/** A place in a text: line and column, both from 1; columns count UTF-16 units. */
export interface TextPosition {
  readonly line: number;
  readonly column: number;
}

/** A stretch of text from `start` up to, not including, `end`. */
export interface TextRange {
  readonly start: TextPosition;
  readonly end: TextPosition;
}

/** Finds places in a text; made once a text. LF, CRLF and a lone CR each end a line. */
export interface LineTable {
  readonly lineCount: number;
  /** The position of the UTF-16 offset `offset`, clamped to the text. */
  positionAt(offset: number): TextPosition;
  /** The range of the offsets `from` up to `to`. */
  rangeAt(from: number, to: number): TextRange;
  /** The UTF-16 offset of a position, clamped to its line. */
  offsetAt(position: TextPosition): number;
}

/** The part of a range that is on its first line: what is marked where a range of several lines would mark too much. */
export function onOneLine({ start, end }: TextRange, lines: LineTable): TextRange {
  return end.line === start.line ? { start, end } : { start, end: lines.positionAt(lines.offsetAt({ line: start.line, column: Infinity })) };
}

/** The very beginning of a text, for problems that concern the whole of it. */
export const textStart: TextRange = { start: { line: 1, column: 1 }, end: { line: 1, column: 1 } };

/** Returns a line table of `text`. */
export function lineTable(text: string): LineTable {
  const starts = [0];
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 13 && text.charCodeAt(i + 1) === 10) i++;
    if (c === 10 || c === 13) starts.push(i + 1);
  }
  const positionAt = (offset: number): TextPosition => {
    const at = Math.max(0, Math.min(offset, text.length));
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= at) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: at - starts[low]! + 1 };
  };
  return {
    lineCount: starts.length,
    positionAt,
    rangeAt: (from, to) => ({ start: positionAt(from), end: positionAt(to) }),
    offsetAt: ({ line, column }) => {
      const index = Math.max(0, Math.min(line - 1, starts.length - 1));
      const next = starts[index + 1] ?? text.length + 1;
      return Math.max(starts[index]!, Math.min(starts[index]! + column - 1, next - 1));
    },
  };
}
