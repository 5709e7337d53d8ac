import type { PayloadColumn, ResultPayload, TablePayload } from "./payload";
import { missingMark } from "./format-number";
import { plainMarkdown } from "./prose";
import { cut, headingOf, inert, showValue } from "./show-value";

/** Characters of one value; longer text is cut, since a column is as wide as its longest value. */
const widest = 48;

/** A result as plain text, for terminals, screen readers and wherever nothing is drawn. */
export function plainText(result: ResultPayload): string {
  switch (result.type) {
    case "table":
      return tableText(result);
    case "chart":
      return `${inert(result.description)}\n\n${tableText(result.table)}`;
    case "text":
      return plainMarkdown(result.markdown);
  }
}

/** The count of rows in words, and how many of them are there: `showing 1–200 of 1 000 rows`. */
export function rowsInWords(table: Pick<TablePayload, "rows" | "row_count">): string {
  const total = table.row_count;
  if (table.rows.length < total) return `showing 1–${table.rows.length} of ${total} rows`;
  return total === 1 ? "1 row" : `${total} rows`;
}

/** Columns that are not shown, beyond which they are counted and not named. */
const mostNamed = 4;

/** Whether the columns that are not shown are so few that each is named. */
export function areHiddenNamed({ columns }: Pick<TablePayload, "columns">): boolean {
  return columns.filter(({ hidden }) => hidden).length <= mostNamed;
}

/** The columns that are not shown, to be said behind the rows: `; 2 more columns (df, p)`, empty where all are shown. */
export function hiddenInWords({ columns }: Pick<TablePayload, "columns">): string {
  const hidden = columns.filter((column) => column.hidden);
  if (hidden.length === 0) return "";
  const names = areHiddenNamed({ columns }) ? ` (${hidden.map(({ name }) => cut(inert(name), widest)).join(", ")})` : "";
  return `; ${hidden.length} more ${hidden.length === 1 ? "column" : "columns"}${names}`;
}

/**
 * A table as plain text: the sentences of its answer first, since whoever listens should not have to hear all numbers before
 * them; columns aligned, units in the heading, the count of rows, what the mark of a missing value is; then details, notes and
 * method.
 *
 * Numbers stand at the right of their column with one count of decimals, so that their points are below one another.
 */
export function tableText(table: TablePayload): string {
  const [answer = [], ...below] = wordsBelow(table);
  const isAnswered = table.sentences.length > 0 && table.answer !== 0;
  const groups = [...(isAnswered ? [answer] : []), rowLines(table), ...(isAnswered ? below : wordsBelow(table))];
  return groups.map((group) => group.join("\n")).join("\n\n");
}

/** The heading, the rows and what is to be said of them; of a table without rows the names of its columns. */
function rowLines(table: TablePayload): readonly string[] {
  const kept = table.columns.map((column, index) => ({ column, index })).filter(({ column }) => !column.hidden);
  if (table.row_count === 0) return [`No rows. Columns: ${kept.map(({ column }) => cut(headingOf(column), widest)).join(", ")}${hiddenInWords(table)}`];
  const hasMissing = table.rows.some((row) => kept.some(({ index }) => (row[index] ?? null) === null));
  const told = hasMissing ? `; ${missingMark} marks a missing value` : "";
  return [...sideBySide(kept.map(({ index }) => columnLines(table, index))), rowsInWords(table) + hiddenInWords(table) + told];
}

/**
 * What stands below a table's rows: the sentences of its answer, those of its details, its notes and its method, each
 * group that is there; labels of the data in them are inert.
 */
export function wordsBelow({ sentences, answer = sentences.length, notes, method }: TablePayload): readonly (readonly string[])[] {
  const groups = [sentences.slice(0, answer), sentences.slice(answer), notes, method === null ? [] : [`Method: ${method}`]];
  return groups.filter((group) => group.length > 0).map((group) => group.map(inert));
}

/** A column's heading and values, one a line and all of one width. */
export function columnLines({ columns, rows }: TablePayload, index: number): readonly string[] {
  const column = columns[index]!;
  return aligned(column, [headingOf(column), ...rows.map((row) => showValue(row[index] ?? null, column, row))]);
}

/** The lines of columns of equal height, two spaces between columns. */
export function sideBySide(columns: readonly (readonly string[])[]): string[] {
  return (columns[0] ?? []).map((_, line) => columns.map((column) => column[line]!).join("  ").trimEnd());
}

function aligned(column: PayloadColumn, texts: readonly string[]): string[] {
  const cells = texts.map((text) => cut(text, widest));
  const width = Math.max(...cells.map(widthOf));
  return cells.map((cell) => {
    const space = " ".repeat(width - widthOf(cell));
    return column.kind === "number" ? space + cell : cell + space;
  });
}

/** Columns of a terminal that the text takes: marks that combine take none, wide East Asian characters two. */
export function widthOf(text: string): number {
  let width = 0;
  for (const character of text) {
    if (/\p{M}/u.test(character)) continue;
    width += /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6\u{1f300}-\u{1faff}]/u.test(character) ? 2 : 1;
  }
  return width;
}
