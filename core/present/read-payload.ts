import { units } from "../units";
import type { ChartPayload, DigitsBy, PayloadColumn, PayloadSession, PayloadValue, TablePayload } from "./payload";

/** A value that came from elsewhere, read as a table or a chart; or why it is neither. */
export type PayloadRead = { readonly payload: TablePayload | ChartPayload } | { readonly fault: string };

/** Rows that an output may bring at most; what this project writes has a few hundred. */
const mostRows = 100_000;

/**
 * Reads a table or a chart from a value that another program may have written.
 *
 * Only what belongs to it is taken over; anything of the wrong sort makes the whole a fault, never a guess.
 */
export function readPayload(value: unknown): PayloadRead {
  try {
    const read = readResult(value);
    return { payload: read };
  } catch (error) {
    if (error instanceof WrongPart) return { fault: error.message };
    throw error;
  }
}

class WrongPart extends Error {}

function readResult(value: unknown): TablePayload | ChartPayload {
  const given = asObject(value, "the output");
  if (given["type"] === "table") return readTable(given);
  if (given["type"] !== "chart") throw new WrongPart("the output is neither a table nor a chart");
  return {
    type: "chart",
    spec: asObject(given["spec"], "the specification"),
    description: asText(given["description"], "the description"),
    table: readTable(asObject(given["table"], "the chart's table")),
  };
}

function readTable(given: Readonly<Record<string, unknown>>): TablePayload {
  const listed = asList(given["columns"], "the columns");
  const columns = listed.map((column) => readColumn(column, listed.length));
  const rows = asList(given["rows"], "the rows").map((row) => readRow(row, columns));
  if (rows.length > mostRows) throw new WrongPart(`there are ${rows.length} rows`);
  const count = given["row_count"];
  if (typeof count !== "number" || !Number.isInteger(count) || count < rows.length) throw new WrongPart("the count of rows is wrong");
  const sentences = asList(given["sentences"], "the sentences").map((sentence) => asText(sentence, "a sentence"));
  return {
    type: "table",
    columns,
    rows,
    row_count: count,
    method: given["method"] === null ? null : asText(given["method"], "the method"),
    sentences,
    ...(given["answer"] === undefined ? {} : { answer: readAnswer(given["answer"], sentences.length) }),
    notes: asList(given["notes"], "the notes").map((note) => asText(note, "a note")),
    ...(given["sessions"] === undefined ? {} : { sessions: asList(given["sessions"], "the sessions").map(readSession) }),
    ...(given["handle"] === undefined ? {} : { handle: asText(given["handle"], "the handle") }),
  };
}

function readSession(value: unknown): PayloadSession {
  const given = asObject(value, "a session");
  return { name: asText(given["name"], "a session's name"), file: asText(given["file"], "a session's file") };
}

function readAnswer(value: unknown, most: number): number {
  if (typeof value !== "number" || !Number.isInteger(value) || value < 0 || value > most) throw new WrongPart("the count of sentences is wrong");
  return value;
}

function readColumn(value: unknown, count: number): PayloadColumn {
  const given = asObject(value, "a column");
  const { kind, unit, origin, digits, hidden } = given;
  if (kind !== "number" && kind !== "text" && kind !== "truth") throw new WrongPart("a column has no kind");
  if (unit !== null && !(typeof unit === "string" && Object.hasOwn(units, unit))) throw new WrongPart("a column has an unknown unit");
  const isOrigin = ["measured", "calculated", "derived", "stated", "computed"].includes(String(origin));
  if (!isOrigin) throw new WrongPart("a column has an unknown origin");
  if (digits !== null && !isDecimals(digits)) throw new WrongPart("a column has no count of decimals");
  return {
    name: asText(given["name"], "a column's name"),
    kind,
    unit: unit as PayloadColumn["unit"],
    origin: origin as PayloadColumn["origin"],
    digits,
    ...(given["digitsBy"] === undefined ? {} : { digitsBy: readDigitsBy(given["digitsBy"], count) }),
    hidden: hidden === true,
  };
}

function readDigitsBy(value: unknown, count: number): DigitsBy {
  const { column, digits } = asObject(value, "the decimals by row");
  if (typeof column !== "number" || !Number.isInteger(column) || column < 0 || column >= count) throw new WrongPart("decimals go by no column");
  const given = Object.entries(asObject(digits, "the decimals by row"));
  const read = given.map(([text, own]): [string, number] => {
    if (!isDecimals(own)) throw new WrongPart("a row has no count of decimals");
    return [text, own];
  });
  return { column, digits: Object.fromEntries(read) };
}

function isDecimals(value: unknown): value is number {
  return typeof value === "number" && Number.isInteger(value) && value >= 0 && value <= 12;
}

function readRow(value: unknown, columns: readonly PayloadColumn[]): PayloadValue[] {
  const row = asList(value, "a row");
  if (row.length !== columns.length) throw new WrongPart("a row has the wrong length");
  return row.map((each, index) => {
    const kind = columns[index]!.kind;
    const fits =
      each === null ||
      (kind === "number" && typeof each === "number" && Number.isFinite(each)) ||
      (kind === "text" && typeof each === "string") ||
      (kind === "truth" && typeof each === "boolean");
    if (!fits) throw new WrongPart(`a value is not of its column's kind, ${kind}`);
    return each;
  });
}

function asObject(value: unknown, what: string): Readonly<Record<string, unknown>> {
  if (typeof value !== "object" || value === null || Array.isArray(value)) throw new WrongPart(`${what} is not an object`);
  return value as Record<string, unknown>;
}

function asList(value: unknown, what: string): readonly unknown[] {
  if (!Array.isArray(value)) throw new WrongPart(`${what} are not a list`);
  return value as unknown[];
}

function asText(value: unknown, what: string): string {
  if (typeof value !== "string") throw new WrongPart(`${what} is not text`);
  return value;
}
