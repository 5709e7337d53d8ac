import type { ColumnSchema } from "../table/schema";
import { closestName } from "../closest-name";
import type { Reporter } from "./reporter";
import type { RowExpression } from "./row-expression";

/** Warns when a text column whose values are known is compared with text that is not among them. */
export function checkKnownValues(
  left: RowExpression,
  right: RowExpression,
  columns: ReadonlyMap<string, ColumnSchema>,
  reporter: Reporter,
): void {
  warnUnknownValue(left, right, columns, reporter);
  warnUnknownValue(right, left, columns, reporter);
}

/** The same for a function that compares its first argument with the others. */
export function checkMatchedValues(
  given: readonly RowExpression[],
  columns: ReadonlyMap<string, ColumnSchema>,
  reporter: Reporter,
): void {
  const [first, ...others] = given;
  for (const other of others) if (first !== undefined) warnUnknownValue(first, other, columns, reporter);
}

function warnUnknownValue(
  of: RowExpression,
  compared: RowExpression,
  columns: ReadonlyMap<string, ColumnSchema>,
  reporter: Reporter,
): void {
  if (of.kind !== "column" || compared.kind !== "constant" || typeof compared.value !== "string") return;
  const values = columns.get(of.name)?.values;
  if (values === undefined || values.includes(compared.value)) return;
  const nearest = closestName(compared.value, values);
  const facts = { name: compared.value, column: of.name, candidates: values };
  if (nearest === null) reporter.say("query.unknown-value", facts, compared);
  else reporter.say("query.unknown-value", { ...facts, nearest }, compared, reporter.replacing(`Use ${nearest}`, compared, JSON.stringify(nearest)));
}

/** The values that a text expression can have, sorted; `null` when they are not known. */
export function valuesOf(expression: RowExpression, columns: ReadonlyMap<string, ColumnSchema>): readonly string[] | null {
  switch (expression.kind) {
    case "constant":
      return typeof expression.value === "string" ? [expression.value] : expression.value === null ? [] : null;
    case "column":
      return columns.get(expression.name)?.values ?? null;
    case "choose": {
      const yes = valuesOf(expression.yes, columns);
      const no = valuesOf(expression.no, columns);
      return yes === null || no === null ? null : [...new Set([...yes, ...no])].sort();
    }
    default:
      return null;
  }
}

/**
 * Which values each text column can have where a condition holds; a column without an entry can have any of its own.
 *
 * `d.head === "Wren"`, `!==`, functions that match, and what `&&` and `||` make of them; anything else narrows nothing.
 */
export function narrowedBy(condition: RowExpression, columns: ReadonlyMap<string, ColumnSchema>): ReadonlyMap<string, readonly string[]> {
  if (condition.kind === "logic") {
    const left = narrowedBy(condition.left, columns);
    const right = narrowedBy(condition.right, columns);
    return condition.operator === "&&" ? both(left, right) : either(left, right);
  }
  if (condition.kind === "compare" && (condition.operator === "===" || condition.operator === "!==")) {
    const [column, constant] = condition.left.kind === "column" ? [condition.left, condition.right] : [condition.right, condition.left];
    if (column.kind !== "column" || column.type.kind !== "text" || constant.kind !== "constant") return new Map();
    const value = constant.value as string;
    const values = columns.get(column.name)?.values;
    if (condition.operator === "===") return new Map([[column.name, values?.includes(value) === false ? [] : [value]]]);
    return values === undefined ? new Map() : new Map([[column.name, values.filter((other) => other !== value)]]);
  }
  if (condition.kind === "call" && condition.run.matches === true) {
    const [first, ...others] = condition.given;
    if (first?.kind !== "column" || first.type.kind !== "text") return new Map();
    const matched: string[] = [];
    for (const other of others) {
      if (other.kind !== "constant" || typeof other.value !== "string") return new Map();
      matched.push(other.value);
    }
    const values = columns.get(first.name)?.values;
    return new Map([[first.name, [...new Set(matched)].filter((value) => values?.includes(value) !== false).sort()]]);
  }
  return new Map();
}

function both(left: ReadonlyMap<string, readonly string[]>, right: ReadonlyMap<string, readonly string[]>): ReadonlyMap<string, readonly string[]> {
  const joined = new Map(left);
  for (const [name, values] of right) {
    const other = joined.get(name);
    joined.set(name, other === undefined ? values : other.filter((value) => values.includes(value)));
  }
  return joined;
}

function either(left: ReadonlyMap<string, readonly string[]>, right: ReadonlyMap<string, readonly string[]>): ReadonlyMap<string, readonly string[]> {
  const joined = new Map<string, readonly string[]>();
  for (const [name, values] of left) {
    const other = right.get(name);
    if (other !== undefined) joined.set(name, [...new Set([...values, ...other])].sort());
  }
  return joined;
}
