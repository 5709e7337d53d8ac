import { expect, test } from "vitest";
import { plainText } from "../../../core/present/plain-text";
import { presentTable } from "../../../core/present/present-table";
import { mean, sampleSd } from "../../../core/stats/moments";
import { median } from "../../../core/stats/quantile";
import type { SessionFacts } from "../../../core/session/session-facts";
import type { Column, Table } from "../../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { describe } from "../../../core/verbs/describe";
import { scorecard } from "../../../core/verbs/scorecard";
import { check, placed, run, runTable } from "../query/query-support";
import { expectClose } from "../stats/check-values";
import type { Shot } from "./trade-verbs";
import { facts, inferredProblems, refusal, rotation, runVerb, shotTable } from "./trade-verbs";

const shots = rotation({ heads: ["Wren", "Heron"], passes: 6, shotsInStint: 4 });
const some = (value: (i: number) => number | null) => shots.map((_, i) => value(i));
const zones = shots.map((_, i) => (i % 11 === 3 ? null : ["centre", "low toe", "centre", "heel", "centre"][i % 5]!));

const readings: readonly Column[] = [
  numberColumn("spin_rate", some((i) => (i % 9 === 4 ? 4000 : 6000 + 20 * ((i * 7) % 13))), "rpm", "measured"),
  numberColumn("ball_speed", some((i) => (i === 7 ? null : 110 + (i % 7))), "mph", "measured"),
  numberColumn("launch_angle", some((i) => 14 + (i % 8)), "deg", "measured"),
  numberColumn("offline", some((i) => ((i * 5) % 17) - 8), "yd", "calculated"),
  numberColumn("peak_height", some((i) => 80 + (i % 12)), "ft", "calculated"),
  numberColumn("descent_angle", some(() => null), "deg", "calculated"),
  numberColumn("speed_ratio", some((i) => 1.3 + (i % 5) / 100), null, "derived"),
  textColumn("zone", zones, "derived"),
];

const session = facts({ calculated: ["offline", "peak_height"] });
const table = shotTable(shots, [session], readings);
const without = (...names: readonly string[]): Table => makeTable(table.columns.filter(({ name }) => !names.includes(name)), table.rowCount, table);

function rowOf(of: string, head = "Wren", options = {}, from = table): Readonly<Record<string, number | string | boolean | null>> {
  const row = runVerb(scorecard, from, options).rows.find((each) => each["of"] === of && each["head"] === head);
  if (row === undefined) throw new Error(`no row of ${of} for ${head}`);
  return row;
}

