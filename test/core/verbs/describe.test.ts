import { expect, test } from "vitest";
import { mean, sampleSd } from "../../../core/stats/moments";
import { makeTable, numberColumn, textColumn, type Table } from "../../../core/table/table";
import { textStart } from "../../../core/text-position";
import { describe } from "../../../core/verbs/describe";
import { expectClose } from "../stats/check-values";
import type { Shot } from "./trade-verbs";
import { context, facts, inferredProblems, refusal, rotation, runVerb, shotTable } from "./trade-verbs";

const shots = rotation({ heads: ["Wren", "Heron"], passes: 6, shotsInStint: 4 });

function checkSentence(table: Table, wanted: RegExp, options = {}): void {
  const { sentences } = runVerb(describe, table, { of: "carry", ...options }).report;
  expect(sentences.some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

test("one row a head, with everything that is told of it", () => {
  const { rows, table } = runVerb(describe, shotTable(shots), { of: "carry" });
  expect(table.columns.map((column) => column.name)).toEqual([
    "head", "of", "n", "missing", "mean", "from", "to", "sd", "median", "q1", "q3", "mad", "trimmed_mean", "min", "max", "stints",
  ]);
  const wren = shots.filter((shot) => shot.head === "Wren").map((shot) => shot.carry!);
  expect(rows[0]).toMatchObject({ head: "Wren", of: "carry", n: 24, missing: 0, stints: 6 });
  expectClose(rows[0]!["mean"] as number, mean(wren), 1e-13);
  expectClose(rows[0]!["sd"] as number, sampleSd(wren), 1e-13);
  expect(rows[0]!["min"]).toBe(Math.min(...wren));
  expect(rows[0]!["max"]).toBe(Math.max(...wren));
  expect(rows[1]!["head"]).toBe("Heron");
});

const width = (row: Readonly<Record<string, unknown>>) => (row["to"] as number) - (row["from"] as number);

test("the interval of the mean comes from the scatter of stints, not from that of shots", () => {
  const scattered = rotation({ heads: ["Wren", "Heron"], passes: 6, shotsInStint: 4, stintSd: 6, shotSd: 1 });
  const row = runVerb(describe, shotTable(scattered), { of: "carry" }).rows[0]!;
  // t of 23 df at 97.5 %, as 24 independent shots would have it.
  expect(width(row)).toBeGreaterThan((1.5 * 2 * 2.06865761041905 * (row["sd"] as number)) / Math.sqrt(24));
});

test("a tester who tires makes no interval wider, since all heads share it", () => {
  const tiring = shots.map((shot, i): Shot => ({ ...shot, carry: shot.carry! - 0.5 * i }));
  const [rested, tired] = [shots, tiring].map((each) => runVerb(describe, shotTable(each), { of: "carry" }).rows[0]!);
  expectClose(width(tired!), width(rested!), 1e-6);
  expect(tired!["sd"] as number).toBeGreaterThan(1.5 * (rested!["sd"] as number));
});

test("stints parted by breaks alone are one go, and it is said how to hit next time", () => {
  const broken = rotation({ heads: ["Wren"], passes: 5, shotsInStint: 4 });
  expect(runVerb(describe, shotTable(broken), { of: "carry" }).rows[0]).toMatchObject({ n: 20, stints: 5, from: null, to: null });
  checkSentence(shotTable(broken), /no interval, since it was hit in one go; 20 shots in 5 stints/);
  checkSentence(shotTable(broken), /^A mean has an interval once its head is hit in turns with another/);
  const alone = shots.filter((shot) => shot.head === "Wren");
  expect(runVerb(describe, shotTable(alone), { of: "carry" }).rows[0]!["from"]).not.toBeNull();
});

test("heads of two sessions have no interval, a head of one of them has", () => {
  const second = rotation({ heads: ["Wren", "Plover"], passes: 5, seed: 4 }).map((shot): Shot => ({ ...shot, session: "s2" }));
  const sessions = [facts(), facts({ name: "s2" })];
  const { rows } = runVerb(describe, shotTable([...shots, ...second], sessions), { of: "carry" });
  expect(rows.map((row) => [row["head"], row["from"] === null])).toEqual([["Wren", true], ["Heron", false], ["Plover", false]]);
});

test("stints of different length keep the interval around the mean of the shots", () => {
  const uneven = shots.filter((_, i) => i % 7 !== 3);
  for (const row of runVerb(describe, shotTable(uneven), { of: "carry" }).rows) {
    expectClose(((row["from"] as number) + (row["to"] as number)) / 2, row["mean"] as number, 1e-12);
  }
});

test("order unknown: the interval of independent shots, labelled", () => {
  const unknown = shotTable(shots, [facts({ orderKnown: false })]);
  const { rows, report, problems } = runVerb(describe, unknown, { of: "carry" });
  const wren = shots.filter((shot) => shot.head === "Wren").map((shot) => shot.carry!);
  // t of 23 degrees of freedom at 97.5 % is 2.0686576 (R 4.2.2, qt).
  expectClose(rows[0]!["to"] as number, mean(wren) + (2.06865761041905 * sampleSd(wren)) / Math.sqrt(24), 1e-9);
  expect(rows[0]!["stints"]).toBeNull();
  expect(report.method).toMatch(/as if shots were independent/);
  expect(problems.map((each) => each.code)).toEqual(["trade.order-unknown"]);
});

test("fewer than five values are listed and have no interval", () => {
  const few = shotTable(shots.slice(0, 4));
  expect(runVerb(describe, few, { of: "carry" }).rows[0]).toMatchObject({ n: 4, from: null, to: null });
  checkSentence(few, /^Wren: carry [\d., ]+ yd, too few for an interval\.$/);
});

test("a head hit in one go has no interval", () => {
  const once = shotTable(rotation({ heads: ["Wren"], passes: 1, shotsInStint: 9 }));
  expect(runVerb(describe, once, { of: "carry" }).rows[0]).toMatchObject({ n: 9, stints: 1, from: null, to: null });
  checkSentence(once, /no interval, since it was hit in one go; 9 shots in 1 stint/);
});

test("one shot has no scatter, neither standard deviation nor median deviation", () => {
  const one = shotTable([{ head: "Wren", stint: 1, carry: 150 }]);
  expect(runVerb(describe, one, { of: "carry" }).rows[0]).toMatchObject({ n: 1, sd: null, mad: null });
});

test("missing values are counted, never taken for 0, and a head without any has nothing but counts", () => {
  const gaps = shots.map((shot, i): Shot => (shot.head === "Heron" || i % 8 === 0 ? { ...shot, carry: null } : shot));
  const { rows } = runVerb(describe, shotTable(gaps), { of: "carry" });
  expect(rows[0]).toMatchObject({ n: 18, missing: 6 });
  expect(rows[0]!["min"] as number).toBeGreaterThan(100);
  expect(rows[1]).toEqual({
    head: "Heron", of: "carry", n: 0, missing: 24, mean: null, from: null, to: null, sd: null, median: null, q1: null, q3: null,
    mad: null, trimmed_mean: null, min: null, max: null, stints: 0,
  });
  checkSentence(shotTable(gaps), /^Heron: no value of carry\.$/);
  checkSentence(shotTable(gaps), /^Carry is missing in 6 of 24 shots of Wren and 24 of 24 shots of Heron\.$/);
});

const speed = numberColumn("ball_speed", shots.map((_, i) => 110 + (i % 7)), "mph", "measured");
const total = numberColumn("total", shots.map((shot) => shot.carry! + 8), "yd", "calculated");

test("several columns of one unit keep it", () => {
  const { rows, table } = runVerb(describe, shotTable(shots, [facts()], [total]), { of: ["carry", "total"] });
  expect(rows.map((row) => `${row["head"] as string} ${row["of"] as string}`)).toEqual(["Wren carry", "Heron carry", "Wren total", "Heron total"]);
  expect(table.columns.find((column) => column.name === "mean")).toMatchObject({ unit: "yd" });
  checkSentence(shotTable(shots, [facts({ calculated: ["total"] })], [total]), /^Total was calculated by the monitor/, { of: ["carry", "total"] });
});

test("several columns of different units name the unit in each row", () => {
  const { rows, table } = runVerb(describe, shotTable(shots, [facts()], [speed]), { of: ["carry", "ball_speed"] });
  expect(rows.map((row) => row["unit"])).toEqual(["yd", "yd", "mph", "mph"]);
  expect(table.columns.find((column) => column.name === "mean")).toMatchObject({ unit: null });
});

test("a sentence a head, with unit, interval, shots and stints, and the tester last", () => {
  const table = shotTable(shots);
  checkSentence(table, /^Carry of Wren: \d+\.\d yd on average \(95 % interval \d+\.\d to \d+\.\d; 24 shots in 6 stints\), standard deviation \d\.\d yd\.$/);
  expect(runVerb(describe, table, { of: "carry" }).report.sentences.at(-1)).toBe("One tester, one session.");
});

test("grouped by something else, the column is called by its name", () => {
  const zone = textColumn("zone", shots.map((_, i) => (i % 3 === 0 ? "toe" : "centre")), "derived");
  const { rows } = runVerb(describe, shotTable(shots, [facts()], [zone]), { of: "carry", by: "zone" });
  expect(rows.map((row) => row["zone"])).toEqual(["toe", "centre"]);
});

test("described by session, a session with heads in turns is not called hit in one go", () => {
  const days = ["s1", "s2"].flatMap((session, day) => rotation({ heads: ["Wren", "Heron"], passes: 5, seed: 3 + day }).map((shot): Shot => ({ ...shot, session })));
  const table = shotTable(days, [facts(), facts({ name: "s2" })]);
  const said = runVerb(describe, table, { of: "carry", by: "session" }).report.sentences.join("\n");
  expect(said).not.toMatch(/one go|hit in turns/);
  expect(said).toMatch(/^Carry of s1: .*no interval, since no shot of another session lies between its own/m);
});

test("stock shots only, unless there are none", () => {
  const mixed = shots.map((shot, i): Shot => ({ ...shot, intent: i < 8 ? "warm-up" : "stock" }));
  expect(runVerb(describe, shotTable(mixed), { of: "carry" }).rows[0]!["n"]).toBe(20);
  checkSentence(shotTable(mixed), /^Stock shots only: 40 of 48; left out: 8 warm-up\.$/);
});

test("tables that cannot be described say why", () => {
  const taken = textColumn("mean", shots.map(() => "x"));
  const table = shotTable(shots, [facts()], [taken]);
  expect(refusal(describe, table, { of: "carry", by: "mean" })).toEqual(["query.duplicate-column"]);
  expect(inferredProblems(describe, table, { of: "carry", by: "mean" })).toEqual(["query.duplicate-column"]);
  const both = shots.map((shot, i): Shot => ({ ...shot, player: i % 2 === 0 ? "P1" : "P2" }));
  expect(refusal(describe, shotTable(both), { of: "carry" })).toEqual(["trade.several-players"]);
  expect(refusal(describe, { ...shotTable(shots), groupedBy: ["session"] }, { of: "carry" })).toEqual(["trade.grouped"]);
  expect(refusal(describe, shotTable([]), { of: "carry" })).toEqual(["trade.no-shots"]);
  expect(refusal(describe, makeTable([numberColumn("carry", [1], "yd")], 1), { of: "carry" })).toEqual(["trade.no-group-column"]);
});

test("an empty table, and more heads than are told apart, say what to do", () => {
  const words = (table: Table) => {
    const result = describe.run(table, [{ kind: "options", values: { of: ["carry"] } }], context());
    return result.type === "refused" ? result.problems.map((each) => each.make(textStart)).map(({ message, hint }) => `${message} | ${hint ?? ""}`) : [];
  };
  expect(words(shotTable([]))).toEqual(["no shots are left here | look at the filter before this step: it asks for what no shot has"]);
  const many = Array.from({ length: 201 }, (_, i): Shot => ({ head: `H${i}`, stint: i + 1, carry: 150 }));
  expect(words(shotTable(many))[0]).toContain("keep up to 200: .filter(d => op.any_of(d.head, …))");
});

test("shots without scatter have no interval, whether or not their order is known", () => {
  const flat = shots.map((shot): Shot => ({ ...shot, carry: 150.1 }));
  for (const session of [facts(), facts({ orderKnown: false })]) {
    expect(runVerb(describe, shotTable(flat, [session]), { of: "carry" }).rows[0]).toMatchObject({ n: 24, from: null, to: null, sd: 0 });
  }
  checkSentence(shotTable(flat), /no interval, since all its stints have the same mean/);
  checkSentence(shotTable(flat, [facts({ orderKnown: false })]), /no interval, since all its shots are equal/);
});

test("more heads than anybody reads are refused at once, however many there are", () => {
  const many = Array.from({ length: 50_000 }, (_, i): Shot => ({ head: `H${i}`, stint: i + 1, carry: 150 }));
  expect(refusal(describe, shotTable(many), { of: "carry" })).toEqual(["trade.too-many-groups"]);
  expect(runVerb(describe, shotTable(many.slice(0, 200)), { of: "carry" }).rows).toHaveLength(200);
});

test("a run can be ended between two heads", () => {
  const cancel = () => {
    throw new Error("cancelled");
  };
  expect(() => runVerb(describe, shotTable(shots), { of: "carry" }, { checkpoint: cancel })).toThrow("cancelled");
});
