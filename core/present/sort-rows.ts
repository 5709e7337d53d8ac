import type { PayloadColumn, PayloadValue } from "./payload";

/** How the rows of a shown table are ordered: by one column, or as they came. */
export type RowOrder = { readonly column: number; readonly direction: "ascending" | "descending" } | null;

/** The order that asking for `column` once more gives: ascending, then descending, then as the rows came. */
export function nextOrder(order: RowOrder, column: number): RowOrder {
  if (order === null || order.column !== column) return { column, direction: "ascending" };
  return order.direction === "ascending" ? { column, direction: "descending" } : null;
}

/**
 * The rows in the given order. Missing values are last in both directions, equal ones stay as they came, text goes
 * by its letters without regard to case, and runs of digits in it by their number.
 */
export function sortRows<R extends readonly PayloadValue[]>(rows: readonly R[], columns: readonly PayloadColumn[], order: RowOrder): readonly R[] {
  if (order === null || columns[order.column] === undefined) return rows;
  const sign = order.direction === "ascending" ? 1 : -1;
  return [...rows].sort((one, other) => {
    const [a, b] = [one[order.column] ?? null, other[order.column] ?? null];
    if (a === null || b === null) return a === b ? 0 : a === null ? 1 : -1;
    return sign * compareValues(a, b);
  });
}

function compareValues(a: Exclude<PayloadValue, null>, b: Exclude<PayloadValue, null>): number {
  if (typeof a === "string" && typeof b === "string") return compareTexts(a, b);
  return Number(a) - Number(b);
}

/** Negative, 0 or positive as `a` comes before, with or after `b`; see `sortRows`. */
export function compareTexts(a: string, b: string): number {
  const [left, right] = [runsOf(a), runsOf(b)];
  for (let i = 0; i < Math.max(left.length, right.length); i++) {
    const [x, y] = [left[i] ?? "", right[i] ?? ""];
    const difference = /^\d/.test(x) && /^\d/.test(y) ? Number(x) - Number(y) : 0;
    if (difference !== 0) return difference;
    if (x !== y) return x < y ? -1 : 1;
  }
  return a < b ? -1 : a > b ? 1 : 0;
}

/** A text in runs of digits, short enough to be exact numbers, and of anything else. */
function runsOf(text: string): readonly string[] {
  return text.toLowerCase().match(/\d{1,15}|\D+/gu) ?? [];
}