function checkSentence(wanted: RegExp, options = {}, from = table): void {
  const { sentences } = runVerb(scorecard, from, options).report;
  expect(sentences.some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

/** Values of a column for one head, where `holds` of the shot's place. */
function valuesOf(name: string, head: string, holds: (i: number) => boolean = () => true, from: Table = table): readonly number[] {
  const column = from.columns.find((each) => each.name === name);
  if (column?.kind !== "number") throw new Error(`no numbers ${name}`);
  return [...column.values].filter((value, i) => shots[i]!.head === head && holds(i) && !Number.isNaN(value));
}

test("one row for each reading and head, in the order of the shot columns", () => {
  const { rows, table: card } = runVerb(scorecard, table, {});
  expect(card.columns.map((column) => column.name)).toEqual([
    "of", "head", "unit", "typical", "from", "to", "sd", "n", "centred", "n_centred", "poor", "n_poor", "median", "stints",
  ]);
  expect(rows.filter((row) => row["head"] === "Heron").map((row) => `${row["of"] as string} ${row["unit"] as string}`)).toEqual([
    "ball_speed mph", "speed_ratio null", "launch_angle deg", "spin_rate rpm", "spin_rate (low) %", "carry yd", "offline (aim) yd", "offline (spread) yd", "peak_height ft",
  ]);
  expect(rows.map((row) => row["head"]).slice(0, 4)).toEqual(["Wren", "Heron", "Wren", "Heron"]);
});

test("typical is the mean, with the interval that describe gives", () => {
  const described = runVerb(describe, table, { of: "ball_speed" }).rows;
  for (const [i, head] of ["Wren", "Heron"].entries()) {
    const row = rowOf("ball_speed", head);
    expect([row["typical"], row["from"], row["to"], row["sd"], row["n"], row["median"], row["stints"]]).toEqual(
      ["mean", "from", "to", "sd", "n", "median", "stints"].map((name) => described[i]![name]),
    );
  }
});

test("centred and poor strikes have means of their own, and a strike that is not known is in neither", () => {
  const row = rowOf("carry");
  const centred = valuesOf("carry", "Wren", (i) => zones[i] === "centre");
  const poor = valuesOf("carry", "Wren", (i) => zones[i] !== "centre" && zones[i] !== null);
  expectClose(row["centred"] as number, mean(centred), 1e-13);
  expectClose(row["poor"] as number, mean(poor), 1e-13);
  expect([row["n_centred"], row["n_poor"], row["n"]]).toEqual([centred.length, poor.length, 24]);
  expect(centred.length + poor.length).toBeLessThan(24);
  checkSentence(/^Centred is the same over the strikes in the centre zone, poor over all other strikes.*: Wren \d+ and \d+ \(\d not known\) and Heron \d+ and \d+ \(\d not known\)\./);
});

test("a head without centred or poor strikes has none of them, never 0", () => {
  const allPoor = shotTable(shots, [session], [textColumn("zone", shots.map(({ head }) => (head === "Wren" ? "toe" : "centre")))]);
  expect(rowOf("carry", "Wren", {}, allPoor)).toMatchObject({ centred: null, n_centred: 0, n_poor: 24 });
  expect(rowOf("carry", "Heron", {}, allPoor)).toMatchObject({ poor: null, n_poor: 0, n_centred: 24 });
});

test("a table that does not say where the face was hit hides the columns of strikes and says so", () => {
  const blind = without("zone");
  expect(rowOf("carry", "Wren", {}, blind)).toMatchObject({ centred: null, n_centred: null, poor: null, n_poor: null, n: 24 });
  expect(runVerb(scorecard, blind, {}).report.hidden).toEqual(["median", "stints", "centred", "n_centred", "poor", "n_poor"]);
  checkSentence(/^Centred and poor strikes are not told apart: the table does not say where the face was hit\.$/, {}, blind);
});

test("without zones the strikes decide, by the centre zone of the head's kind", () => {
  const heads: SessionFacts["heads"] = [
    { name: "Wren", kind: "iron", strikeReference: { x: 0, y: -9 } },
    { name: "Heron", kind: "wood", strikeReference: { x: 0, y: 0 } },
  ];
  // Half an iron's zone is 7 by 2.5 mm, half a wood's 9 by 7.
  const struck = (x: number, y: number) => [numberColumn("strike_x", some(() => x / 10), "cm", "measured"), numberColumn("strike_y", some((i) => (i < 4 ? null : y)), "mm", "measured")];
  const counts = (x: number, y: number, changes: Partial<SessionFacts> = {}) => {
    const strikes = shotTable(shots, [facts({ heads, ...changes })], struck(x, y));
    return ["Wren", "Heron"].map((head) => [rowOf("carry", head, {}, strikes)["n_centred"], rowOf("carry", head, {}, strikes)["n_poor"]]);
  };
  expect(counts(7, 2.5)).toEqual([[20, 0], [24, 0]]);
  expect(counts(8, 0)).toEqual([[0, 20], [24, 0]]);
  expect(counts(-3, -8)).toEqual([[0, 20], [0, 24]]);
  const wide = { halfWidth: 20, halfHeight: 20 };
  expect(counts(15, 15, { centreZones: { iron: wide, wedge: wide, wood: wide } })).toEqual([[20, 0], [24, 0]]);
});

test("aim is kept apart from the spread about each head's own centre", () => {
  const own = valuesOf("offline", "Wren");
  expectClose(rowOf("offline (aim)")["typical"] as number, mean(own), 1e-13);
  expectClose(rowOf("offline (spread)")["typical"] as number, sampleSd(own), 1e-13);
  expect(rowOf("offline (spread)")).toMatchObject({ from: null, to: null, unit: "yd", n: 24 });
  checkSentence(/^Offline is told twice: aim .* Wren aim \d\.\d yd (right|left), spread \d\.\d yd; Heron aim \d\.\d yd (right|left), spread \d\.\d yd\.$/);
});

test("windows: the share of shots inside, its count and Wilson's interval", () => {
  const windows = [{ column: "launch_angle", from: 15, to: 18, unit: "deg" as const }];
  const inside = valuesOf("launch_angle", "Wren").filter((value) => value >= 15 && value <= 18).length;
  const row = rowOf("launch_angle (15 to 18°)", "Wren", { windows });
  expectClose(row["typical"] as number, (100 * inside) / 24, 1e-13);
  expect(row).toMatchObject({ unit: "%", n: 24, sd: null });
  expect(row["from"] as number).toBeLessThan(row["typical"] as number);
  checkSentence(new RegExp(`^Launch angle from 15 to 18°: Wren ${inside} of 24 \\(\\d+ %\\) and Heron \\d+ of 24 \\(\\d+ %\\)\\.$`), { windows });
  const order = runVerb(scorecard, table, { windows }).rows.map((each) => each["of"]);
  expect(order.indexOf("launch_angle (15 to 18°)")).toBe(order.lastIndexOf("launch_angle") + 1);
});

test("low spin stands under spin, below a stated limit or a share of the head's own median", () => {
  const spins = valuesOf("spin_rate", "Wren");
  const low = (limit: number) => (100 * spins.filter((value) => value < limit).length) / spins.length;
  expectClose(rowOf("spin_rate (low)")["typical"] as number, low(0.8 * median(spins)), 1e-13);
  expect(low(0.8 * median(spins))).toBeGreaterThan(0);
  expectClose(rowOf("spin_rate (low)", "Wren", { low_spin: { value: 6100, unit: "rpm" } })["typical"] as number, low(6100), 1e-13);
  expectClose(rowOf("spin_rate (low)", "Wren", { low_spin: { value: 101.5, unit: "rps" } })["typical"] as number, low(6090), 1e-13);
  checkSentence(/^Low spin, below 80 % of the head's own median \(Wren \d{4} rpm and Heron \d{4} rpm\): Wren \d of 24 .*; standard deviation of all spin Wren \d+ rpm and Heron \d+ rpm\.$/);
  checkSentence(/^Low spin, below 6100 rpm: /, { low_spin: { value: 6100, unit: "rpm" } });
});

test("a reading that no shot has is left out and said; one that is asked for stays, missing", () => {
  checkSentence(/^Left out, as no shot has a value: descent angle\.$/);
  expect(rowOf("descent_angle", "Wren", { of: ["descent_angle"] })).toMatchObject({ typical: null, from: null, sd: null, n: 0, centred: null, n_centred: 0 });
  const windows = [{ column: "descent_angle", from: 45, to: null, unit: "deg" as const }];
  expect(rowOf("descent_angle (from 45°)", "Wren", { windows })).toMatchObject({ typical: null, from: null, n: 0 });
  checkSentence(/^Descent angle from 45°: Wren none known and Heron none known\.$/, { windows });
});

test("only the columns that are asked for, those of the windows among them", () => {
  const named = (options: object) => [...new Set(runVerb(scorecard, table, options as never).rows.map((row) => row["of"]))];
  expect(named({ of: ["peak_height", "carry"] })).toEqual(["peak_height", "carry"]);
  const windows = [{ column: "carry", from: null, to: 150.5, unit: "yd" }];
  expect(named({ of: "ball_speed", windows })).toEqual(["ball_speed", "carry", "carry (up to 150.5 yd)"]);
});

test("few shots: a head with one shot, and one head alone", () => {
  const single = shotTable([...shots.filter(({ head }) => head === "Wren"), { head: "Plover", stint: 99, carry: 161 }]);
  expect(rowOf("carry", "Plover", {}, single)).toMatchObject({ typical: 161, from: null, to: null, sd: null, n: 1, stints: 1 });
  checkSentence(/^No interval for Plover: fewer than 5 shots with a value, which describe lists\.$/, {}, single);
  const alone = shotTable(shots.filter(({ head }) => head === "Wren"));
  expect(runVerb(scorecard, alone, {}).rows).toHaveLength(1);
});

test("heads hit in one go have numbers, no interval, and how to hit next time", () => {
  const once = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 1, shotsInStint: 9 }));
  expect(rowOf("carry", "Wren", {}, once)).toMatchObject({ n: 9, from: null, to: null });
  checkSentence(/^No interval for Wren and Heron: hit in one go, so that nothing tells what changed in the meantime; hit in turns with another/, {}, once);
});

