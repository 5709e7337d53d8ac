import type { TablePayload } from "./payload";
import { headingOf, showValue } from "./show-value";

/**
 * A table as a GitHub Flavored Markdown table, one line a row, numbers as shown and aligned to the right.
 *
 * Names and text are escaped: nothing in them becomes a cell border, markup, HTML or a link. Line ends inside a text
 * are written `\u000a`. Columns that are hidden, and rows that are not there, are left out.
 * Source: GitHub Flavored Markdown Spec 0.29, tables; CommonMark 0.31.2, backslash escapes.
 */
export function tableMarkdown(table: TablePayload): string {
  const kept = table.columns.map((column, index) => ({ column, index })).filter(({ column }) => !column.hidden);
  if (kept.length === 0) return "";
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [
    line(kept.map(({ column }) => markdownText(headingOf(column)))),
    line(kept.map(({ column }) => (column.kind === "number" ? "---:" : "---"))),
    ...table.rows.map((row) => line(kept.map(({ column, index }) => markdownText(showValue(row[index] ?? null, column, row))))),
    "",
  ].join("\n");
}

/** The text as literal Markdown: every ASCII punctuation character that can begin markup, or an address, is escaped. */
export function markdownText(text: string): string {
  return text.replace(/[\\`*_{}[\]<>#|~!&$@]|[:/](?=\/)|\.(?=\p{L})/gu, (c) => `\\${c}`);
}
