import type { TextRange } from "../text-position";
import { rangeOfBytes } from "./byte-position";
import { decodeUtf8, utf16Length } from "./utf8";

/** What stands between two values of a row. */
export type Delimiter = "," | ";" | "\t" | "|";

/** The mark between the whole and the decimal part of a number. */
export type DecimalMark = "." | ",";

/** One name of the header: unique in its header, and where it stands. */
export interface HeaderCell {
  readonly name: string;
  readonly range: TextRange;
}

/**
 * Delimited text, taken apart but not decoded: where each field begins, and the bytes themselves.
 *
 * Every row has as many fields as the header: a short row has been filled with empty fields, what a long row had too
 * much is left out, and both are among the problems of reading. Blank lines are no rows.
 */
export interface DelimitedText {
  readonly header: readonly HeaderCell[];
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  /** True when the decimal mark was declared or seen in the numbers; false when it was assumed. */
  readonly decimalKnown: boolean;
  /** What ends the lines; `null` for a text of one line. */
  readonly lineEnd: "\n" | "\r\n" | "\r" | "mixed" | null;
  /** True when the file begins with a byte order mark. */
  readonly mark: boolean;
  readonly rowCount: number;
  readonly bytes: Uint8Array;
  /**
   * Field `c` of row `r` is the bytes from `starts[i]` up to `starts[i + 1] − 1`, with `i = r × (columns + 1) + c`;
   * quotes are still around it. Where the end is not after the start the field is empty.
   */
  readonly starts: Uint32Array;
  /** The line on which each row begins, from 1. */
  readonly lines: Uint32Array;
  /** Rows that had more values than the header, ascending: which of them belongs to which column is not known. */
  readonly longRows: readonly number[];
  /** UTF-16 units of the longest field that is read. */
  readonly longestField: number;
}

const quote = 34;

/**
 * The text of one field, quotes taken off and doubled quotes made one; `null` when it is not UTF-8 or is too long, which
 * reading has said.
 *
 * A field whose quotes do not fit together is its text as it stands, quotes and all.
 */
export function fieldText(text: DelimitedText, row: number, column: number): string | null {
  const index = row * (text.header.length + 1) + column;
  return spanText(text.bytes, text.starts[index]!, text.starts[index + 1]! - 1, text.longestField);
}

/** The text of the field in the bytes from `from` up to `to`; see `fieldText`. */
export function spanText(bytes: Uint8Array, from: number, to: number, longest: number): string | null {
  if (from >= to) return "";
  if (to - from > longest && isLonger(bytes, from, to, longest)) return null;
  if (bytes[from] !== quote) return decodeUtf8(bytes, from, to);
  let doubled = false;
  for (let at = from + 1; at < to; at++) {
    if (bytes[at] !== quote) continue;
    if (at === to - 1) {
      const inside = decodeUtf8(bytes, from + 1, at);
      return doubled && inside !== null ? inside.replaceAll('""', '"') : inside;
    }
    if (bytes[at + 1] !== quote) break;
    // The pair may be the last two bytes, and then nothing closes the field.
    doubled = true;
    at++;
  }
  return decodeUtf8(bytes, from, to);
}

/** The same text with nothing in the fields of its long rows, so that no value is taken from the wrong column. */
export function withoutLongRows(text: DelimitedText): DelimitedText {
  if (text.longRows.length === 0) return text;
  const starts = text.starts.slice();
  const stride = text.header.length + 1;
  for (const row of text.longRows) starts.fill(starts[row * stride]!, row * stride, (row + 1) * stride);
  return { ...text, starts };
}

function isLonger(bytes: Uint8Array, from: number, to: number, longest: number): boolean {
  // No UTF-16 unit takes more than three bytes, so most of what is too long need not be counted.
  return to - from > 3 * longest || utf16Length(bytes, from, to) > longest;
}

/** Where one field stands in its file, quotes included. */
export function fieldRange(text: DelimitedText, row: number, column: number): TextRange {
  const base = row * (text.header.length + 1);
  const from = text.starts[base + column]!;
  const to = Math.max(from, text.starts[base + column + 1]! - 1);
  return rangeOfBytes(text.bytes, from, to, { at: text.starts[base]!, line: text.lines[row]!, column: 1 });
}

/** Where a whole row stands in its file. */
export function rowRange(text: DelimitedText, row: number): TextRange {
  const base = row * (text.header.length + 1);
  const from = text.starts[base]!;
  const to = Math.max(from, text.starts[base + text.header.length]! - 1);
  return rangeOfBytes(text.bytes, from, to, { at: from, line: text.lines[row]!, column: 1 });
}
