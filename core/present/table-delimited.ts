import { unitLabel } from "./format-number";
import type { PayloadColumn, PayloadValue, TablePayload } from "./payload";

/** How a table is written for other programs. */
export interface DelimitedOptions {
  readonly delimiter: "," | "\t";
  /**
   * `as data` writes text as it is, for programs that read tables; `for spreadsheets` puts an apostrophe before text
   * that a spreadsheet would take for a formula.
   */
  readonly text: "for spreadsheets" | "as data";
}

/**
 * A table as comma-separated text that a spreadsheet cannot take for formulas.
 *
 * Numbers have full precision and a point; missing is an empty field, empty text is `""`. All columns are written,
 * hidden ones as well, with their unit in the heading. Lines end with CR LF.
 * Source: RFC 4180; OWASP ASVS 4.0.3, 5.3 (formulas in text).
 */
export function tableCsv(table: TablePayload): string {
  return tableDelimited(table, { delimiter: ",", text: "for spreadsheets" });
}

/** The same with tabs, as spreadsheets take it from the clipboard. */
export function tableTsv(table: TablePayload): string {
  return tableDelimited(table, { delimiter: "\t", text: "for spreadsheets" });
}

/** A table as delimited text; see `DelimitedOptions`. */
export function tableDelimited(table: TablePayload, options: DelimitedOptions): string {
  const lines = [
    table.columns.map((column) => field(heading(column), options)),
    ...table.rows.map((row) => table.columns.map((_, index) => field(row[index] ?? null, options))),
  ];
  return lines.map((fields) => `${fields.join(options.delimiter)}\r\n`).join("");
}

function heading(column: PayloadColumn): string {
  return column.unit === null ? column.name : `${column.name} (${unitLabel(column.unit)})`;
}

function field(value: PayloadValue, options: DelimitedOptions): string {
  if (value === null) return "";
  if (typeof value !== "string") return String(value);
  const text = options.text === "for spreadsheets" && isFormula(value) ? `'${value}` : value;
  // oxlint-disable-next-line no-control-regex -- NUL is among what must be in quotes
  return text === "" || /[",\t\r\n\u0000]|^\s|\s$/u.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** True for text that a spreadsheet may evaluate: it begins, after any space, with a sign that starts a formula. */
function isFormula(text: string): boolean {
  // oxlint-disable-next-line no-control-regex -- NUL, tab and line ends are among what must not come first
  return /^[\u0000\t\r\n]|^[\s\u0000]*[=+\-@＝＋－＠]/u.test(text);
}
