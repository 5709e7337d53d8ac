import type { Column } from "../table/table";
import type { RowExpression } from "./row-expression";
import { arithmetic, numberTest, textTest } from "./row-operators";
import type { CompareOperator } from "./syntax";

/** A value for each row, of one kind: numbers with `NaN` for missing, truth 1, 0 or −1 for missing, text or `null`. */
export type RowReader =
  | { readonly kind: "number"; readonly at: (row: number) => number }
  | { readonly kind: "truth"; readonly at: (row: number) => number }
  | { readonly kind: "text"; readonly at: (row: number) => string | null };

/** What compiling needs besides the expression. */
export interface RowSource {
  readonly columns: ReadonlyMap<string, Column>;
  /** Counts calculations that had no result although nothing they were given was missing. */
  readonly noResult: () => void;
  /** Another way to read a part of the expression, where there is a faster one; `null` for the ordinary way. */
  readonly shortcut: (part: RowExpression) => RowReader | null;
}

/**
 * An expression as nested functions of the row number.
 *
 * Truth values follow the strong logic of Kleene (Introduction to Metamathematics, 1952, section 64): a missing part
 * leaves the whole undecided unless the other part settles it. Comparing with a missing value is undecided; testing
 * for missing is not. The right side of `&&`, `||` and `?:` is computed only where it is needed.
 */
export function compileRow(expression: RowExpression, source: RowSource): RowReader {
  const fast = source.shortcut(expression);
  if (fast !== null) return fast;
  const compile = (part: RowExpression): RowReader => compileRow(part, source);
  switch (expression.kind) {
    case "constant":
      return constant(expression.value, expression.type.kind);
    case "column":
      return readColumn(source.columns.get(expression.name)!);
    case "negate": {
      const of = numbers(compile(expression.of));
      return { kind: "number", at: (row) => -of(row) };
    }
    case "not": {
      const of = truths(compile(expression.of));
      return { kind: "truth", at: (row) => not(of(row)) };
    }
    case "arithmetic":
      return {
        kind: "number",
        at: arithmetic(expression.operator, numbers(compile(expression.left)), numbers(compile(expression.right)), source.noResult),
      };
    case "compare":
      return compare(expression.operator, compile(expression.left), compile(expression.right));
    case "is missing":
      return isMissing(compile(expression.of), expression.negated);
    case "logic":
      return logic(expression.operator === "&&", truths(compile(expression.left)), truths(compile(expression.right)));
    case "choose":
      return choose(truths(compile(expression.test)), expression, compile);
    case "call":
      return call(expression, expression.given.map(compile), source.noResult);
  }
}

/** A constant; `null` takes the kind that stands beside it, since missing has none of its own. */
function constant(value: number | string | boolean | null, kind: string): RowReader {
  if (typeof value === "number") return { kind: "number", at: () => value };
  if (typeof value === "boolean") return { kind: "truth", at: () => (value ? 1 : 0) };
  if (typeof value === "string") return { kind: "text", at: () => value };
  return missing(kind);
}

function missing(kind: string): RowReader {
  if (kind === "number") return { kind: "number", at: () => Number.NaN };
  if (kind === "truth") return { kind: "truth", at: () => -1 };
  return { kind: "text", at: () => null };
}

function readColumn(column: Column): RowReader {
  switch (column.kind) {
    case "number": {
      const { values } = column;
      return { kind: "number", at: (row) => values[row]! };
    }
    case "truth": {
      const { values } = column;
      return { kind: "truth", at: (row) => values[row]! };
    }
    case "text": {
      const { codes, labels } = column;
      return { kind: "text", at: (row) => (codes[row]! < 0 ? null : labels[codes[row]!]!) };
    }
  }
}

function compare(operator: CompareOperator, left: RowReader, right: RowReader): RowReader {
  if (left.kind === "text" || right.kind === "text") {
    const [a, b] = [texts(left), texts(right)];
    const holds = textTest(operator);
    return {
      kind: "truth",
      at: (row) => {
        const x = a(row);
        const y = b(row);
        return x === null || y === null ? -1 : holds(x, y);
      },
    };
  }
  if (left.kind === "truth" && right.kind === "truth") {
    const [a, b] = [left.at, right.at];
    const same = operator === "===" ? 1 : 0;
    return {
      kind: "truth",
      at: (row) => {
        const x = a(row);
        const y = b(row);
        return x < 0 || y < 0 ? -1 : x === y ? same : 1 - same;
      },
    };
  }
  return { kind: "truth", at: numberTest(operator, numbers(left), numbers(right)) };
}