test("by session, a session with heads in turns is not called hit in one go", () => {
  const { sentences } = runVerb(scorecard, table, { of: "carry", by: "session" }).report;
  expect(sentences.join("\n")).not.toMatch(/one go/);
  checkSentence(/^No interval for s1: no shot of another session lies between its own/, { of: "carry", by: "session" });
});

test("poor strikes are said to differ only where two heads have some", () => {
  const differ = /Poor strikes differ from head to head in how far off they were\./;
  const said = (zone: (head: string | null, i: number) => string): string =>
    runVerb(scorecard, shotTable(shots, [session], [textColumn("zone", shots.map(({ head }, i) => zone(head, i)))]), {}).report.sentences.join("\n");
  expect(said((_, i) => (i % 3 === 0 ? "toe" : "centre"))).toMatch(differ);
  expect(said((head, i) => (head === "Wren" && i % 3 === 0 ? "toe" : "centre"))).not.toMatch(differ);
  expect(said(() => "centre")).not.toMatch(differ);
});

test("heads without an interval in the same columns are named together", () => {
  const same = shotTable(shots, [session], [numberColumn("spin_rate", some(() => 6000), "rpm"), numberColumn("total", some(() => 160), "yd")]);
  checkSentence(/^No interval for Wren and Heron \(spin rate and total\): all values, or all means of stints, alike\.$/, {}, same);
  const unlike = shotTable(shots, [session], [numberColumn("spin_rate", shots.map(({ head }, i) => (head === "Wren" ? 6000 : 6000 + 30 * (i % 7))), "rpm"), numberColumn("total", some(() => 160), "yd")]);
  checkSentence(/^No interval for Wren \(spin rate and total\); Heron \(total\): all values,/, {}, unlike);
});

