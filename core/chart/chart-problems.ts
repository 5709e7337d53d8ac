import { oneOf, problemKind, shown } from "../problem-kind";

/** Problems of charts: their specification, and what the data make of it. */
export const chartProblems = {
  "chart.not-json": problemKind(
    "error",
    ({ found }: { found: string; accepted: string }) => `this is not JSON: ${found}`,
    ({ accepted }) => `write ${accepted}`,
  ),
  "chart.too-long": problemKind(
    "error",
    ({ length, most }: { length: number; most: number }) => `the specification has ${length} characters, more than ${most}`,
    () => "the data come from the table; the specification says only how to draw them",
  ),
  "chart.too-deep": problemKind(
    "error",
    ({ most }: { most: number }) => `the specification has more than ${most} levels of brackets`,
    () => "write views side by side instead of inside one another",
  ),
  "chart.repeated-key": problemKind(
    "error",
    ({ key }: { key: string }) => `the key ${shown(key)} stands here for the second time`,
    () => "keep one of them",
  ),
  "chart.repeated-column": problemKind(
    "error",
    ({ name, where }: { name: string; where: string }) => `the column ${shown(name)} stands in ${where} for the second time`,
    () => "keep one of them",
  ),
  "chart.not-vega-lite": problemKind(
    "error",
    ({ because }: { because: string }) => `this is not a Vega-Lite specification: ${because}`,
    () => 'a chart cell holds an object with a mark and an encoding: { "mark": "point", "encoding": { … } }',
  ),
  "chart.no-mark": problemKind(
    "error",
    ({ where }: { where: string }) => `${where} says neither what to draw nor what it consists of`,
    () => 'give it a "mark" and an "encoding", or one of "layer", "concat", "hconcat", "vconcat"',
  ),
  "chart.unknown-property": problemKind(
    "error",
    ({ key, where }: { key: string; where: string; nearest: string | undefined; accepted: readonly string[] }) =>
      `${where} has no property ${shown(key)}`,
    ({ nearest, accepted }) => (nearest === undefined ? `accepted are ${oneOf(accepted, 24)}` : `did you mean ${shown(nearest)}?`),
  ),
  "chart.wrong-value": problemKind(
    "error",
    ({ given, where }: { given: string; where: string; nearest: string | undefined; accepted: string }) => `${where} cannot be ${given}`,
    ({ nearest, accepted }) => (nearest === undefined ? `accepted is ${accepted}` : `did you mean ${shown(nearest)}?`),
  ),
  "chart.unknown-column": problemKind(
    "error",
    ({ name }: { name: string; nearest: string | undefined; accepted: readonly string[] }) => `the table has no column ${shown(name)}`,
    ({ nearest, accepted }) => (nearest === undefined ? `its columns are ${oneOf(accepted, 24)}` : `did you mean ${shown(nearest)}?`),
  ),
  "chart.wrong-type": problemKind(
    "error",
    ({ name, kind, use }: { name: string; kind: string; use: string }) => `${shown(name)} holds ${kind}, so it cannot be ${use}`,
    () => "choose a column of numbers, or leave the type out",
  ),
  "chart.refused": problemKind(
    "error",
    ({ what, where }: { what: string; where: string; because: string }) => `${shown(what)} is not taken in ${where}`,
    ({ because }) => because,
  ),
  "chart.ignored": problemKind(
    "warning",
    ({ what }: { what: string; because: string }) => `${shown(what)} has no effect`,
    ({ because }) => because,
  ),
  "chart.beyond-limit": problemKind(
    "error",
    ({ count, what, most }: { count: number; what: string; most: number }) => `there would be ${count} ${what}, more than ${most}`,
    () => "draw fewer",
  ),
  "chart.too-many-marks": problemKind(
    "error",
    ({ count, most }: { count: number; most: number }) => `the chart would have ${count} marks, more than the ${most} that are drawn`,
    () => "filter the rows first, or aggregate them in a query cell",
  ),
  "chart.too-many-panels": problemKind(
    "error",
    ({ count, most }: { count: number; most: number }) => `the chart would have ${count} panels, more than the ${most} that are drawn`,
    () => "choose a column with fewer values, or filter the rows first",
  ),
  "chart.not-drawn": problemKind(
    "info",
    ({ count, of, because }: { count: number; of: number; because: string }) => `${count} of ${of} rows are not drawn: ${because}`,
    () => "this is said below the chart as well",
  ),
  "chart.few-rows": problemKind(
    "info",
    ({ count, group }: { count: number; group: string }) => `${group} has only ${count} ${count === 1 ? "row" : "rows"}: a summary hides how few`,
    () => "draw the rows themselves as points",
  ),
  "chart.no-description": problemKind(
    "info",
    () => "the chart has no description for those who cannot see it",
    () => "say in a sentence what it shows",
  ),
  "chart.cut-axis": problemKind(
    "info",
    ({ axis }: { axis: string }) => `the bars start above 0 on ${axis}: their lengths no longer compare`,
    () => "use points, or let the axis start at 0",
  ),
  "chart.two-scales": problemKind(
    "info",
    ({ axis }: { axis: string }) => `the layers have scales of their own on ${axis}: where the lines cross means nothing`,
    () => "draw two charts, one above the other",
  ),
} as const;
