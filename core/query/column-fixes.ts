import type { Fix } from "../problem";
import type { Schema } from "../table/schema";
import { plainText } from "./check-literal";
import type { RowSurroundings } from "./check-row";
import type { Syntax } from "./syntax";

/** A column that is named as other tools name it, as this one does: in quotes. `undefined` where none is meant. */
export function quotedColumn(node: Syntax, input: Schema, around: RowSurroundings): Fix | undefined {
  const name = columnMeant(node, input);
  return name === null ? undefined : around.reporter.replacing(`Write "${name}"`, node, JSON.stringify(name));
}

/**
 * A list of columns, `["head", "zone"]`, as names one by one; `undefined` where one of them is not known.
 *
 * @param otherwise how an item is written that is more than a name.
 */
export function withoutList(node: Syntax, input: Schema, { constants, reporter }: RowSurroundings, otherwise: (item: Syntax) => string | null = () => null): Fix | undefined {
  if (node.kind !== "list" || node.items.length === 0) return undefined;
  const written = node.items.map((item) => {
    const name = plainText(item, constants) ?? columnMeant(item, input);
    return name !== null && (input.open || isKnown(name, input)) ? JSON.stringify(name) : otherwise(item);
  });
  return written.includes(null) ? undefined : reporter.replacing("Write the names without a list", node, written.join(", "));
}

/**
 * True for several columns in one text, `"carry, head"`, which was reported with them one by one as its fix.
 *
 * @param write how the names, each in quotes, stand in place of the text.
 */
export function saidSeveral(node: Syntax, input: Schema, { reporter }: RowSurroundings, write: (names: string) => string = (names) => names): boolean {
  if (node.kind !== "text" || isKnown(node.value, input)) return false;
  const names = node.value.split(",").map((name) => name.trim());
  if (names.length < 2 || !names.every((name) => isKnown(name, input))) return false;
  const written = write(names.map((name) => JSON.stringify(name)).join(", "));
  reporter.say("query.expected", { wanted: `each name in quotes of its own, ${written},`, found: JSON.stringify(node.value) }, node, reporter.replacing(`Write ${written}`, node, written));
  return true;
}

/**
 * How a column is ordered by from the greatest value down, where that is meant: `"-carry"`, `"carry desc"`, `-d.carry`,
 * `d => -d.carry`, `desc("carry")`. `null` where it is not, or the column is not known.
 */
export function descendingMeant(node: Syntax, input: Schema, { constants }: RowSurroundings): string | null {
  const name = descendingColumn(node, input, constants);
  return name !== null && isKnown(name, input) ? `op.desc(${JSON.stringify(name)})` : null;
}

function descendingColumn(node: Syntax, input: Schema, constants: RowSurroundings["constants"]): string | null {
  switch (node.kind) {
    case "text": {
      const marked = /^\s*-\s*(.*\S)\s*$|^\s*(.*\S)\s+desc(?:ending)?\s*$/iu.exec(node.value);
      return marked?.[1] ?? marked?.[2] ?? null;
    }
    case "negate":
      return node.of.kind === "text" ? node.of.value : columnMeant(node.of, input);
    case "row function":
      return node.body.kind === "negate" ? columnMeant(node.body.of, input) : null;
    case "call": {
      const [column, ...more] = node.given;
      if (node.callee.kind !== "name" || node.callee.name !== "desc" || column === undefined || more.length > 0) return null;
      return plainText(column, constants) ?? columnMeant(column, input);
    }
    default:
      return null;
  }
}

/** The column that a name, a member or a row function around one stands for; a name only where the columns are known. */
export function columnMeant(node: Syntax, input: Schema | null): string | null {
  switch (node.kind) {
    case "name":
      return input !== null && isKnown(node.name, input) ? node.name : null;
    case "member":
      return node.of.kind === "name" && node.of.name !== "op" && node.of.name !== "chart" ? node.name : null;
    case "row function": {
      const { body, parameter } = node;
      return body.kind === "member" && body.of.kind === "name" && body.of.name === parameter ? body.name : null;
    }
    default:
      return null;
  }
}

function isKnown(name: string, input: Schema): boolean {
  return input.columns.some((column) => column.name === name);
}
