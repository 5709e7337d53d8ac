import { expect, test } from "vitest";
import { chartSvg } from "../../../core/chart/draw-chart";
import { heightBand, offlineBand, pathOf } from "../../../core/chart/flight-paths";
import { buildFlights, flight } from "../../../core/chart/kinds/flight";
import { lightTheme } from "../../../core/chart/themes";
import { standardAirs } from "../../../core/flight/air";
import { simulateFlight } from "../../../core/flight/simulate";
import { stillAir } from "../../../core/flight/wind";
import { defaultLimits } from "../../../core/limits";
import { presentChart } from "../../../core/present/present-result";
import type { Chart, Table } from "../../../core/table/table";
import { findColumn, takeRows } from "../../../core/table/table";
import { launchOf } from "../flight/golf-units";
import { numbers } from "../verbs/trade-verbs";
import { countMarks, readSvg } from "./read-svg";
import { sampleLaunches } from "./sample-launches";

const context = { limits: defaultLimits, units: "yd-mph" as const, margins: {}, seed: 1, warn: () => undefined, checkpoint: () => undefined };

function draw(table: Table, by: string | null = "head"): Chart {
  const chart = buildFlights(table, by, context);
  if (chart.type !== "chart") throw new Error("refused");
  return chart;
}

function someRows(table: Table, holds: (row: number) => boolean): Table {
  const rows = Int32Array.from(Array.from({ length: table.rowCount }, (_, row) => row).filter(holds));
  return { ...table, rowCount: rows.length, columns: table.columns.map((column) => takeRows(column, rows)) };
}

function edited(table: Table, name: string, change: (value: number, row: number) => number): Table {
  return { ...table, columns: table.columns.map((column) => (column.name === name && column.kind === "number" ? { ...column, values: column.values.map(change) } : column)) };
}

const paths = [120, 124, 128, 132, 136].map((speed, i) => pathOf(launchOf(speed, 17, 6200, 2 * i - 4), standardAirs["sea level"], stillAir));

test("a path ends where the simulated flight lands", () => {
  const end = paths[0]!.at(-1)!;
  const landed = simulateFlight(launchOf(120, 17, 6200, -4), { air: standardAirs["sea level"] });
  expect(end.distance).toBeCloseTo(landed.downrange, 5);
  expect(end.offline).toBeCloseTo(landed.offline, 5);
  expect(end.height).toBeCloseTo(0, 6);
  expect(Math.min(...paths[0]!.map(({ height }) => height))).toBe(0);
  expect(pathOf(launchOf(120, -4, 2000), standardAirs["sea level"], stillAir)).toEqual([]);
});

test("the band of heights begins at the ball and ends where a tenth still fly; that of sides ends where half have landed", () => {
  const heights = heightBand(paths);
  const carries = paths.map((path) => path.at(-1)!.distance);
  expect([heights[0]!.low, heights[0]!.high, heights.at(-1)!.high]).toEqual([0, 0, 0]);
  for (const { low, high } of heights) expect(high).toBeGreaterThanOrEqual(low);
  expect(heights.at(-1)!.distance).toBeGreaterThan(carries[3]!);
  expect(heights.at(-1)!.distance).toBeLessThanOrEqual(carries[4]!);
  const sides = offlineBand(paths);
  expect(Math.abs(sides.at(-1)!.distance - carries[2]!)).toBeLessThan(3);
  expect(sides.at(-1)!.low).toBeLessThan(0);
  expect(sides.at(-1)!.high).toBeGreaterThan(0);
});

test("each head has a line and a mark in both views, and a row in the table behind", async () => {
  const chart = draw(sampleLaunches());
  const elements = readSvg(await chartSvg(presentChart(chart, defaultLimits).spec, lightTheme, 600));
  expect(countMarks(elements, "concat_0_layer_3_marks")).toBe(3);
  expect(countMarks(elements, "concat_1_layer_3_marks")).toBe(3);
  expect(chart.table.rowCount).toBe(3);
  expect(numbers(chart.table, "n")).toEqual([30, 30, 30]);
  expect(findColumn(chart.table, "model_peak_height")).toBeDefined();
  expect(chart.description).toMatch(/Heron \(30 flights\): carries 1\d\d\.\d yd, \d\d\.\d yd high, lands \d\.\d yd (right|left)\./u);
  expect(chart.description).toContain("The bands hold the middle 80 % of the single shots' flights at each distance");
  expect(chart.description).toContain("still air");
});

test("a head with few shots has a line without a band, which is said", () => {
  const shots = sampleLaunches();
  const chart = draw(someRows(shots, (row) => row < 75 && (row < 4 || Math.floor(row / 3) % 3 !== 0)));
  expect(chart.description).toContain("No band for Heron: fewer than 5 shots.");
  expect(draw(someRows(shots, (row) => row === 0)).table.rowCount).toBe(1);
});

test("more shots than a band is made of are taken at even steps, and the line is of all of them", () => {
  const chart = draw(sampleLaunches({ perHead: 230, heads: ["Wren"] }));
  expect(chart.description).toContain("The band is of 200 shots for Wren, taken at even steps.");
  expect(numbers(chart.table, "n")).toEqual([230]);
});

test("shots too slow for the model are left out and counted; where none is left, words stand", () => {
  const shots = sampleLaunches();
  const some = draw(edited(shots, "ball_speed", (value, row) => (row === 5 ? 50 : value)));
  expect(some.description).toContain("1 shot has a launch too slow, or not possible, for the model.");
  const none = draw(edited(shots, "ball_speed", () => 50));
  expect(none.description).toContain("No flight for Heron, Plover, Wren: no launch that can be modelled.");
  expect(draw(someRows(shots, () => false)).description).toContain("There are no shots.");
  expect(draw(edited(shots, "spin_rate", () => Number.NaN)).description).toContain("90 of 90 shots not drawn");
});

test("without start direction and spin axis balls fly straight, which is said", () => {
  const shots = sampleLaunches();
  const chart = draw({ ...shots, columns: shots.columns.filter(({ name }) => name !== "start_direction" && name !== "spin_axis") }, null);
  expect(chart.description).toContain("No start direction and no spin axis: taken as straight and level.");
  expect(chart.description).toContain("lands on the target line.");
});

test("launches in units that do not fit are refused", () => {
  const shots = sampleLaunches();
  const wrong = { ...shots, columns: shots.columns.map((column) => (column.name === "spin_rate" ? { ...column, unit: null } : column)) as Table["columns"] };
  expect(flight.build(wrong, {}, context).type).toBe("refused");
});
