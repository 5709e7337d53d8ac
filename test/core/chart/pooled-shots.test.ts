import { expect, test } from "vitest";
import { chartKinds } from "../../../core/chart/chart-kinds";
import { defaultLimits } from "../../../core/limits";
import type { OptionValues } from "../../../core/query/vocabulary";
import type { Chart, Table } from "../../../core/table/table";
import { findColumn, takeRows, textColumn, valueAt } from "../../../core/table/table";
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

test("a head keeps its colour and its shape where the others are not drawn", () => {
  const all = sampleShots({ heads: ["Wren", "Heron", "Plover"] });
  const marksOf = (table: Table): readonly (readonly [string, number])[] => {
    const spec = JSON.stringify(build("landing", table).spec);
    const domain = JSON.parse(/"domain":(\["[^\]]*\])/u.exec(spec)![1]!) as string[];
    const legend = /"legend":\{[^}]*"values":(\[[^\]]*\])/u.exec(spec)?.[1];
    return (legend === undefined ? ["Plover"] : (JSON.parse(legend) as string[])).map((head) => [head, domain.indexOf(head)]);
  };
  const only = (...heads: readonly string[]): Table => {
    const column = findColumn(all, "head")!;
    const rows = Int32Array.from(Array.from({ length: all.rowCount }, (_, row) => row).filter((row) => heads.includes(String(valueAt(column, row)))));
    return { ...all, rowCount: rows.length, columns: all.columns.map((each) => takeRows(each, rows)) };
  };
  expect(marksOf(all)).toEqual([["Wren", 0], ["Heron", 1], ["Plover", 2]]);
  expect(marksOf(only("Wren", "Plover"))).toEqual([["Wren", 0], ["Plover", 2]]);
  expect(marksOf(only("Plover"))).toEqual([["Plover", 2]]);
});
