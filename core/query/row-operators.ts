import type { ArithmeticOperator, CompareOperator } from "./syntax";

/**
 * Arithmetic with the values of two parts of a row, `NaN` where either is missing.
 *
 * @param noResult called where two numbers give none, as 1 / 0; the value is missing there.
 */
export function arithmetic(
  operator: ArithmeticOperator,
  left: (row: number) => number,
  right: (row: number) => number,
  noResult: () => void,
): (row: number) => number {
  // An infinity or a NaN out of two numbers is no result; out of a missing one it is missing.
  const settle = (value: number, a: number, b: number): number => {
    if (Number.isFinite(value)) return value;
    if (!Number.isNaN(a) && !Number.isNaN(b)) noResult();
    return Number.NaN;
  };
  switch (operator) {
    case "+":
      return (row) => {
        const a = left(row);
        const b = right(row);
        return settle(a + b, a, b);
      };
    case "-":
      return (row) => {
        const a = left(row);
        const b = right(row);
        return settle(a - b, a, b);
      };
    case "*":
      return (row) => {
        const a = left(row);
        const b = right(row);
        return settle(a * b, a, b);
      };
    case "/":
      return (row) => {
        const a = left(row);
        const b = right(row);
        return settle(a / b, a, b);
      };
    case "%":
      return (row) => {
        const a = left(row);
        const b = right(row);
        return settle(a % b, a, b);
      };
  }
}

/** Comparison of numbers: 1 where it holds, 0 where not, −1 (undecided) where either is missing. */
export function numberTest(operator: CompareOperator, left: (row: number) => number, right: (row: number) => number): (row: number) => number {
  const undecided = (x: number, y: number): number => (Number.isNaN(x) || Number.isNaN(y) ? -1 : 0);
  switch (operator) {
    case "===":
      return (row) => {
        const x = left(row);
        const y = right(row);
        return x === y ? 1 : undecided(x, y);
      };
    case "!==":
      return (row) => {
        const x = left(row);
        const y = right(row);
        return x === y ? 0 : 1 + 2 * undecided(x, y);
      };
    case "<":
      return (row) => {
        const x = left(row);
        const y = right(row);
        return x < y ? 1 : undecided(x, y);
      };
    case "<=":
      return (row) => {
        const x = left(row);
        const y = right(row);
        return x <= y ? 1 : undecided(x, y);
      };
    case ">":
      return (row) => {
        const x = left(row);
        const y = right(row);
        return x > y ? 1 : undecided(x, y);
      };
    case ">=":
      return (row) => {
        const x = left(row);
        const y = right(row);
        return x >= y ? 1 : undecided(x, y);
      };
  }
}

/** Comparison of texts, by code unit, so that the order is the same on every machine: 1 where it holds, else 0. */
export function textTest(operator: CompareOperator): (x: string, y: string) => number {
  switch (operator) {
    case "===":
      return (x, y) => (x === y ? 1 : 0);
    case "!==":
      return (x, y) => (x !== y ? 1 : 0);
    case "<":
      return (x, y) => (x < y ? 1 : 0);
    case "<=":
      return (x, y) => (x <= y ? 1 : 0);
    case ">":
      return (x, y) => (x > y ? 1 : 0);
    case ">=":
      return (x, y) => (x >= y ? 1 : 0);
  }
}
