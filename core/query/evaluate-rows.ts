import type { ColumnSchema } from "../table/schema";
import { renamed, takeRows, type Column, type Table, type TextColumn } from "../table/table";
import { compileRow, type RowReader, type RowSource } from "./row-closures";
import { columnsRead, partsOf, type RowExpression } from "./row-expression";

/** What evaluating a row expression needs besides the table, and what it reports. */
export interface Evaluation {
  readonly checkpoint: () => void;
  readonly noResult: () => void;
}

/** Rows between two looks at whether the run should go on. */
const rowsAtOnce = 8192;

/**
 * The expression's value for every row of the table, as a column called `schema.name`.
 *
 * The expression was checked against this very table, so that every column is there and of its kind. Nothing of the
 * table is changed.
 */
export function evaluateRows(expression: RowExpression, schema: ColumnSchema, table: Table, evaluation: Evaluation): Column {
  const columns = new Map(table.columns.map((column) => [column.name, column]));
  if (expression.kind === "column") return { ...renamed(columns.get(expression.name)!, schema.name), origin: schema.origin };
  const source: RowSource = { columns, noResult: evaluation.noResult, shortcut: (part) => byLabel(part, columns, table.rowCount, evaluation) };
  const whole = labelColumn(expression, schema, columns, table.rowCount, evaluation);
  return whole ?? readColumn(compileRow(expression, source), schema, table.rowCount, evaluation.checkpoint);
}

/** The condition's value for every row: 1 where it holds, 0 where it does not, −1 where missing values leave it open. */
export function evaluateCondition(test: RowExpression, table: Table, evaluation: Evaluation): Int8Array {
  const column = evaluateRows(test, { name: "condition", kind: "truth", unit: null, origin: "computed" }, table, evaluation);
  return column.kind === "truth" ? column.values : new Int8Array(table.rowCount).fill(-1);
}

function readColumn(reader: RowReader, schema: ColumnSchema, rowCount: number, checkpoint: () => void): Column {
  const { name, origin, unit } = schema;
  const eachRow = (visit: (row: number) => void): void => {
    for (let from = 0; from < rowCount; from += rowsAtOnce) {
      checkpoint();
      const to = Math.min(from + rowsAtOnce, rowCount);
      for (let row = from; row < to; row++) visit(row);
    }
  };
  switch (reader.kind) {
    case "number": {
      const { at } = reader;
      const values = new Float64Array(rowCount);
      eachRow((row) => void (values[row] = at(row)));
      return { kind: "number", name, unit, origin, values };
    }
    case "truth": {
      const { at } = reader;
      const values = new Int8Array(rowCount);
      eachRow((row) => void (values[row] = at(row)));
      return { kind: "truth", name, origin, values };
    }
    case "text": {
      const { at } = reader;
      const codes = new Int32Array(rowCount);
      const known = new Map<string, number>();
      eachRow((row) => {
        const value = at(row);
        let code = -1;
        if (value !== null) {
          code = known.get(value) ?? known.size;
          if (code === known.size) known.set(value, code);
        }
        codes[row] = code;
      });
      return { kind: "text", name, origin, codes, labels: [...known.keys()] };
    }
  }
}

/** Reads a part of an expression that rests on one text column by a table of its labels; `null` where it does not. */
function byLabel(part: RowExpression, columns: ReadonlyMap<string, Column>, rowCount: number, evaluation: Evaluation): RowReader | null {
  const text = soleTextColumn(part, columns, rowCount);
  if (text === null) return null;
  const values = overLabels(part, { name: "part", kind: kindOf(part), unit: part.type.unit, origin: "computed" }, text, evaluation);
  const { codes } = text;
  // The row after the labels is what a missing value gives.
  const missing = text.labels.length;
  const placeOf = (row: number): number => (codes[row]! < 0 ? missing : codes[row]!);
  switch (values.kind) {
    case "number":
      return { kind: "number", at: (row) => values.values[placeOf(row)]! };
    case "truth":
      return { kind: "truth", at: (row) => values.values[placeOf(row)]! };
    case "text": {
      const texts = Array.from(values.codes, (code) => (code < 0 ? null : values.labels[code]!));
      return { kind: "text", at: (row) => texts[placeOf(row)]! };
    }
  }
}

/** The whole column of an expression that rests on one text column; `null` where it does not. */
function labelColumn(
  expression: RowExpression,
  schema: ColumnSchema,
  columns: ReadonlyMap<string, Column>,
  rowCount: number,
  evaluation: Evaluation,
): Column | null {
  const text = soleTextColumn(expression, columns, rowCount);
  if (text === null) return null;
  const missing = text.labels.length;
  return takeRows(overLabels(expression, schema, text, evaluation), text.codes.map((code) => (code < 0 ? missing : code)));
}

/** The expression for each label of a text column, in order, and last for a missing value. */
function overLabels(expression: RowExpression, schema: ColumnSchema, text: TextColumn, evaluation: Evaluation): Column {
  const count = text.labels.length + 1;
  const codes = Int32Array.from({ length: count }, (_, code) => (code < text.labels.length ? code : -1));
  const source: RowSource = { columns: new Map([[text.name, { ...text, codes }]]), noResult: evaluation.noResult, shortcut: () => null };
  return readColumn(compileRow(expression, source), schema, count, evaluation.checkpoint);
}

/**
 * The text column that an expression rests on, when it is the only one and has fewer labels than the table rows.
 *
 * Not where something could have no result: that is counted by row.
 */
function soleTextColumn(expression: RowExpression, columns: ReadonlyMap<string, Column>, rowCount: number): TextColumn | null {
  if (expression.kind === "column" || expression.kind === "constant") return null;
  const [name, ...others] = columnsRead(expression);
  const column = name === undefined || others.length > 0 ? undefined : columns.get(name);
  return column?.kind === "text" && column.labels.length < rowCount && alwaysHasResult(expression) ? column : null;
}

function alwaysHasResult(expression: RowExpression): boolean {
  if (expression.kind === "arithmetic") return false;
  if (expression.kind === "call" && expression.type.kind === "number") return false;
  return partsOf(expression).every(alwaysHasResult);
}

function kindOf(expression: RowExpression): "number" | "text" | "truth" {
  const { kind } = expression.type;
  return kind === "number" || kind === "truth" ? kind : "text";
}
