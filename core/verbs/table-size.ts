import type { Limits } from "../limits";
import { refuse, type Refused } from "./verb-problem";

/**
 * The refusal of a table with more rows or values than there may be, at the parameter `at`; `null` when it may be made.
 *
 * Asked before anything is allocated: the arrays of columns are not among what a kernel's memory limit counts.
 */
export function tooLarge(at: string, rowCount: number, columnCount: number, limits: Limits): Refused | null {
  if (rowCount > limits.rows) return refuse(at, "run.too-large", { what: "rows", count: rowCount, most: limits.rows });
  const values = rowCount * columnCount;
  return values > limits.values ? refuse(at, "run.too-large", { what: "values", count: values, most: limits.values }) : null;
}