function isMissing(of: RowReader, negated: boolean): RowReader {
  const [yes, no] = negated ? [0, 1] : [1, 0];
  if (of.kind === "number") return { kind: "truth", at: (row) => (Number.isNaN(of.at(row)) ? yes : no) };
  if (of.kind === "truth") return { kind: "truth", at: (row) => (of.at(row) < 0 ? yes : no) };
  return { kind: "truth", at: (row) => (of.at(row) === null ? yes : no) };
}

function not(value: number): number {
  return value < 0 ? -1 : 1 - value;
}

function logic(isAnd: boolean, left: (row: number) => number, right: (row: number) => number): RowReader {
  // `&&` is settled by a 0, `||` by a 1.
  const settles = isAnd ? 0 : 1;
  return {
    kind: "truth",
    at: (row) => {
      const a = left(row);
      if (a === settles) return a;
      const b = right(row);
      if (b === settles) return b;
      return a < 0 || b < 0 ? -1 : b;
    },
  };
}

function choose(
  test: (row: number) => number,
  expression: Extract<RowExpression, { kind: "choose" }>,
  compile: (part: RowExpression) => RowReader,
): RowReader {
  const { kind } = expression.type;
  if (kind === "number") {
    const [yes, no] = [numbers(compile(expression.yes)), numbers(compile(expression.no))];
    return { kind, at: (row) => pick(test(row), row, yes, no, Number.NaN) };
  }
  if (kind === "truth") {
    const [yes, no] = [truths(compile(expression.yes)), truths(compile(expression.no))];
    return { kind, at: (row) => pick(test(row), row, yes, no, -1) };
  }
  const [yes, no] = [texts(compile(expression.yes)), texts(compile(expression.no))];
  return { kind: "text", at: (row) => pick(test(row), row, yes, no, null) };
}

function pick<T>(test: number, row: number, yes: (row: number) => T, no: (row: number) => T, undecided: T): T {
  return test === 1 ? yes(row) : test === 0 ? no(row) : undecided;
}

function call(
  expression: Extract<RowExpression, { kind: "call" }>,
  given: readonly RowReader[],
  noResult: () => void,
): RowReader {
  const { run } = expression;
  const readers = given.map(plain);
  const takesMissing = run.takesMissing === true;
  const evaluate = (row: number): number | string | boolean | null => {
    const values = readers.map((read) => read(row));
    if (!takesMissing && values.includes(null)) return null;
    const value = run.apply(...values);
    if (typeof value !== "number" || Number.isFinite(value)) return value;
    if (!values.includes(null)) noResult();
    return null;
  };
  switch (expression.type.kind) {
    case "number":
      return { kind: "number", at: (row) => (evaluate(row) as number | null) ?? Number.NaN };
    case "truth":
      return {
        kind: "truth",
        at: (row) => {
          const value = evaluate(row);
          return value === null ? -1 : value === true ? 1 : 0;
        },
      };
    default:
      return { kind: "text", at: (row) => evaluate(row) as string | null };
  }
}

/** The reader's values as functions of the vocabulary take them. */
function plain(reader: RowReader): (row: number) => number | string | boolean | null {
  switch (reader.kind) {
    case "number":
      return (row) => {
        const value = reader.at(row);
        return Number.isNaN(value) ? null : value;
      };
    case "truth":
      return (row) => {
        const value = reader.at(row);
        return value < 0 ? null : value === 1;
      };
    case "text":
      return reader.at;
  }
}

/** The reader's numbers; a reader of another kind can only be that of `null`, which is missing everywhere. */
function numbers(reader: RowReader): (row: number) => number {
  return reader.kind === "number" ? reader.at : () => Number.NaN;
}

function truths(reader: RowReader): (row: number) => number {
  return reader.kind === "truth" ? reader.at : () => -1;
}

function texts(reader: RowReader): (row: number) => string | null {
  return reader.kind === "text" ? reader.at : () => null;
}
