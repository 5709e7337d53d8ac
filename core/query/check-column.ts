import type { Fix } from "../problem";
import type { ColumnSchema, Schema } from "../table/schema";
import { plainText } from "./check-literal";
import type { RowSurroundings } from "./check-row";
import { quotedColumn } from "./column-fixes";
import type { Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";

/** Kinds of columns in words. */
const kindWords = { number: "numbers", text: "text", truth: "truth values", group: "text" } as const;

/** Columns of numbers that count runs of shots, so that each of their values stands for many rows. */
const countsOfRuns: readonly string[] = ["stint", "pass"];

/**
 * The name of a column, given in quotes; `null` when it is none of the input's or holds the wrong kind, which was
 * reported. A name that an open schema does not list may still be there when the cell runs.
 *
 * @param fix what to do where it is no name at all, and not to be mended as any other.
 */
export function checkColumnName(
  node: Syntax,
  of: "number" | "text" | "group" | "any",
  input: Schema,
  around: RowSurroundings,
  fix?: Fix,
): string | null {
  const { reporter } = around;
  const name = plainText(node, around.constants);
  if (name === undefined) {
    reporter.say("query.expected", { wanted: "the name of a column in quotes", found: syntaxInWords(node) }, node, fix ?? quotedColumn(node, input, around));
    return null;
  }
  const column = input.columns.find((other) => other.name === name);
  if (column === undefined) {
    if (input.open) return name;
    const candidates = input.columns.filter((other) => isColumnOf(other, of)).map((other) => other.name);
    // A sign before a name means something elsewhere that the name without it does not.
    if (/^\s*[-!]/u.test(name)) reporter.say("query.unknown-column", { name, candidates }, node);
    else reporter.unknown("query.unknown-column", name, node, candidates);
    return null;
  }
  if (of !== "any" && !isColumnOf(column, of)) {
    reporter.say("query.column-kind", { name, kind: kindWords[column.kind], wanted: kindWords[of] }, node);
    return null;
  }
  return name;
}

/** True for a column that can be named where one of `of` is wanted. */
export function isColumnOf({ name, kind }: ColumnSchema, of: "number" | "text" | "group" | "any"): boolean {
  if (of === "group") return kind !== "number" || countsOfRuns.includes(name);
  return of === "any" || kind === of;
}
