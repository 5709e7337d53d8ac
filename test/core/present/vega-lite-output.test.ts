import { expect, test } from "vitest";
import { hintsOf } from "../../../core/chart/fit-spec";
import type { ChartPayload } from "../../../core/present/payload";
import { presentTable } from "../../../core/present/present-table";
import { readPayload } from "../../../core/present/read-payload";
import { chartInOutput, vegaLiteOutput } from "../../../core/present/vega-lite-output";
import { numberColumn } from "../../../core/table/table";
import { sampleTable } from "./sample-tables";

const chart: ChartPayload = {
  type: "chart",
  spec: { mark: "point", data: { values: [{ carry: 150 }] }, encoding: { x: { field: "carry", type: "quantitative" } } },
  description: "Carry.",
  table: presentTable(sampleTable([numberColumn("carry", [150], "yd")]), 10),
};

test("a chart's output is the specification itself, with its words and table where programs may put theirs", () => {
  const output = vegaLiteOutput(chart);
  expect(output).toMatchObject({ mark: "point", data: { values: [{ carry: 150 }] }, description: "Carry." });
  expect(Object.keys(output)).not.toContain("type");
});

test("what was put into an output is read back as it was", () => {
  const read = readPayload(chartInOutput(JSON.parse(JSON.stringify(vegaLiteOutput(chart)))));
  expect(read).toEqual({ payload: { ...chart, spec: { ...chart.spec, description: "Carry." } } });
});

test("a landing chart in the editor had two scales: what a chart says of its size was lost on the way to the page", () => {
  const sized = { ...chart, spec: { ...chart.spec, usermeta: { fairstrike: { heightPerWidth: 1.25, tallest: 460 } } } };
  const { spec } = chartInOutput(JSON.parse(JSON.stringify(vegaLiteOutput(sized)))) as ChartPayload;
  expect(hintsOf(spec)).toEqual({ heightPerWidth: 1.25, tallest: 460 });
  expect(hintsOf({ usermeta: { fairstrike: { heightPerWidth: "1", tallest: -1, panelWidth: Number.NaN, legendLabel: 40 } } })).toEqual({ legendLabel: 40 });
});

test("H-04 another program's chart, or anything else, is left for the reader to name", () => {
  for (const value of [{ mark: "bar" }, null, 7, [], { usermeta: 1 }, { usermeta: { fairstrike: "x" } }]) {
    expect(chartInOutput(value)).toBe(value);
    expect(readPayload(chartInOutput(value))).toHaveProperty("fault");
  }
});
