import { readFileSync } from "node:fs";
import { beforeAll, expect, test } from "vitest";
import { chartKinds } from "../../../core/chart/chart-kinds";
import { compileChart, chartSvg } from "../../../core/chart/draw-chart";
import { fitSpec } from "../../../core/chart/fit-spec";
import { buildIntervals } from "../../../core/chart/kinds/intervals";
import { chartConfig, contrastTheme, darkTheme, lightTheme } from "../../../core/chart/themes";
import { defaultLimits } from "../../../core/limits";
import { presentChart } from "../../../core/present/present-result";
import type { OptionValues, RunContext } from "../../../core/query/vocabulary";
import { inUnits } from "../../../core/table/convert-units";
import type { Chart, Table } from "../../../core/table/table";
import { numberColumn, takeRows, textColumn } from "../../../core/table/table";
import { suspects } from "../../../core/verbs/suspects";
import { loadedTable } from "../../support/loaded-table";
import { sampleSession, sampleTable } from "../present/sample-tables";
import { countMarks, cutTexts, readSvg } from "./read-svg";
import { sampleCompare } from "./sample-compare";
import { sampleDeliveries, sampleEnough } from "./sample-plans";
import { sampleLaunches } from "./sample-launches";
import { sampleShots } from "./sample-shots";

const context: RunContext = {
  limits: defaultLimits,
  units: "yd-mph",
  margins: {},
  seed: 1,
  warn: () => {},
  checkpoint: () => {},
};

function build(name: string, table: Table, options: OptionValues = {}, limits = defaultLimits): Chart {
  const kind = chartKinds.find((each) => each.name === name)!;
  const made = kind.build(table, options, { ...context, limits });
  if (made.type === "refused") throw new Error(`refused: ${made.problems.map((found) => found.make({} as never).code).join()}`);
  return made;
}

function checkRefused(name: string, table: Table, code: string, limits = defaultLimits): void {
  expect(() => build(name, table, { of: "carry" }, limits)).toThrow(code);
}

async function draw(chart: Chart, width = 600) {
  const svg = await chartSvg(presentChart(chart, defaultLimits).spec, lightTheme, width);
  return { svg, elements: readSvg(svg) };
}

function someRows(table: Table, rows: readonly number[]): Table {
  return { ...table, rowCount: rows.length, columns: table.columns.map((column) => takeRows(column, Int32Array.from(rows))) };
}

/** The doubtful values of the sample session in which nothing is set aside. */
function sampleSuspects(): Table {
  const text = (name: string): string => readFileSync(new URL(`../../../sample-notebooks/sessions/${name}`, import.meta.url), "utf8");
  const session = loadedTable(text("summer-net-1.session.yaml"), { "summer-net-1.tsv": text("summer-net-1.tsv") });
  const found = suspects.run(inUnits(session, "yd-mph"), [], context);
  if (found.type !== "table") throw new Error("the session has doubtful values");
  return found;
}

const shots = sampleShots();
let charts: Record<string, Chart>;
beforeAll(() => {
  charts = {
    landing: build("landing", shots, { by: "head" }),
    strikes: build("strikes", shots, { by: "head" }),
    order: build("order", shots, { of: "carry" }),
    intervals: build("intervals", sampleCompare()),
    spreads: build("spreads", shots, { by: "head" }),
    surface: build("surface", shots, { of: "ball_speed", by: "head" }),
    enough: build("enough", sampleEnough()),
    workability: build("workability", sampleDeliveries(), { by: "head" }),
    flight: build("flight", sampleLaunches(), { by: "head" }),
    suspects: build("suspects", sampleSuspects()),
  };
});

test("every kind has a chart here, a one-sentence summary and an example that calls it", () => {
  expect(chartKinds.map((kind) => kind.name).sort()).toEqual(Object.keys(charts).sort());
  for (const kind of chartKinds) {
    expect(kind.help.summary).toMatch(/^[A-Z].*[.?]$/);
    expect(kind.help.example).toContain(`chart.${kind.name}(`);
  }
});

