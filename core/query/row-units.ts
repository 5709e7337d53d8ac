import type { Unit } from "../units";
import type { ArithmeticOperator } from "./syntax";
import type { ValueType } from "./vocabulary";

/** What becomes of two units that must agree: the unit of both, a clash, or one side whose unit nobody knows. */
export type Agreement =
  | { readonly kind: "agreed"; readonly unit: Unit | null }
  | { readonly kind: "clash"; readonly left: Unit; readonly right: Unit }
  | { readonly kind: "one unknown"; readonly unit: Unit };

/**
 * What two numbers that are added or compared agree on.
 *
 * Units are not converted into one another: the columns of a notebook are all in its system, so that two units say
 * that two different things are put together. A number written in the text takes the unit of what it meets.
 */
export function agreeOnUnit(left: ValueType, right: ValueType): Agreement {
  if (left.unit === right.unit) return { kind: "agreed", unit: left.unit };
  if (left.unit !== null && right.unit !== null) return { kind: "clash", left: left.unit, right: right.unit };
  const [known, other] = left.unit !== null ? [left.unit, right] : [right.unit!, left];
  return other.literal === true ? { kind: "agreed", unit: known } : { kind: "one unknown", unit: known };
}

/**
 * The unit of a product, a quotient or a remainder.
 *
 * A pure number leaves the other's unit; a quotient of equal units is a pure number; any other combination has a unit
 * of its own that no column is shown in, and gives `null`.
 */
export function unitOfProduct(operator: ArithmeticOperator, left: Unit | null, right: Unit | null): Unit | null {
  if (right === null) return left;
  if (left === right) return operator === "%" ? left : null;
  return left === null && operator === "*" ? right : null;
}

/** A number's unit in words. */
export function inUnit(unit: Unit | null): string {
  return unit === null ? "a number without a unit" : `a number in ${unit}`;
}

/** A type in words, for a message. */
export function typeInWords(type: { readonly kind: string; readonly unit?: Unit | null }): string {
  switch (type.kind) {
    case "number":
      return inUnit(type.unit ?? null);
    case "text":
      return "text";
    case "truth":
      return "a truth value";
    case "missing":
      return "null";
    default:
      return "something unknown";
  }
}
