import type { TextPosition, TextRange } from "../text-position";
import { characterLength } from "./utf8";

const lf = 10;
const cr = 13;

/** A place whose line and column are known, from which others are counted. */
export interface KnownPlace {
  /** The byte at which `line`, `column` is. */
  readonly at: number;
  readonly line: number;
  readonly column: number;
}

/**
 * The positions of some bytes of a UTF-8 text, in one walk from a known place.
 *
 * LF, CRLF and a lone CR each end a line; columns count UTF-16 units; a byte that is no character counts one.
 * @param offsets byte offsets, ascending, none before `from.at`.
 */
export function positionsOfBytes(bytes: Uint8Array, offsets: readonly number[], from: KnownPlace): TextPosition[] {
  let { at, line, column } = from;
  return offsets.map((offset) => {
    const end = Math.min(offset, bytes.length);
    while (at < end) {
      const byte = bytes[at]!;
      const length = byte < 0x80 ? 1 : Math.max(1, characterLength(bytes, at, bytes.length));
      if (byte === lf || (byte === cr && bytes[at + 1] !== lf)) {
        line++;
        column = 1;
      } else column += length === 4 ? 2 : 1;
      at += length;
    }
    return { line, column };
  });
}

/** The range of the bytes `start` up to `end`, counted from a known place before them. */
export function rangeOfBytes(bytes: Uint8Array, start: number, end: number, from: KnownPlace): TextRange {
  const [first, last] = positionsOfBytes(bytes, [start, Math.max(start, end)], from);
  return { start: first!, end: last! };
}
