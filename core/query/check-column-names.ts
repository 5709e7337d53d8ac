import type { Schema } from "../table/schema";
import { checkColumnName } from "./check-column";
import type { RowSurroundings } from "./check-row";
import { descendingMeant, withoutList } from "./column-fixes";
import { removingFrom } from "./row-fixes";
import type { Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";

/** Names of columns, each once; `null` when one is wrong, which was reported. */
export function columnNames(nodes: readonly Syntax[], input: Schema, around: RowSurroundings): readonly string[] | null {
  const names: string[] = [];
  for (const [index, node] of nodes.entries()) {
    const name = checkColumnName(node, "any", input, around, withoutList(node, input, around));
    if (name === null) continue;
    if (!names.includes(name)) names.push(name);
    // The first of them stays, so that there is one before it.
    else around.reporter.say("query.duplicate-name", { name, what: "column" }, node, removingFrom(nodes, index, around.reporter, index + 1));
  }
  return names.length === nodes.length ? names : null;
}

/** One column to order by, with its direction; `null` when it is wrong, which was reported. */
export function orderingKey(node: Syntax, input: Schema, around: RowSurroundings): { name: string; descending: boolean } | null {
  const isDescending =
    node.kind === "call" && node.callee.kind === "member" && node.callee.of.kind === "name" && node.callee.of.name === "op" && node.callee.name === "desc";
  if (!isDescending || node.kind !== "call") {
    if (saidDescending(node, input, around)) return null;
    const name = checkColumnName(node, "any", input, around, withoutList(node, input, around));
    return name === null ? null : { name, descending: false };
  }
  const [column, extra] = node.given;
  if (extra !== undefined) {
    around.reporter.say("query.too-many-arguments", { call: "op.desc", most: 1 }, extra, removingFrom(node.given, 1, around.reporter));
    return null;
  }
  if (column === undefined) {
    around.reporter.say("query.missing-argument", { call: "op.desc", argument: "a column", help: "name a column in quotes: op.desc(\"carry\")" }, node);
    return null;
  }
  const name = checkColumnName(column, "any", input, around);
  return name === null ? null : { name, descending: true };
}

/** True for a column named as other tools name it for the greatest first, which was reported. */
function saidDescending(node: Syntax, input: Schema, around: RowSurroundings): boolean {
  const { reporter } = around;
  const isText = node.kind === "text";
  const descending = isText && input.columns.some(({ name }) => name === node.value) ? null : descendingMeant(node, input, around);
  if (descending === null) return false;
  const facts = { wanted: `a column in quotes or, from the greatest down, ${descending}`, found: isText ? JSON.stringify(node.value) : syntaxInWords(node) };
  reporter.say("query.expected", facts, node, reporter.replacing(`Write ${descending}`, node, descending));
  return true;
}
