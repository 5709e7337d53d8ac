import { expect } from "vitest";
import type { Limits } from "../../../core/limits";
import { loadShots } from "../../../core/session/load-shots";
import { readSession } from "../../../core/session/read-session";
import type { Problem } from "../../../core/problem";
import type { Table } from "../../../core/table/table";
import { findColumn, valueAt } from "../../../core/table/table";

const encodeUtf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

export interface Loaded {
  readonly table: Table;
  readonly problems: readonly Problem[];
}

/** Loads a session given as text with its exports; the session alone must be free of errors. */
export function load(session: string, files: Readonly<Record<string, string | Uint8Array>>, limits?: Limits): Loaded {
  const read = readSession(session);
  expect(read.problems.filter((p) => p.severity === "error").map((p) => `${p.code} ${p.message}`)).toEqual([]);
  const bytes = new Map(Object.entries(files).map(([name, text]) => [name, typeof text === "string" ? encodeUtf8(text) : text]));
  const { value, problems } = loadShots(read.value!, bytes, limits);
  expect(value).not.toBeNull();
  return { table: value!, problems };
}

/** The values of a column; a column that is not there gives `undefined`. */
export function values(table: Table, name: string): readonly (number | string | boolean | null)[] | undefined {
  const column = findColumn(table, name);
  return column === undefined ? undefined : Array.from({ length: table.rowCount }, (_, row) => valueAt(column, row));
}

/** Problems as `code file line:column`, infos left out unless asked for. */
export function places(problems: readonly Problem[], infos = false): string[] {
  return problems
    .filter((p) => infos || p.severity !== "info")
    .map((p) => `${p.code} ${p.file ?? "session"} ${p.range.start.line}:${p.range.start.column}`);
}
