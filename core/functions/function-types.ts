import { agreeOnUnit } from "../query/row-units";
import type { RowParameter, ValueType } from "../query/vocabulary";

/** The type of a pure number. */
export const pureNumber: ValueType = { kind: "number", unit: null };

/** The type of a truth value. */
export const truthValue: ValueType = { kind: "truth", unit: null };

/** The type of text. */
export const someText: ValueType = { kind: "text", unit: null };

/** One parameter that takes a number. */
export const numberParameter: RowParameter = { name: "value", kind: "number" };

/** The type of a result that is a number of the same sort as the first argument. */
export function likeFirst([first]: readonly ValueType[]): ValueType {
  return first ?? pureNumber;
}

/** The common type of values that are compared or chosen from; in words what would fit where there is none. */
export function commonType(given: readonly ValueType[]): ValueType | string {
  const present = given.filter((type) => type.kind !== "missing");
  const [first, ...others] = present;
  if (first === undefined) return "at least one value that is not null";
  let common = first;
  for (const type of others) {
    if (type.kind !== common.kind) return "values of one kind: all numbers, all text or all truth values";
    const agreement = agreeOnUnit(common, type);
    if (agreement.kind === "clash") return `numbers of one unit, not ${agreement.left} and ${agreement.right}`;
    const unit = agreement.unit;
    common = common.literal === true && type.literal === true ? common : { kind: common.kind, unit };
  }
  return common;
}

/** The type of a function that takes numbers without a unit; in words what would fit where one has a unit. */
export function pureOnly(given: readonly ValueType[]): ValueType | string {
  const unit = given.find((type) => type.unit !== null)?.unit;
  if (unit === undefined || unit === null) return pureNumber;
  return `a number without a unit, not one in ${unit}; divide by a value in ${unit} first`;
}
