import type { Schema } from "../table/schema";
import { checkColumnName } from "./check-column";
import { plainText } from "./check-literal";
import type { RowSurroundings } from "./check-row";
import { descendingMeant, saidSeveral, withoutList } from "./column-fixes";
import { sayExtra } from "./extra-fix";
import { removingFrom } from "./row-fixes";
import type { Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";

/** Names of columns, each once; `null` when one is wrong, which was reported. */
export function columnNames(nodes: readonly Syntax[], input: Schema, around: RowSurroundings): readonly string[] | null {
  const names: string[] = [];
  for (const [index, node] of nodes.entries()) {
    const name = saidSeveral(node, input, around) ? null : checkColumnName(node, "any", input, around, withoutList(node, input, around));
    if (name === null) continue;
    if (!names.includes(name)) names.push(name);
    // The first of them stays, so that there is one before it.
    else around.reporter.say("query.duplicate-name", { name, what: "column" }, node, removingFrom(nodes, index, around.reporter, index + 1));
  }
  return names.length === nodes.length ? names : null;
}

/** The columns to order by, with their directions; `null` when one is wrong, which was reported. */
export function orderingKeys(nodes: readonly Syntax[], input: Schema, around: RowSurroundings): readonly OrderingKey[] | null {
  const keys = nodes.map((node, index) => (saidDirection(nodes, index, input, around) ? null : orderingKey(node, input, around)));
  return keys.includes(null) ? null : (keys as readonly OrderingKey[]);
}

interface OrderingKey {
  readonly name: string;
  readonly descending: boolean;
}

/** One column to order by, with its direction; `null` when it is wrong, which was reported. */
function orderingKey(node: Syntax, input: Schema, around: RowSurroundings): OrderingKey | null {
  if (!isDescending(node)) {
    if (saidDescending(node, input, around) || saidSeveral(node, input, around)) return null;
    const name = checkColumnName(node, "any", input, around, withoutList(node, input, around, (item) => orderWritten(item, input, around)));
    return name === null ? null : { name, descending: false };
  }
  const [column, extra] = node.given;
  if (extra !== undefined) {
    sayExtra("op.desc", node.given, 1, around.reporter);
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

/** True for `"desc"` or `"asc"` behind a column, as other tools say in which direction it goes, which was reported. */
function saidDirection(nodes: readonly Syntax[], index: number, input: Schema, { reporter, constants }: RowSurroundings): boolean {
  const [before, node] = [nodes[index - 1], nodes[index]!];
  const word = node.kind === "text" ? /^\s*(asc|desc)(?:ending)?\s*$/iu.exec(node.value)?.[1]?.toLowerCase() : undefined;
  if (word === undefined || before === undefined || input.open || hasColumn(input, (node as { value: string }).value)) return false;
  const name = plainText(before, constants);
  if (name === undefined || !hasColumn(input, name)) return false;
  const written = `op.desc(${JSON.stringify(name)})`;
  const wanted = word === "desc" ? `a column in quotes or, from the greatest down, ${written}` : "a column in quotes (by itself where the least comes first)";
  const fix = word === "desc" ? reporter.replacing(`Write ${written}`, { from: before.from, to: node.to }, written) : removingFrom(nodes, index, reporter, index + 1);
  reporter.say("query.expected", { wanted, found: reporter.textOf(node) }, node, fix);
  return true;
}

function hasColumn(input: Schema, name: string): boolean {
  return input.columns.some((column) => column.name === name);
}

type Call = Extract<Syntax, { kind: "call" }>;

function isDescending(node: Syntax): node is Call {
  return node.kind === "call" && node.callee.kind === "member" && node.callee.of.kind === "name" && node.callee.of.name === "op" && node.callee.name === "desc";
}

/** An item of a list that is ordered by, as it is written outside of one, where it says a direction. */
function orderWritten(item: Syntax, input: Schema, around: RowSurroundings): string | null {
  if (!isDescending(item)) return descendingMeant(item, input, around);
  const name = item.given.length === 1 ? plainText(item.given[0]!, around.constants) : undefined;
  return name !== undefined && hasColumn(input, name) ? around.reporter.textOf(item) : null;
}
