import type { Unit } from "../units";
import type { Reporter } from "./reporter";
import type { RowType } from "./row-expression";
import { agreeOnUnit, typeInWords, unitOfProduct } from "./row-units";
import type { ArithmeticOperator, Span } from "./syntax";
import type { ValueType } from "./vocabulary";

/** The type of a column that is not known before the cell runs. */
export const unknownType: RowType = { kind: "unknown", unit: null };

/** The type of a calculation; `null` where the units do not allow it, which is reported. */
export function arithmeticType(operator: ArithmeticOperator, left: RowType, right: RowType, at: Span, reporter: Reporter): RowType | null {
  // What is not known yet is checked when the cell runs; until then it takes any unit.
  if (left.kind === "unknown" || right.kind === "unknown") return { kind: "number", unit: null, literal: true };
  const literal = left.literal === true && right.literal === true;
  if (operator !== "+" && operator !== "-") {
    return { kind: "number", unit: unitOfProduct(operator, left.unit, right.unit), ...(literal ? { literal } : {}) };
  }
  const unit = agreedUnit(left, right, operator === "+" ? "add" : "subtract", at, reporter);
  return unit === undefined ? null : { kind: "number", unit, ...(literal ? { literal } : {}) };
}

/** The type of what is one of two values; `null` where they are not of one kind and unit, which is reported. */
export function commonType(a: RowType, b: RowType, at: Span, reporter: Reporter): RowType | null {
  if (a.kind === "unknown" || b.kind === "unknown") return unknownType;
  if (a.kind === "missing") return b;
  if (b.kind === "missing") return a;
  if (a.kind !== b.kind) {
    reporter.say("query.kind", { what: "one branch", found: typeInWords(a), wanted: typeInWords(b) }, at);
    return null;
  }
  if (a.kind !== "number") return a;
  const unit = agreedUnit(a, b, "choose between", at, reporter);
  if (unit === undefined) return null;
  return a.literal === true && b.literal === true ? a : { kind: "number", unit };
}

/** The unit in which two numbers meet; `undefined` where there is none, which is reported as what cannot be done (`does`). */
export function agreedUnit(left: ValueType, right: ValueType, does: string, at: Span, reporter: Reporter): Unit | null | undefined {
  const agreement = agreeOnUnit(left, right);
  if (agreement.kind === "agreed") return agreement.unit;
  if (agreement.kind === "one unknown") {
    reporter.say("query.unit-unknown", { unit: agreement.unit, does }, at);
    return agreement.unit;
  }
  reporter.say("query.unit-mismatch", { left: agreement.left, right: agreement.right, does }, at);
  return undefined;
}
