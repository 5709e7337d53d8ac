import { columnAccess } from "./check-row";
import type { CompareOperator, Syntax } from "./syntax";

/** A value that can be ticked. */
export type Choice = string | number | boolean;

/** One end of a range, in the column's unit; `strict` where the end itself is out of it. */
export interface Bound {
  readonly value: number;
  readonly strict?: true;
}

/** Which values of one column a condition lets through. */
export interface Allowed {
  readonly column: string;
  /** These alone; `null` for any. */
  readonly only: ReadonlySet<Choice> | null;
  /** None of these. */
  readonly not: ReadonlySet<Choice>;
  readonly low: Bound | null;
  readonly high: Bound | null;
  /** Whether rows without a value pass. */
  readonly missing: boolean;
}

/** What a column lets through of which nothing is asked. */
export function anything(column: string): Allowed {
  return { column, only: null, not: new Set(), low: null, high: null, missing: true };
}

/** True for a value that passes. */
export function allows({ only, not, low, high }: Allowed, value: Choice): boolean {
  if (not.has(value) || only?.has(value) === false) return false;
  if (typeof value !== "number") return true;
  const isLow = low !== null && (value < low.value || (low.strict === true && value === low.value));
  const isHigh = high !== null && (value > high.value || (high.strict === true && value === high.value));
  return !isLow && !isHigh;
}

/**
 * What a condition on one column lets through; `null` for any other, and for one that is written with more than literals.
 *
 * Read are `===`, `!==` and bounds with a literal on either side, `op.any_of`, both tests for missing values, a column of
 * truth values or its reverse, and what `&&` and `||` make of these. A comparison with a missing value is undecided, so
 * that its row does not pass, unless the other side of an `||` lets it.
 */
export function readAllowed(node: Syntax, row: string): Allowed | null {
  switch (node.kind) {
    case "member":
      return onlyOf(columnOf(node, row), [true]);
    case "not":
      return readNot(node.of, row);
    case "call":
      return readCall(node, row);
    case "binary": {
      const { operator } = node;
      if (operator === "&&" || operator === "||") {
        const left = readAllowed(node.left, row);
        const right = left && readAllowed(node.right, row);
        if (left === null || right === null || left.column !== right.column) return null;
        return operator === "&&" ? both(left, right) : either(left, right);
      }
      if (operator === "+" || operator === "-" || operator === "*" || operator === "/" || operator === "%") return null;
      const column = columnOf(node.left, row);
      if (column !== null) return readComparison(column, operator, node.right);
      return readComparison(columnOf(node.right, row), turned[operator], node.left);
    }
    default:
      return null;
  }
}

/** What passes both. */
export function both(a: Allowed, b: Allowed): Allowed {
  const only = a.only === null ? b.only : b.only === null ? a.only : new Set([...a.only].filter((value) => b.only!.has(value)));
  return {
    column: a.column,
    only,
    not: new Set([...a.not, ...b.not]),
    low: tighter(a.low, b.low, (x, y) => x > y),
    high: tighter(a.high, b.high, (x, y) => x < y),
    missing: a.missing && b.missing,
  };
}

/** A condition of a row function called `row` on its column. */
export function columnText(row: string, column: string): string {
  return row + columnAccess(column);
}

const turned: Record<CompareOperator, CompareOperator> = { "===": "===", "!==": "!==", "<": ">", "<=": ">=", ">": "<", ">=": "<=" };

function columnOf(node: Syntax, row: string): string | null {
  return node.kind === "member" && node.of.kind === "name" && node.of.name === row ? node.name : null;
}

function literal(node: Syntax): Choice | undefined {
  if (node.kind === "number" || node.kind === "text" || node.kind === "truth") return node.value;
  if (node.kind === "negate" && node.of.kind === "number") return 0 - node.of.value;
  return undefined;
}

function onlyOf(column: string | null, values: readonly Choice[]): Allowed | null {
  return column === null ? null : { ...anything(column), only: new Set(values), missing: false };
}

function missingOnly(column: string | null): Allowed | null {
  return column === null ? null : { ...anything(column), only: new Set() };
}

function present(column: string | null): Allowed | null {
  return column === null ? null : { ...anything(column), missing: false };
}

function readNot(of: Syntax, row: string): Allowed | null {
  if (of.kind === "member") return onlyOf(columnOf(of, row), [false]);
  const [tested, more] = givenTo(of, "is_missing");
  return tested === undefined || more !== undefined ? null : present(columnOf(tested, row));
}

function readCall(node: Syntax, row: string): Allowed | null {
  const [tested, more] = givenTo(node, "is_missing");
  if (tested !== undefined) return more === undefined ? missingOnly(columnOf(tested, row)) : null;
  const [of, ...choices] = givenTo(node, "any_of");
  if (of === undefined || choices.length === 0) return null;
  const values = choices.map(literal);
  return values.includes(undefined) ? null : onlyOf(columnOf(of, row), values as Choice[]);
}

/** What is given to the function `op.name`; nothing where the node is no call of it. */
function givenTo(node: Syntax, name: string): readonly Syntax[] {
  if (node.kind !== "call" || node.callee.kind !== "member") return [];
  const { of, name: called } = node.callee;
  return called === name && of.kind === "name" && of.name === "op" ? node.given : [];
}

function readComparison(column: string | null, operator: CompareOperator, right: Syntax): Allowed | null {
  if (column === null) return null;
  if (right.kind === "missing") return operator === "===" ? missingOnly(column) : operator === "!==" ? present(column) : null;
  const value = literal(right);
  if (value === undefined) return null;
  if (operator === "===") return onlyOf(column, [value]);
  const known = { ...anything(column), missing: false };
  if (operator === "!==") return { ...known, not: new Set([value]) };
  if (typeof value !== "number") return null;
  const bound: Bound = operator === "<" || operator === ">" ? { value, strict: true } : { value };
  return operator === ">" || operator === ">=" ? { ...known, low: bound } : { ...known, high: bound };
}

function tighter(a: Bound | null, b: Bound | null, isTighter: (x: number, y: number) => boolean): Bound | null {
  if (a === null || b === null) return a ?? b;
  if (a.value === b.value) return a.strict === true ? a : b;
  return isTighter(a.value, b.value) ? a : b;
}

/** What passes one of two; `null` for two ranges, which one range cannot say. */
function either(a: Allowed, b: Allowed): Allowed | null {
  const missing = a.missing || b.missing;
  if (a.only?.size === 0) return { ...b, missing };
  if (b.only?.size === 0) return { ...a, missing };
  if ([a, b].some(({ low, high }) => low !== null || high !== null)) return null;
  const passing = (of: Allowed): Allowed => (of.only === null ? of : { ...of, only: new Set([...of.only].filter((value) => !of.not.has(value))), not: new Set() });
  const [x, y] = [passing(a), passing(b)];
  if (x.only !== null && y.only !== null) return { ...x, only: new Set([...x.only, ...y.only]), missing };
  const not = x.only !== null ? without(y.not, x.only) : y.only !== null ? without(x.not, y.only) : new Set([...x.not].filter((value) => y.not.has(value)));
  return { ...x, only: null, not, missing };
}

function without(values: ReadonlySet<Choice>, others: ReadonlySet<Choice>): ReadonlySet<Choice> {
  return new Set([...values].filter((value) => !others.has(value)));
}
