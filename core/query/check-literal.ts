import type { PlainConstant } from "./check-row";
import type { Syntax } from "./syntax";

/**
 * The plain value that a piece of syntax stands for: one written there, a negated number, or a constant of the cell.
 *
 * `undefined` for anything that would have to be computed.
 */
export function plainValue(node: Syntax, constants: ReadonlyMap<string, PlainConstant>): PlainConstant | undefined {
  switch (node.kind) {
    case "number":
    case "text":
    case "truth":
      return node.value;
    case "name":
      return constants.get(node.name);
    case "negate": {
      const value = plainValue(node.of, constants);
      return typeof value === "number" ? -value : undefined;
    }
    default:
      return undefined;
  }
}

/** The number a piece of syntax stands for; `undefined` when it is none. */
export function plainNumber(node: Syntax, constants: ReadonlyMap<string, PlainConstant>): number | undefined {
  const value = plainValue(node, constants);
  return typeof value === "number" ? value : undefined;
}

/** The text a piece of syntax stands for; `undefined` when it is none. */
export function plainText(node: Syntax, constants: ReadonlyMap<string, PlainConstant>): string | undefined {
  const value = plainValue(node, constants);
  return typeof value === "string" ? value : undefined;
}