test.each(["landing", "strikes", "order", "intervals", "spreads", "surface", "enough", "workability", "flight"])("%s fits 300 to 900 pixels with no label cut off", async (name) => {
  for (const width of [300, 600, 900]) {
    const { elements } = await draw(charts[name]!, width);
    expect(cutTexts(elements)).toEqual([]);
    expect(Number(elements[0]!.attributes["width"])).toBeLessThanOrEqual(width + 1);
    expect(elements.some((element) => /NaN|Infinity|undefined|null/.test(element.text + (element.attributes["d"] ?? "")))).toBe(false);
  }
});

test.each(["landing", "strikes", "order", "intervals", "spreads", "surface", "enough", "workability", "flight"])("%s gives Vega-Lite nothing to warn about", (name) => {
  const warnings: string[] = [];
  compileChart(fitSpec(presentChart(charts[name]!, defaultLimits).spec, 600, 60), chartConfig(lightTheme), (warning) => warnings.push(warning));
  expect(warnings).toEqual([]);
});

test.each(["landing", "strikes", "order", "intervals", "spreads", "surface", "enough", "workability", "flight"])("K-14 %s gives the same bytes twice", async (name) => {
  expect((await draw(charts[name]!)).svg).toBe((await draw(charts[name]!)).svg);
});

test("a theme changes colours and nothing else", async () => {
  const { spec } = presentChart(charts["landing"]!, defaultLimits);
  const texts = async (theme: typeof lightTheme) => readSvg(await chartSvg(spec, theme, 500)).map((element) => element.text);
  expect(await texts(darkTheme)).toEqual(await texts(lightTheme));
  expect(await texts(contrastTheme)).toEqual(await texts(lightTheme));
});

test("every drawn shot is a mark, each group has a mean and an ellipse, and the missing are counted", async () => {
  const { elements } = await draw(charts["landing"]!);
  expect(countMarks(elements, "role-mark layer_2_marks")).toBe(89);
  expect(countMarks(elements, "role-mark layer_3_marks")).toBe(3);
  expect(countMarks(elements, "layer_1_pathgroup")).toBeGreaterThanOrEqual(3);
  expect(elements.map((element) => element.text)).toContain("1 of 90 shots not drawn: no offline or no carry.");
});

test("a mean that is shown as 0 lies on neither side", () => {
  const zero = shots.columns.map((column) => (column.kind === "number" && column.name === "strike_y" ? { ...column, values: column.values.map(() => -0.001) } : column));
  expect(build("strikes", { ...shots, columns: zero }, { by: "head" }).description).toMatch(/Heron: [\d.]+ mm (toe|heel) and 0\.0 mm in height on average\./);
});

test("landing has one scale for both directions", () => {
  const { layer, usermeta } = charts["landing"]!.spec as unknown as {
    layer: { encoding: { x: { scale: { domain: number[] } }; y: { scale: { domain: number[] } } } }[];
    usermeta: { fairstrike: { heightPerWidth: number } };
  };
  const { x, y } = layer[1]!.encoding;
  const span = (domain: readonly number[]): number => domain[1]! - domain[0]!;
  expect(usermeta.fairstrike.heightPerWidth).toBeCloseTo(span(y.scale.domain) / span(x.scale.domain), 12);
  expect(x.scale.domain[0]).toBeCloseTo(-x.scale.domain[1]!, 12);
});

test("a group is told by colour and by shape", async () => {
  const { elements } = await draw(charts["landing"]!);
  const means = elements.filter((element) => element.name === "path" && element.within.includes("layer_3_marks"));
  expect(new Set(means.map((mean) => mean.attributes["fill"])).size).toBe(3);
  expect(new Set(means.map((mean) => mean.attributes["d"])).size).toBe(3);
});

