import { formatNumber, missingMark, unitLabel } from "./format-number";
import type { PayloadColumn, PayloadValue } from "./payload";

/** Characters that change how other text is shown, or end a line. */
// oxlint-disable-next-line no-control-regex -- making control characters visible is the purpose
const unseen = /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\u{e0000}-\u{e007f}]/gu;

/** The text on one line, its control, invisible and direction characters written as `\u001b`. */
export function inert(text: string): string {
  return text.replace(unseen, (c) => `\\u${c.codePointAt(0)!.toString(16).padStart(4, "0")}`);
}

/** The text in at most `most` characters, with an ellipsis where it was cut. */
export function cut(text: string, most: number): string {
  if (text.length <= most) return text;
  const characters = Array.from(text);
  return characters.length <= most ? text : `${characters.slice(0, Math.max(0, most - 1)).join("")}…`;
}

/**
 * The value that a row has in a column, for a reader, without its unit: numbers with the column's decimals for such a
 * row, missing as the missing mark.
 *
 * Text that could be taken for missing or for nothing (empty, the mark itself, space at an end) is in quotes.
 */
export function showValue(value: PayloadValue, column: PayloadColumn, row: readonly PayloadValue[]): string {
  if (value === null) return missingMark;
  if (typeof value === "number") return formatNumber(value, digitsIn(column, row));
  if (typeof value === "boolean") return String(value);
  const text = inert(value);
  return text === "" || text === missingMark || text !== text.trim() ? `"${text}"` : text;
}

/** Decimals of a column's number in a row. */
export function digitsIn({ digits, digitsBy }: PayloadColumn, row: readonly PayloadValue[]): number {
  const text = digitsBy === undefined ? null : row[digitsBy.column];
  const own = typeof text === "string" && Object.hasOwn(digitsBy!.digits, text) ? digitsBy!.digits[text] : null;
  return own ?? digits ?? 0;
}

/** The heading of a column: its name, and its unit once: `carry (yd)`. */
export function headingOf(column: Pick<PayloadColumn, "name" | "unit">): string {
  const name = column.name === "" ? '""' : inert(column.name);
  return column.unit === null ? name : `${name} (${unitLabel(column.unit)})`;
}
