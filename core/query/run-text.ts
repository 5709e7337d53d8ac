import { formatMeasure, formatNumber } from "../present/format-number";
import { rowsInWords } from "../present/plain-text";
import { presentTable } from "../present/present-table";
import { proseText, type Piece } from "../present/prose";
import { digitsIn, inert, showValue } from "../present/show-value";
import { tableMarkdown } from "../present/table-markdown";
import { shapeOf } from "../table/schema";
import type { Report, Table } from "../table/table";
import { parseUnit, type Unit } from "../units";
import type { RowSurroundings } from "./check-row";
import { checkValue, type CheckedValue } from "./check-text";
import type { TextHole } from "./table-expression";

/** Rows of a table that a text shows; more belong in a cell of their own. */
const rowsInText = 50;

/**
 * What a hole of a text gives from its table, as Markdown in which nothing of the data is markup; `null` when the table
 * does not have what is asked for, which was reported.
 */
export function fillHole(hole: TextHole, table: Table, around: RowSurroundings): Piece | null {
  const { reporter } = around;
  switch (hole.kind) {
    case "value": {
      const value = checkValue(hole.call, shapeOf(table), around);
      if (value === null) return null;
      if (table.rowCount === 1) return { kind: "words", markdown: proseText(valueInWords(table, value)) };
      reporter.say("query.not-one-row", { count: table.rowCount }, hole.table);
      return null;
    }
    case "sentences": {
      const sentences = table.report === null ? [] : shortSentences(table.report);
      if (sentences.length > 0) return { kind: "words", markdown: proseText(sentences.map(inert).join(" ")) };
      reporter.say("query.no-sentences", { verb: "" }, hole.nameSpan);
      return null;
    }
    case "rows":
      return { kind: "block", markdown: rowsAsBlock(table) };
  }
}

/**
 * What a text says of a report: its answer and whose shots these were; all sentences of a report without an answer of
 * its own. That data are invented is said below every text.
 */
export function shortSentences({ sentences, answer = sentences.length }: Report): readonly string[] {
  return answer >= sentences.length ? sentences : [...sentences.slice(0, answer), sentences.at(-1)!];
}

/** The value of a column in the only row of a table, with its unit; decimals are those of the table unless asked for. */
function valueInWords(table: Table, { column: name, decimals }: CheckedValue): string {
  const { columns, rows } = presentTable(table, 1);
  const row = rows[0]!;
  const index = columns.findIndex((column) => column.name === name);
  const column = columns[index]!;
  const value = row[index] ?? null;
  if (typeof value !== "number") return showValue(value, column, row);
  const digits = decimals ?? digitsIn(column, row);
  const label = column.digitsBy === undefined ? "" : row[columns.findIndex((other) => other.name === "unit")];
  const unit: Unit | null = typeof label === "string" && label !== "" ? (parseUnit(label) ?? null) : column.unit;
  return unit === null ? formatNumber(value, digits) : formatMeasure(value, digits, unit);
}

function rowsAsBlock(table: Table): string {
  const shown = presentTable(table, rowsInText);
  const left = shown.row_count - shown.rows.length;
  const rows = tableMarkdown(shown);
  if (left === 0 && shown.rows.length > 0 && rows !== "") return rows;
  const count = left > 0 ? `${left} more ${left === 1 ? "row is" : "rows are"} not shown.` : rowsInWords(shown);
  return `${rows}\n${count}`;
}
