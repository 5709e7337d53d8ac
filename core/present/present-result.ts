import { chartRows } from "../chart/chart-data";
import type { Limits } from "../limits";
import type { Chart, Table } from "../table/table";
import type { ChartPayload, ResultPayload, TextPayload } from "./payload";
import { presentTable } from "./present-table";

/** The results to show for a value, in order: a table that has a picture gives the picture first. */
export function presentResult(value: Table | Chart | TextPayload, limits: Limits): readonly ResultPayload[] {
  switch (value.type) {
    case "text":
      return [value];
    case "chart":
      return [presentChart(value, limits)];
    case "table": {
      const table = presentTable(value, limits.rowsShown);
      const picture = value.report?.picture ?? null;
      return picture === null ? [table] : [presentChart(picture, limits), table];
    }
  }
}

/** The chart as plain JSON: its data are inlined, and the table that it draws is beside it. */
export function presentChart(chart: Chart, limits: Limits): ChartPayload {
  return {
    type: "chart",
    spec: { ...chart.spec, data: { values: chartRows(chart.table) } },
    description: chart.description,
    table: presentTable(chart.table, limits.rowsShown),
  };
}
