import { constantColumns, constantInWords } from "./constant-columns";
import type { ResultPayload, TablePayload } from "./payload";
import { areHiddenNamed, columnLines, hiddenInWords, rowsInWords, sideBySide, widthOf, wordsBelow } from "./plain-text";
import { plainMarkdown } from "./prose";
import { inert } from "./show-value";

/** Room for a text: columns of a terminal, and lines that the rows of one table should not go far beyond. */
export interface Room {
  readonly columns: number;
  readonly lines: number;
  /** Where the rows and columns are that are not shown: `all with --json`. */
  readonly elsewhere?: string;
}

/** Rows of a table that are shown however many columns it has. */
const fewestRows = 3;
/** Columns that are repeated at most, so that the rows of a table in several parts can be told apart. */
const mostKeys = 3;
/** A terminal narrower than this is treated as if it were this wide. */
const narrowest = 40;

/**
 * A result as plain text that is no wider than a terminal.
 *
 * A table that is too wide is shown in parts below one another, with fewer rows; what is the same in every row shown
 * is said once. A chart is its description alone: its numbers are in the table that it draws.
 */
export function fittedText(result: ResultPayload, given: Room): string {
  const room = { ...given, columns: Math.max(narrowest, given.columns) };
  switch (result.type) {
    case "table":
      return fittedTable(result, room);
    case "chart": {
      const { row_count: rows } = result.table;
      return `${wrapped(inert(result.description), room.columns)}\n(a chart of ${rows} ${rows === 1 ? "row" : "rows"})`;
    }
    case "text":
      return linesOf(result.markdown, room.columns);
  }
}

/** Markdown as plain text, its paragraphs broken between words; rows of a table and lines of code are left whole. */
function linesOf(markdown: string, width: number): string {
  const lines = plainMarkdown(markdown).split("\n");
  return lines.map((line) => (/^(?:\||\t| {4})/u.test(line) ? line : wrapped(line, width))).join("\n");
}

function fittedTable(table: TablePayload, room: Room): string {
  const shown = table.columns.flatMap((column, index) => (column.hidden ? [] : [index]));
  const whole = sideBySide(shown.map((index) => columnLines(table, index)));
  const { lines, rows, same } = whole.every((line) => widthOf(line) <= room.columns)
    ? { lines: whole, rows: table.rows, same: "" }
    : inParts(table, shown, room);
  const isAllTold = rows.length === table.row_count && areHiddenNamed(table);
  const elsewhere = isAllTold || room.elsewhere === undefined ? "" : `; ${room.elsewhere}`;
  return [
    ...lines,
    ...(same === "" ? [] : [wrapped(same, room.columns)]),
    wrapped(rowsInWords({ rows, row_count: table.row_count }) + hiddenInWords(table) + elsewhere, room.columns),
    ...wordsBelow(table).flatMap((group) => ["", ...group.map((text) => wrapped(text, room.columns))]),
  ].join("\n");
}

/** A table's columns in as many parts as it takes, and its first rows. */
function inParts(table: TablePayload, shown: readonly number[], room: Room): { lines: readonly string[]; rows: TablePayload["rows"]; same: string } {
  const constant = constantColumns(table, shown);
  const varying = shown.filter((index) => !constant.includes(index));
  const keys = keyColumns(table, varying, room.columns);
  const parts = divide(table, varying, keys, room.columns);
  const rows = table.rows.slice(0, Math.max(fewestRows, Math.floor(room.lines / Math.max(1, parts.length))));
  const cut = { ...table, rows };
  return {
    lines: parts.flatMap((part, index) => [...(index === 0 ? [] : [""]), ...sideBySide(part.map((column) => columnLines(cut, column)))]),
    rows,
    same: constantInWords(table, constant, rows.length),
  };
}

/**
 * The fewest leading columns that tell the rows apart, or the first alone where a few do not; none where they leave no
 * room for the others.
 */
function keyColumns(table: TablePayload, columns: readonly number[], width: number): readonly number[] {
  const widths = columns.map((index) => widthOfColumn(table, index));
  const leavesRoom = (count: number): boolean => {
    const used = widths.slice(0, count).reduce((sum, own) => sum + own + 2, 0);
    return used <= width / 2 && used + Math.max(...widths.slice(count)) <= width;
  };
  for (let count = 1; count <= Math.min(mostKeys, columns.length - 1) && leavesRoom(count); count++) {
    const keys = columns.slice(0, count);
    if (new Set(table.rows.map((row) => JSON.stringify(keys.map((index) => row[index])))).size === table.rows.length) return keys;
  }
  return leavesRoom(1) ? columns.slice(0, 1) : [];
}

/** The columns in parts that are no wider than `width`, each beginning with the key columns. */
function divide(table: TablePayload, columns: readonly number[], keys: readonly number[], width: number): readonly (readonly number[])[] {
  const parts: number[][] = [];
  let used = Infinity;
  for (const index of columns.slice(keys.length)) {
    const own = widthOfColumn(table, index) + 2;
    if (used + own > width + 2) {
      parts.push([...keys]);
      used = keys.reduce((sum, key) => sum + widthOfColumn(table, key) + 2, 0);
    }
    parts.at(-1)!.push(index);
    used += own;
  }
  return parts.length === 0 ? [[...columns]] : parts;
}

function widthOfColumn(table: TablePayload, index: number): number {
  return widthOf(columnLines(table, index)[0]!);
}

/** The text in lines of at most `width`, broken between words; a longer word has a line of its own. */
export function wrapped(text: string, width: number): string {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && widthOf(last) + 1 + widthOf(word) <= width) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines.join("\n");
}
