import { problemKind } from "../problem-kind";

/** Problems of charts: their specification, and what the data make of it. */
export const chartProblems = {
  "chart.too-many-marks": problemKind(
    "error",
    ({ count, most }: { count: number; most: number }) => `the chart would have ${count} marks, more than the ${most} that are drawn`,
    () => "filter the rows first, or draw aggregates or bins of them",
  ),
  "chart.too-many-panels": problemKind(
    "error",
    ({ count, most }: { count: number; most: number }) => `the chart would have ${count} panels, more than the ${most} that are drawn`,
    () => "choose a column with fewer values, or filter the rows first",
  ),
} as const;