test("the description says what is drawn, with counts and ranges", () => {
  expect(charts["landing"]!.description).toMatch(
    /^Where 89 shots landed, by head: Heron \(\d+\), Plover \(\d+\), Wren \(\d+\)\. Carry [\d.]+ to [\d.]+ yd, offline −[\d.]+ to [\d.]+ yd \(positive is right\)\. Ellipses hold the next shot with 95 %\. 1 of 90 shots not drawn: no offline or no carry\. Synthetic data: no shot behind these numbers was hit\.$/,
  );
  expect(charts["order"]!.description).toMatch(/^Carry of 89 shots in hitting order, by head: .* From [\d.]+ to [\d.]+ yd, in 30 stints\./);
  expect(charts["strikes"]!.description).toMatch(/Heron: [\d.]+ mm (toe|heel) and [\d.]+ mm (high|low) on average\./);
  expect(charts["intervals"]!.description).toContain("Heron \u2212 Wren, as struck: 1.9 yd (\u22121.6 to 5.4): undecided.");
});

test("synthetic shots are labelled in the picture", async () => {
  for (const chart of Object.values(charts)) {
    const { elements } = await draw(chart);
    expect(elements.map((element) => element.text)).toContain("Synthetic data: no shot behind these numbers was hit.");
  }
});

test("strikes have one face a head, the toe at the left for a right-hander and at the right for a left-hander", async () => {
  const reversed = (chart: Chart) => JSON.stringify(chart.spec).includes('"reverse":true');
  expect(reversed(charts["strikes"]!)).toBe(true);
  const left = build("strikes", sampleShots({ hand: "left" }), { by: "head" });
  expect(reversed(left)).toBe(false);
  const { elements } = await draw(left);
  expect(elements.map((element) => element.text)).toContain("← heel · strike x (mm) · toe →");
  expect(elements.filter((element) => /^(Heron|Plover|Wren) \(\d+\)$/.test(element.text))).toHaveLength(3);
});

test("spreads name what the ellipse holds, have one for each group, and say when a robust one leaves shots out", async () => {
  const texts = async (ellipse: string) => (await draw(build("spreads", shots, { ellipse }), 900)).elements.map((element) => element.text).join("|");
  expect(await texts("next shot")).toContain("Each ellipse holds the next shot with 95 %.");
  expect(await texts("population")).toContain("Each ellipse holds about 95 % of all shots (if centre and scatter were exact).");
  expect(await texts("mean point")).toContain("Each ellipse holds the mean point with 95 %.");
  expect(await texts("robust")).toMatch(/Each ellipse is robust .*\|\d+ far shots? (is|are) drawn and do(es)? not count for the ellipses\./);
  const { elements } = await draw(charts["spreads"]!);
  expect(countMarks(elements, "role-mark layer_2_marks")).toBe(89);
  expect(countMarks(elements, "layer_1_pathgroup")).toBeGreaterThanOrEqual(3);
});

test("groups too small for an ellipse are drawn and named", async () => {
  const few = build("spreads", sampleShots({ perHead: 5 }), { by: "head" });
  const { elements } = await draw(few, 900);
  expect(elements.map((element) => element.text)).toContain("No ellipse for Heron, Wren: fewer than 6 shots, or shots on a line.");
  expect(countMarks(elements, "role-mark layer_2_marks")).toBe(14);
});

interface SurfaceSpec {
  readonly concat: readonly { readonly layer: readonly { readonly mark: { readonly style?: string; readonly filled?: boolean }; readonly data?: { readonly values: readonly { x: number; y: number; band?: string; label?: string }[] } }[] }[];
}

