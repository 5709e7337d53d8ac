import { missingMark } from "../present/format-number";
import type { PayloadColumn, TablePayload } from "../present/payload";
import { hiddenInWords, rowsInWords } from "../present/plain-text";
import { cut, digitsIn, headingOf, showValue } from "../present/show-value";
import type { ProvenanceTable } from "./provenance";
import { element, escapeHtml, type Html } from "./html-text";

/** Characters of one value; longer text is cut. */
const longest = 160;

/** Characters of a value that stays on one line, and of a word that may be broken anywhere. */
const [short, unbroken] = [24, 32];
/** Columns beyond which a table is printed small, and on a page turned sideways. */
const [broad, wide, vast] = [10, 18, 30];
/** Rows beyond which a table scrolls by itself on a screen. */
const tall = 16;

/** A table with caption, units in its head and decimals below one another; a reader scrolls what is too wide. */
export function htmlTable(table: TablePayload, name: string): Html {
  const kept = table.columns.map((column, index) => ({ column, index })).filter(({ column }) => !column.hidden);
  const caption = `${name}: ${rowsInWords(table)}${hiddenInWords(table)}`;
  if (kept.length === 0) return element("p", { class: "count" }, escapeHtml(caption));
  const most = kept.map(({ column }) => mostDigits(column));
  const head = kept.map(({ column }) => element("th", { scope: "col", class: column.kind === "number" ? "number" : null }, headingHtml(cut(headingOf(column), longest))));
  const rows = table.rows.map((row) => {
    const cells = kept.map(({ column, index }, at) => {
      const value = row[index] ?? null;
      const shown = cut(showValue(value, column, row), longest);
      const padded = typeof value === "number" ? shown + padding(digitsIn(column, row), most[at]!) : shown;
      if (at === 0 && column.kind === "text") return element("th", { scope: "row", class: classOf(shown) }, marked(padded));
      return element("td", { class: column.kind === "number" ? "number" : classOf(shown) }, marked(padded));
    });
    return element("tr", {}, ...cells);
  });
  return scrolled(caption, caption, head, rows);
}

/** A list of the provenance as a table. */
export function htmlProvenanceTable({ title, columns, rows }: ProvenanceTable): Html {
  const head = columns.map(({ name, isNumber }) => element("th", { scope: "col", class: isNumber ? "number" : null }, escapeHtml(name)));
  const body = rows.map((row) =>
    element("tr", {}, ...row.map((text, at) => (at === 0 ? element("th", { scope: "row", class: classOf(text) }, marked(text)) : element("td", { class: columns[at]?.isNumber ? "number" : classOf(text) }, marked(text))))),
  );
  return scrolled(title, title, head, body);
}

function scrolled(caption: string, label: string, head: readonly Html[], rows: readonly Html[]): Html {
  return element(
    "div",
    { class: ["scroll", ...(head.length > vast ? ["wide", "vast"] : head.length > wide ? ["wide"] : head.length > broad ? ["broad"] : []), ...(rows.length > tall ? ["tall"] : [])].join(" "), tabindex: "0", role: "group", "aria-label": label },
    element("table", {}, element("caption", {}, escapeHtml(caption)), element("thead", {}, element("tr", {}, ...head)), element("tbody", {}, ...rows.map((row) => `${row}\n`))),
  );
}

/** A value's HTML; the missing mark says what it is. */
function marked(text: string): Html {
  return text === missingMark ? element("abbr", { title: "missing" }, escapeHtml(text)) : escapeHtml(text);
}

/** How a text may be broken: short ones not at all, long words anywhere. */
function classOf(text: string): string | null {
  if (text.length <= short) return "short";
  return text.split(/\s/u).some((word) => word.length > unbroken) ? "long" : null;
}

/** A heading that may be broken behind the low lines of a column's name. */
function headingHtml(text: string): Html {
  return escapeHtml(text).replaceAll("_", "_<wbr />");
}

function mostDigits({ digits, digitsBy }: PayloadColumn): number {
  return Math.max(digits ?? 0, ...Object.values(digitsBy?.digits ?? {}));
}

/** Space as wide as the decimals that a number lacks beside the others of its column: a point and figures. */
function padding(digits: number, most: number): string {
  return digits >= most ? "" : `${digits === 0 ? "\u2008" : ""}${"\u2007".repeat(most - digits)}`;
}
