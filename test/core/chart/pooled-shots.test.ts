import { expect, test } from "vitest";
import { chartKinds } from "../../../core/chart/chart-kinds";
import { defaultLimits } from "../../../core/limits";
import type { OptionValues } from "../../../core/query/vocabulary";
import type { Chart, Table } from "../../../core/table/table";
import { takeRows, textColumn } from "../../../core/table/table";
import { sampleDeliveries } from "./sample-plans";
import { sampleShots } from "./sample-shots";

function build(name: string, table: Table, options: OptionValues = { by: "head" }): Chart {
  const context = { limits: defaultLimits, units: "yd-mph", margins: {}, seed: 1, warn: () => {}, checkpoint: () => {} } as const;
  const made = chartKinds.find((kind) => kind.name === name)!.build(table, options, context);
  if (made.type === "refused") throw new Error("refused");
  return made;
}

function withPlayers(table: Table, playerOf: (row: number) => string): Table {
  return { ...table, columns: [...table.columns, textColumn("player", Array.from({ length: table.rowCount }, (_, row) => playerOf(row)), "stated")] };
}

/** The first rows of the table once more, below it. */
function repeating(table: Table, count: number): Table {
  const rows = Int32Array.from({ length: table.rowCount + count }, (_, i) => i % table.rowCount);
  return { ...table, rowCount: rows.length, columns: table.columns.map((column) => takeRows(column, rows)) };
}

const shots = sampleShots();
const ellipseWords = /Ellipses hold|Each ellipse holds/;

test.each(["landing", "strikes", "spreads"])("%s of two players says so and draws no ellipse around both", (name) => {
  const both = withPlayers(shots, (row) => (row % 2 === 0 ? "P1" : "P2"));
  const chart = build(name, both);
  expect(chart.description).toContain("Shots of 2 players are drawn together. No ellipse for Heron, Plover, Wren from such shots.");
  expect(JSON.stringify(chart.spec["title"])).toContain("Shots of 2 players are drawn together.");
  expect(JSON.stringify(chart.spec["title"])).not.toMatch(ellipseWords);
  const apart = JSON.stringify(build(name, both, { by: "player" }).spec["title"]);
  expect(apart).not.toContain("together");
  expect(apart).toMatch(ellipseWords);
});

test.each(["landing", "strikes", "spreads"])("%s keeps the ellipse of a head that one player hit", (name) => {
  const heron = shots.columns.find((column) => column.name === "head")!;
  const chart = build(name, withPlayers(shots, (row) => (heron.kind === "text" && heron.labels[heron.codes[row]!] === "Heron" && row % 2 === 0 ? "P2" : "P1")));
  expect(chart.description).toContain("No ellipse for Heron from such shots.");
  expect(JSON.stringify(chart.spec["title"])).toMatch(ellipseWords);
});

test.each(["landing", "strikes", "spreads"])("%s says of shots that concat put in twice that they are there twice", (name) => {
  const chart = build(name, repeating(shots, 2));
  expect(chart.description).toContain("2 shots are drawn more than once. No ellipse for Heron from such shots.");
});

test("shots of two players, and shots that are there twice, have no line and are said", () => {
  const deliveries = sampleDeliveries();
  expect(build("workability", withPlayers(deliveries, (row) => `P${row % 2}`)).description).toContain("Shots of 2 players are drawn together.");
  expect(build("workability", withPlayers(deliveries, (row) => `P${row % 2}`)).description).not.toContain("for a degree of face to path");
  expect(build("order", repeating(shots, 1), { of: "carry" }).description).toContain("1 shot is drawn more than once.");
});

test("heads stand in the legend in the order in which their session lists them, as in tables", () => {
  const chart = build("landing", sampleShots({ heads: ["Wren", "Heron", "Plover"] }));
  expect(JSON.stringify(chart.spec)).toContain('"domain":["Wren","Heron","Plover"]');
  expect(chart.description).toMatch(/by head: Wren \(\d+\), Heron \(\d+\), Plover \(\d+\)\./);
});