test("a limit below which no spin is refused", () => {
  for (const value of [0, -10]) {
    const values = { low_spin: { value, unit: "rpm" as const } };
    expect([refusal(scorecard, table, values), inferredProblems(scorecard, table, values)]).toEqual([["trade.bad-low-spin"], ["trade.bad-low-spin"]]);
  }
});

test("missing values are counted, columns that are alike together", () => {
  checkSentence(/^Ball speed is missing in 1 of 24 shots of Heron\.$/);
  const gaps = shotTable(shots, [session], [numberColumn("total", some((i) => (i < 3 ? null : 160)), "yd"), numberColumn("flight_time", some((i) => (i < 3 ? null : 6)), "s")]);
  checkSentence(/^Total and flight time are missing in 3 of 24 shots of Wren\.$/, {}, gaps);
  checkSentence(/^No value is missing\.$/, {}, shotTable(shots));
  checkSentence(/^Offline and peak height were calculated by the monitor from other readings, not measured\.$/);
  checkSentence(/^Speed ratio was worked out here from other columns, not measured\.$/);
});

test("builds that differ are said, and the tester last", () => {
  const heads: SessionFacts["heads"] = [
    { name: "Wren", kind: "iron", loft: { value: 34, unit: "deg" }, shaft: "S1", strikeReference: { x: 0, y: -9 } },
    { name: "Heron", kind: "iron", loft: { value: 32.5, unit: "deg" }, shaft: "S2", strikeReference: { x: 0, y: -9 } },
  ];
  const built = shotTable(shots, [facts({ heads })], readings);
  checkSentence(/^The builds differ in loft: Wren 34°, Heron 32\.5°\.$/, {}, built);
  checkSentence(/^The builds differ in shaft: Wren S1, Heron S2\.$/, {}, built);
  checkSentence(/in the centre zone, 14 by 5 mm about the head's strike reference,/, {}, built);
  expect(runVerb(scorecard, built, {}).report.sentences.at(-1)).toBe("One tester, one session.");
});

test("many numbers are called an exploration, and no verdict is given", () => {
  const many = Array.from({ length: 11 }, (_, k) => numberColumn(`reading ${k}`, some((i) => i + k)));
  checkSentence(/^22 numbers side by side are an exploration/, { of: many.map(({ name }) => name) }, shotTable(shots, [session], many));
  checkSentence(/^Whether two heads differ is for compare to say/, { of: ["carry"] });
  expect(runVerb(scorecard, table, {}).report.sentences.join(" ")).not.toMatch(/verdict|different\b|better|best/i);
});

test("order unknown: warned of, and said in the method", () => {
  const unknown = shotTable(shots, [facts({ orderKnown: false })], readings);
  const { report, problems } = runVerb(scorecard, unknown, {});
  expect(problems.map((each) => each.code)).toEqual(["trade.order-unknown"]);
  expect(report.method).toMatch(/as if shots were independent, since their order is not known/);
});

test("by zone there is nothing centred or poor to tell beside", () => {
  const { report, rows } = runVerb(scorecard, table, { by: "zone" });
  expect(new Set(rows.map((row) => row["zone"]))).toEqual(new Set(["centre", "low toe", "heel"]));
  expect(report.hidden).toContain("n_poor");
  expect(report.sentences.join(" ")).not.toMatch(/Centred/);
});

test("tables that have no scorecard say why", () => {
  expect(refusal(scorecard, shotTable(Array.from({ length: 13 }, (_, i): Shot => ({ head: `H${i}`, stint: i, carry: 150 }))), {})).toEqual(["trade.too-many-groups"]);
  expect(refusal(scorecard, without("carry", "spin_rate", "ball_speed", "launch_angle", "offline", "peak_height", "speed_ratio"), {})).toEqual(["trade.no-readings"]);
  const taken = shotTable(shots, [session], [textColumn("poor", shots.map(() => "x"))]);
  expect(refusal(scorecard, taken, { by: "poor" })).toEqual(["query.duplicate-column"]);
  expect(inferredProblems(scorecard, taken, { by: "poor" })).toEqual(["query.duplicate-column"]);
  expect(inferredProblems(scorecard, shotTable(shots), { low_spin: { value: 4500, unit: "rpm" } })).toEqual(["query.unknown-column"]);
  expect(refusal(scorecard, { ...table, groupedBy: ["head"] }, {})).toEqual(["trade.grouped"]);
});

const tables = new Map([["shots", table]]);

function checkProblems(options: string, ...expected: string[]): void {
  const body = `shots.scorecard(${options})`;
  expect(placed(body, check(body, { tables }).problems)).toEqual(expected);
}

test("what a person may write wrong is found before it runs", () => {
  checkProblems('{ windows: { launch_angle: "14 to 18 yd" } }', 'query.unit-mismatch "14 to 18 yd"');
  checkProblems('{ windows: { launch_angle: "18 to 14 deg" } }', 'query.window-crossed "18 to 14 deg"');
  checkProblems('{ windows: { lanch_angle: "14 to 18 deg" } }', "query.unknown-column lanch_angle");
  checkProblems('{ windows: { launch_angle: "14 to 18" } }', 'query.missing-unit "14 to 18"');
  checkProblems("{ low_spin: 4500 }", "query.missing-unit 4500");
  checkProblems('{ low_spin: "4500 yd" }', 'query.unit-mismatch "4500 yd"');
  checkProblems('{ by: "carry" }', 'query.column-kind "carry"');
  checkProblems("{ confidence: 0.5 }", "query.number 0.5");
  checkProblems('{ of: "haed" }', 'query.unknown-column "haed"');
  checkProblems('{ window: {} }', "query.unknown-option window");
});

test("a scorecard as a person asks for it, without anything and with all", () => {
  expect(runTable("shots.scorecard()", { tables }).rowCount).toBe(18);
  const body = 'shots.scorecard({ by: "head", windows: { launch_angle: "14-18°", peak_height: "from 27 m" }, low_spin: "4500 rpm", confidence: 0.9 }).filter(d => d.of === "carry")';
  const carry = runTable(body, { tables });
  expect(carry.rowCount).toBe(2);
  expect(run('shots.scorecard({ windows: { peak_height: "from 27 m" } })', { tables }).value).toMatchObject({
    report: { sentences: expect.arrayContaining([expect.stringMatching(/^Peak height from 88\.58 ft: /)]) },
  });
});

test("as plain text each reading has decimals of its own and its unit beside it", () => {
  const card = runVerb(scorecard, table, { of: ["ball_speed", "spin_rate", "speed_ratio"] }).table;
  const all = plainText(presentTable(card, 99)).split("\n");
  const lines = all.slice(all.findIndex((line) => line.startsWith("of ")));
  expect(lines[0]).toMatch(/^of +head +unit +typical +from +to +sd +n +centred +n_centred +poor +n_poor$/);
  expect(lines[1]).toMatch(/^ball_speed +Wren +mph +\d{3}\.\d +\d{3}\.\d +\d{3}\.\d +\d\.\d +24 /);
  expect(lines[3]).toMatch(/^spin_rate +Wren +rpm +\d{4} +\d{4} +\d{4} +\d+ +24 /);
  expect(lines[7]).toMatch(/^speed_ratio +Wren +– +1\.\d{3,4} +1\.\d{3,4} +1\.\d{3,4} +0\.\d{3,4} +24 /);
});

test("a run can be ended between two columns", () => {
  const cancel = () => {
    throw new Error("cancelled");
  };
  expect(() => runVerb(scorecard, table, {}, { checkpoint: cancel })).toThrow("cancelled");
});
