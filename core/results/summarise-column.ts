import type { Column } from "../table/table";
import { missingCount } from "../table/table";

/** What is told of one column of a whole table. */
export interface ColumnSummary {
  /** Rows without a value. */
  readonly missing: number;
  /** Texts that are there but empty; 0 for any other column. */
  readonly empty: number;
  /** The least and the greatest number; `null` for other columns, and where all are missing. */
  readonly least: number | null;
  readonly most: number | null;
  /** How many distinct texts or truth values there are; `null` for numbers. */
  readonly distinct: number | null;
  /**
   * Of numbers: rows in parts of equal width from the least to the greatest. Of texts and truth values: rows of the most
   * frequent ones, most first.
   */
  readonly counts: readonly number[];
  /** The texts that `counts` counts; empty for numbers. */
  readonly names: readonly string[];
}

/** Parts of a distribution of numbers. */
const parts = 12;

/** Texts of which rows are counted. */
const mostNames = 6;

/** What is told of a column: missing values, range and a small distribution of all its rows. */
export function summariseColumn(column: Column): ColumnSummary {
  const missing = missingCount(column);
  switch (column.kind) {
    case "number":
      return { missing, empty: 0, distinct: null, names: [], ...spreadOf(column.values) };
    case "text": {
      const counts = new Float64Array(column.labels.length);
      for (const code of column.codes) if (code >= 0) counts[code]!++;
      const blank = column.labels.indexOf("");
      return { missing, empty: blank < 0 ? 0 : counts[blank]!, least: null, most: null, ...frequent(column.labels, counts) };
    }
    case "truth": {
      const counts = [0, 0];
      for (const value of column.values) if (value >= 0) counts[value]!++;
      return { missing, empty: 0, least: null, most: null, ...frequent(["false", "true"], counts) };
    }
  }
}

function spreadOf(values: Float64Array): Pick<ColumnSummary, "least" | "most" | "counts"> {
  let least = Infinity;
  let most = -Infinity;
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  if (least > most) return { least: null, most: null, counts: [] };
  const counts = Array.from({ length: least === most ? 1 : parts }, () => 0);
  // The width of a part is divided first: the whole range of two large numbers need not be a number.
  const width = most / counts.length - least / counts.length;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    const part = width > 0 ? Math.floor(value / width - least / width) : 0;
    counts[Math.min(counts.length - 1, Math.max(0, part))]!++;
  }
  return { least, most, counts };
}

function frequent(labels: readonly string[], counts: ArrayLike<number>): Pick<ColumnSummary, "distinct" | "counts" | "names"> {
  const there = labels.map((label, code) => ({ label, count: counts[code]! })).filter(({ count }) => count > 0);
  const top = [...there].sort((a, b) => b.count - a.count).slice(0, mostNames);
  return { distinct: there.length, counts: top.map(({ count }) => count), names: top.map(({ label }) => label.slice(0, 60)) };
}
