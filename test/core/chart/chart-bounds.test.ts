import { expect, test } from "vitest";
import { chartKinds } from "../../../core/chart/chart-kinds";
import { chartSvg } from "../../../core/chart/draw-chart";
import { lightTheme } from "../../../core/chart/themes";
import { defaultLimits } from "../../../core/limits";
import { presentChart } from "../../../core/present/present-result";
import type { ChartPayload } from "../../../core/present/payload";
import type { OptionValues, RunContext } from "../../../core/query/vocabulary";
import { drawFigure } from "../../../core/report/figure";
import { findColumn, textColumn, type Table } from "../../../core/table/table";
import { cutTexts, overlappingTexts, readSvg, type SvgElement } from "./read-svg";
import { sampleCompare } from "./sample-compare";
import { sampleLaunches } from "./sample-launches";
import { sampleDeliveries, sampleEnough } from "./sample-plans";
import { sampleShots } from "./sample-shots";

// Widths of a narrow column, of a page and of the widest output, in pixels; and what a film is made of.
const widths = [320, 600, 900];
const film = { width: 1920, height: 1080, theme: lightTheme, background: "transparent" } as const;

const seven = ["Wren, the short blade", "Heron, a cavity back with a long name", "Plover", "Dunlin in the second set", "Teal", "Sandpiper, hollow, 32 degrees", "Lapwing"];

/** The table with its heads named anew, in turn, so that there are as many as names. */
function withHeads(table: Table, heads: readonly string[]): Table {
  const named = (name: string, from: number): ReturnType<typeof textColumn> => textColumn(name, Array.from({ length: table.rowCount }, (_, row) => heads[(Math.floor(row / 3) + from) % heads.length]!));
  const columns = table.columns.map((column) => (column.name === "head" ? named("head", 0) : column.name === "against" ? named("against", 1) : column));
  return { ...table, columns };
}

const drawn: readonly (readonly [kind: string, table: Table, options: OptionValues])[] = [
  ["landing", sampleShots({ perHead: 70 }), { by: "head" }],
  ["strikes", sampleShots({ perHead: 70 }), { by: "head" }],
  ["order", sampleShots({ perHead: 70 }), { of: "carry" }],
  ["spreads", sampleShots({ perHead: 70 }), { by: "head" }],
  ["surface", sampleShots({ perHead: 70 }), { of: "ball_speed", by: "head" }],
  ["workability", sampleDeliveries(), { by: "head" }],
  ["flight", sampleLaunches(), { by: "head" }],
  ["intervals", sampleCompare(), {}],
  ["enough", sampleEnough(), {}],
];

function chartOf(name: string, table: Table, options: OptionValues): ChartPayload {
  const context: RunContext = { limits: defaultLimits, units: "yd-mph", margins: {}, seed: 1, warn: () => {}, checkpoint: () => {} };
  const made = chartKinds.find((kind) => kind.name === name)!.build(table, options, context);
  if (made.type === "refused") throw new Error(`refused: ${made.problems.map((found) => found.make({} as never).code).join()}`);
  return presentChart(made, defaultLimits);
}

/** Pixels from the left edge of the leftmost plot to the right edge of the rightmost. */
function widthOfPlots(elements: readonly SvgElement[]): number {
  const frames = elements.filter(({ name, attributes }) => name === "path" && attributes["class"] === "background");
  const ends = frames.flatMap(({ x, attributes }) => (attributes["d"] ?? "").match(/h[\d.]+|H[\d.]+/gu)?.map((part) => x + Number(part.slice(1))) ?? []);
  return Math.max(...ends) - Math.min(...frames.map(({ x }) => x));
}

/** Expects that at any width the plots fill the picture, and no text is cut off by its edge or written over another. */
async function checkBounds(chart: ChartPayload): Promise<void> {
  for (const width of widths) {
    const elements = readSvg(await chartSvg(chart.spec, lightTheme, width));
    expect([width, cutTexts(elements), overlappingTexts(elements)]).toEqual([width, [], []]);
    expect(Number(elements[0]!.attributes["width"])).toBeLessThanOrEqual(width + 1);
    expect([width, widthOfPlots(elements) > 0.6 * width]).toEqual([width, true]);
  }
}

test("every kind that draws heads is here", () => {
  const others = chartKinds.map(({ name }) => name).filter((name) => !drawn.some(([kind]) => kind === name));
  expect(others).toEqual(["suspects"]);
  for (const [, table] of drawn) expect(findColumn(table, "head")?.kind).toBe("text");
});
test.each(drawn)("of three heads, %s has every text whole and apart from 320 to 900 pixels", (kind, table, options) => checkBounds(chartOf(kind, table, options)));
test.each(drawn)("of seven heads with long names, %s has every text whole and apart from 320 to 900 pixels", (kind, table, options) => checkBounds(chartOf(kind, withHeads(table, seven), options)));
test.each(drawn)("of seven heads with long names, %s fits into a picture for film", async (kind, table, options) => {
  expect((await drawFigure(chartOf(kind, withHeads(table, seven), options), "Seven heads", film)).svg).toMatch(/^<svg[^>]* width="1920"[^>]* height="1080"/u);
});