test("a surface is drawn only where the head was hit, with the same named contours on all, and numbers at the misses", async () => {
  const { elements } = await draw(charts["surface"]!, 900);
  const texts = elements.map((element) => element.text);
  expect(texts.filter((text) => /^(Heron|Plover|Wren) \(\d+\)$/.test(text))).toHaveLength(3);
  expect(texts.filter((text) => text === "lost (mph)")).toHaveLength(1);
  const bands = texts.filter((text) => /^(below \S+|\S+ to \S+|\S+ or more)$/.test(text));
  expect(bands.length).toBeGreaterThan(2);
  expect(texts.filter((text) => /^\u2212?\d\.\d$/.test(text)).length).toBeGreaterThan(6);
  for (const { layer } of (charts["surface"]!.spec as unknown as SurfaceSpec).concat) {
    const areas = layer.filter(({ mark }) => mark.filled === true && mark.style === undefined).flatMap(({ data }) => data!.values);
    expect(bands).toEqual(expect.arrayContaining([...new Set(areas.map(({ band }) => band))]));
    // Nobody struck a shot farther than 40 mm out; the face goes on beyond that.
    expect(Math.max(...areas.map(({ x }) => Math.abs(x)))).toBeLessThan(32);
    expect(layer.filter(({ mark }) => mark.style === "label").flatMap(({ data }) => data!.values.map(({ label }) => label))).toContain(bands[2]!.split(" ")[0]);
  }
  expect(charts["surface"]!.description).toMatch(/^Ball speed lost over the face, in 89 shots\. Heron: 30 strikes; lost in mph: 12 mm to the toe [\u2212\d.]+/);
});

test("a surface that the shots do not determine leaves the strikes, and says so", async () => {
  const { elements } = await draw(build("surface", sampleShots({ perHead: 3 }), {}));
  const text = elements.map((element) => element.text).join(" ");
  expect(text).toContain("No loss told for Heron, Plover, Wren");
  expect(countMarks(elements, "layer_3_marks")).toBeGreaterThan(0);
  expect(JSON.stringify(build("surface", someRows(shots, []), {}).spec)).toContain("There are no shots.");
});

test("order draws a panel a session, and says so when the hitting order is not known", async () => {
  const two = [sampleShots({ session: "bay-1", perHead: 6 }), sampleShots({ session: "bay-2", perHead: 6 })];
  const table = sampleTable(
    ["session", "head"].map((name) => textColumn(name, two.flatMap((part) => textsOf(part, name)))).concat(
      ["shot", "stint", "carry"].map((name) => numberColumn(name, two.flatMap((part) => numbersIn(part, name)), name === "carry" ? "yd" : null)) as never,
    ),
    { sessions: [sampleSession({ orderKnown: false }), sampleSession({ name: "bay-2" })] },
  );
  const { elements } = await draw(build("order", table, { of: "carry" }));
  const texts = elements.map((element) => element.text);
  expect(texts).toContain("bay-1");
  expect(texts).toContain("bay-2");
  expect(texts).toContain("The hitting order is not known: shots are in the order of the file.");
});

test("intervals show both intervals, zero, the margin and each verdict in words", async () => {
  const { elements } = await draw(charts["intervals"]!);
  const texts = elements.map((element) => element.text);
  expect(texts.filter((text) => text === "Heron \u2212 Wren")).toHaveLength(1);
  expect(texts).toContain("as struck: 1.9 yd (\u22121.6 to 5.4): undecided");
  expect(texts).toContain("different by more than the margin");
  expect(texts).toContain("Thin bars: 95 % interval. Thick bars: 90 % interval. Shaded: within the margin of 3 yd.");
});

test("intervals of another confidence are not called 95 % intervals", () => {
  const table = sampleCompare();
  const report = table.report!;
  const keyOf = (chart: Chart): unknown => (chart.spec["title"] as { subtitle: readonly string[] }).subtitle[0];
  expect(keyOf(build("intervals", { ...table, report: { ...report, confidence: 0.8 } }))).toMatch(/^Thin bars: 80 % interval\. Thick bars: 90 % interval\./);
  expect(keyOf(build("intervals", { ...table, report: { ...report, confidence: 0.995 } }))).toMatch(/^Thin bars: 99\.5 % interval\./);
  expect(keyOf(buildIntervals(table, 0.8))).toMatch(/^Thin bars: 80 % interval\./);
  // After a verb the table is somebody's own, and its report is gone.
  expect(keyOf(build("intervals", { ...table, report: null }))).toMatch(/^Thin bars: the interval\. Thick bars: 90 % interval\./);
});

test("a margin that binary arithmetic cannot hold is shown as it was stated", () => {
  const margins = [0.1 + 0.2, 2.9, 1.25];
  const shown = margins.map((margin) => {
    const table = sampleCompare();
    const columns = table.columns.map((column) => (column.name === "margin" ? numberColumn("margin", Array.from({ length: table.rowCount }, () => margin), "yd") : column));
    return /margin of ([^"]*)\./.exec(JSON.stringify(build("intervals", { ...table, columns }).spec))![1];
  });
  expect(shown).toEqual(["0.3 yd", "2.9 yd", "1.25 yd"]);
});

test("a group column may be called what a chart calls its own numbers", async () => {
  for (const kind of ["landing", "strikes", "order"]) {
    const { elements: expected } = await draw(build(kind, shots, { by: "head", of: "carry" }));
    for (const name of ["x", "y", "order", "from", "to", "mean", "group", "session_", "line", "x_group"]) {
      const table = { ...shots, columns: [...shots.columns, { ...shots.columns.find((column) => column.name === "head")!, name }] };
      const { svg, elements } = await draw(build(kind, table, { by: name, of: "carry" }));
      const marks = (of: typeof elements): string[] => of.filter((element) => element.name === "path").map((element) => element.attributes["d"] ?? "");
      expect([kind, name, marks(elements)]).toEqual([kind, name, marks(expected)]);
      expect(svg).not.toContain("NaN");
    }
  }
});

test("intervals without an interval keep the row and say so", async () => {
  const table = sampleTable([
    textColumn("head", ["Heron"]),
    textColumn("against", ["Wren"]),
    numberColumn("difference", [2], "yd"),
    numberColumn("from", [null], "yd"),
    numberColumn("to", [null], "yd"),
    textColumn("verdict", ["no verdict"]),
  ]);
  const { elements } = await draw(build("intervals", table));
  expect(elements.map((element) => element.text)).toContain("2 yd (no interval): no verdict");
});

test.each([
  ["landing", {}],
  ["strikes", {}],
  ["order", { of: "carry" }],
])("K-11 %s of no rows, of one row and of missing values is honest", async (name, options) => {
  const none = await draw(build(name, someRows(shots, []), options));
  expect(none.elements.map((element) => element.text).join(" ")).toMatch(/There are no (shots|strikes)\./);
  const one = await draw(build(name, someRows(shots, [0]), options));
  expect(one.svg).not.toMatch(/NaN|Infinity/);
  const missing = await draw(build(name, someRows(shots, name === "strikes" ? [4] : [10]), options));
  expect(missing.elements.map((element) => element.text).join(" ")).toMatch(/1 of 1 shots not drawn: no/);
});

test("K-11 constant values and one group still have finite axes", async () => {
  const table = sampleTable([numberColumn("offline", [0, 0, 0], "yd"), numberColumn("carry", [150, 150, 150], "yd")]);
  const { elements } = await draw(build("landing", table));
  expect(countMarks(elements, "layer_2_marks")).toBe(3);
  expect(elements.map((element) => element.attributes["transform"] ?? "").join()).not.toMatch(/NaN|Infinity/);
});

test("K-10 too many marks and too many panels are refused", () => {
  checkRefused("landing", shots, "chart.too-many-marks", { ...defaultLimits, marks: 50 });
  checkRefused("order", shots, "chart.too-many-marks", { ...defaultLimits, marks: 50 });
  checkRefused("strikes", shots, "chart.too-many-panels", { ...defaultLimits, panels: 2 });
  checkRefused("surface", shots, "chart.too-many-panels", { ...defaultLimits, panels: 2 });
  checkRefused("surface", shots, "chart.too-many-marks", { ...defaultLimits, marks: 50 });
});

const hostile = ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "]]>", "&#x3c;b&#x3e;", "\u202eabc", "a'\\b", "__proto__", "constructor"];

test.each(["landing", "strikes", "order", "surface"])("K-12 hostile names stay text in %s", async (name) => {
  const column = shots.columns.find((each) => each.name === "head")!;
  const renamedHeads = textColumn("head", textsOf(shots, "head").map((_, row) => hostile[row % hostile.length]!));
  const table = { ...shots, columns: shots.columns.map((each) => (each === column ? renamedHeads : each)) };
  const { elements, svg } = await draw(build(name, table, { of: "carry", by: "head" }));
  expect(new Set(elements.map((element) => element.name))).toEqual(new Set(elements.map((element) => element.name).filter((tag) => /^(svg|g|path|text|tspan|defs|clipPath|rect|line|linearGradient|stop)$/.test(tag))));
  expect(elements.some((element) => Object.keys(element.attributes).some((attribute) => /^on|href/.test(attribute)))).toBe(false);
  expect(svg).toContain("&lt;script&gt;");
  // One shot has no strike, another no carry.
  expect(elements.filter((element) => element.attributes["aria-roledescription"] === "point").length).toBeGreaterThanOrEqual(name === "surface" ? 88 : 89);
});

test("what is drawn is what the table behind the chart has", () => {
  const { table } = presentChart(charts["landing"]!, defaultLimits);
  expect(table.row_count).toBe(89);
  expect(table.columns.map((column) => column.name)).toEqual(["head", "session", "shot", "offline", "carry"]);
});

test("building a chart changes nothing in its table", () => {
  const before = JSON.stringify(shots.columns.map((column) => [...(column.kind === "text" ? column.codes : column.values)]));
  for (const name of ["landing", "strikes", "order"]) build(name, shots, { of: "carry" });
  expect(JSON.stringify(shots.columns.map((column) => [...(column.kind === "text" ? column.codes : column.values)]))).toBe(before);
});

function textsOf(table: Table, name: string): string[] {
  const column = table.columns.find((each) => each.name === name);
  return column?.kind === "text" ? [...column.codes].map((code) => column.labels[code]!) : [];
}

function numbersIn(table: Table, name: string): number[] {
  const column = table.columns.find((each) => each.name === name);
  return column?.kind === "number" ? [...column.values] : [];
}

test("the plan is of the pair that needs most, with the shots in hand marked on both curves", async () => {
  expect(charts["enough"]!.description).toMatch(/Plover and Wren, the pair that needs most, carry\. .*With the 31 shots in hand the power is \d+ % to find a difference of 3 yd and \d+ % to rule one out/);
  const { elements } = await draw(charts["enough"]!);
  const words = elements.map((element) => element.text);
  for (const wanted of ["31 in hand", "find 3 yd", "rule 3 yd out"]) expect(words).toContain(wanted);
});

test("the lines of deliveries are as steep as the heads curve", () => {
  const steepness = /Heron (\d\.\d), Plover (\d\.\d), Wren (\d\.\d)\./.exec(charts["workability"]!.description)!.slice(1).map(Number);
  steepness.forEach((slope, i) => expect(Math.abs(slope - 3 - i)).toBeLessThan(0.3));
  expect(charts["workability"]!.description).toContain("1 of 90 shots not drawn");
});

test("deliveries that are all alike, or too few, have no line", () => {
  const alike = build("workability", someRows(sampleDeliveries(), [0, 1]), { by: "head" });
  expect(alike.description).not.toContain("Degrees of spin axis for a degree");
  expect(build("workability", someRows(sampleDeliveries(), [7])).description).toContain("1 of 1 shots not drawn");
});

test.each(["order", "landing"])("%s told apart by a number that it draws as well", async (name) => {
  const by = name === "order" ? "stint" : "carry";
  const chart = build(name, someRows(shots, [0, 1, 2, 3, 4, 5]), { of: "stint", by });
  expect(chart.description).toMatch(new RegExp(`by ${by}: .* \\(\\d\\), `));
  expect(chart.table.columns.map((column) => column.name)).toEqual(expect.arrayContaining([by, `${by} as group`]));
  expect(cutTexts((await draw(chart)).elements)).toEqual([]);
});

test("the means of stints stay in a picture told apart by stint", () => {
  expect(build("order", shots, { of: "carry", by: "stint" }).description).toContain("in 30 stints");
});
