import { expect, test } from "vitest";
import type { OptionValues } from "../../../core/query/vocabulary";
import type { SessionFacts } from "../../../core/session/session-facts";
import type { ShotData } from "../../../core/stats/shot-data";
import type { Table } from "../../../core/table/table";
import { findColumn, makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { forgiveness } from "../../../core/verbs/forgiveness";
import { check, placed, runTable } from "../query/query-support";
import { inventedStrikes } from "../stats/invented-strikes";
import type { InventedStrikes } from "../stats/invented-strikes";
import { facts, inferredProblems, refusal, runVerb } from "./trade-verbs";

const names = ["Wren", "Heron", "Plover"];

/** Shots of an invented session as a table, ball speed in mph and strikes in mm. */
function tableOf(data: ShotData, session: SessionFacts = facts()): Table {
  return makeTable(
    [
      textColumn("session", [...data.value].map(() => session.name), "stated"),
      numberColumn("shot", [...data.value].map((_, i) => i + 1), null, "stated"),
      textColumn("head", [...data.group].map((head) => names[head]!), "stated"),
      numberColumn("stint", data.stint, null, "derived"),
      textColumn("intent", [...data.value].map(() => "stock"), "stated"),
      textColumn("player", [...data.value].map(() => "P1"), "stated"),
      numberColumn("strike_x", data.strike!.x, "mm", "measured"),
      numberColumn("strike_y", data.strike!.y, "mm", "measured"),
      numberColumn("ball_speed", data.value, "mph", "measured"),
      numberColumn("spin_axis", data.value.map((value) => value - 138), "deg", "measured"),
    ],
    data.value.length,
    { sessions: [session] },
  );
}

const session = (given: Partial<InventedStrikes> = {}): ShotData => inventedStrikes({ heads: 3, perStint: 4, passes: 10, ...given });
const clear = session({ passes: 12, fallOff: [0.03, 0.005, 0.03] });

function checkSentence(table: Table, wanted: RegExp, options: OptionValues = {}): void {
  const { sentences } = runVerb(forgiveness, table, options).report;
  expect(sentences.some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

test("the columns: a row a head and place, then a row a pair", () => {
  const { table, rows, report } = runVerb(forgiveness, tableOf(session()), {});
  expect(table.columns.map((column) => column.name)).toEqual([
    "head", "against", "of", "place", "x", "y", "loss", "difference", "from", "to", "from90", "to90", "margin", "verdict",
    "more_shots", "retention", "retention_from", "retention_to", "n_near", "n", "n_against", "stints", "stints_against", "df", "p",
  ]);
  expect(rows.map((row) => `${row["head"] as string}${row["against"] === null ? "" : ` ${row["against"] as string}`} ${row["place"] as string}`)).toEqual([
    ...names.flatMap((name) => ["common strikes", "toe", "heel", "high", "low"].map((place) => `${name} ${place}`)),
    "Heron Wren common strikes", "Plover Wren common strikes", "Plover Heron common strikes",
  ]);
  expect(rows[1]).toMatchObject({ x: 12, y: 0, difference: null, verdict: null, n: 40, stints: 10 });
  expect(rows[4]).toMatchObject({ x: 0, y: -8 });
  expect(rows[15]).toMatchObject({ loss: null, retention: null, margin: 1, n: 40, n_against: 40 });
  const inUnit = (unit: string) => table.columns.flatMap((column) => (column.kind === "number" && column.unit === unit ? [column.name] : []));
  expect([inUnit("mph"), inUnit("mm"), inUnit("%")]).toEqual([
    ["loss", "difference", "from", "to", "from90", "to90", "margin"],
    ["x", "y"],
    ["retention", "retention_from", "retention_to"],
  ]);
  // What is shown at once fits beside the places: the rest would be mostly dashes.
  const shown = table.columns.map((column) => column.name).filter((name) => !report.hidden.includes(name));
  expect(shown).toEqual(["head", "against", "place", "loss", "difference", "from", "to", "verdict", "n_near", "n"]);
  expect(report.picture?.type).toBe("chart");
});

test("as a person would write it, with the table read on", () => {
  const tables = new Map([["shots", tableOf(clear)]]);
  const cell = 'shots.forgiveness({ of: "ball_speed", by: "head", miss_across: "10 mm", margin: "1 mph" }).filter(d => d.place === "toe" && d.loss !== null).orderby("loss").select("head", "x", "loss")';
  expect(check(cell, { tables }).problems).toEqual([]);
  const table = runTable(cell, { tables });
  expect([findColumn(table, "head")?.kind === "text" && table.rowCount, [...(findColumn(table, "x") as { values: Float64Array }).values]]).toEqual([3, [10, 10, 10]]);
  expect(runTable("shots.forgiveness()", { tables }).rowCount).toBe(18);
});

test("options that do not fit are pointed out before anything runs", () => {
  const tables = new Map([["shots", tableOf(clear)]]);
  const problems = (body: string): readonly string[] => placed(body, check(body, { tables }).problems);
  expect(problems('shots.forgiveness({ miss_across: "3 yd" })')).toEqual(['trade.miss-off-face "3 yd"']);
  expect(problems('shots.forgiveness({ miss_up: "41 mm" })')).toEqual(['trade.miss-off-face "41 mm"']);
  expect(problems('shots.forgiveness({ miss_across: "40 mm", miss_up: "1 in" })')).toEqual([]);
  expect(problems('shots.forgiveness({ miss_across: "10 mph" })')).toEqual(['query.unit-mismatch "10 mph"']);
  expect(problems("shots.forgiveness({ miss_across: 10 })")).toEqual(["query.missing-unit 10"]);
  expect(problems('shots.forgiveness({ of: "head" })')[0]).toMatch(/^query\./);
  expect(problems('shots.forgiveness({ of: "ball_speed", margin: "1 mm" })')).toEqual(['query.unit-mismatch "1 mm"']);
  expect(problems("shots.forgiveness({ confidence: 2 })")).toEqual(["query.number 2"]);
  expect(problems('shots.forgiveness({ of: "carri" })')[0]).toMatch(/^query\.unknown-column/);
});

test("the most forgiving head is named only where it is shown, with every pair's verdict", () => {
  const { report } = runVerb(forgiveness, tableOf(clear), {});
  expect(report.sentences[0]).toBe("Most forgiving: Heron loses least over the common strikes.");
  checkSentence(tableOf(clear), /^Over the common strikes Heron loses [\d.]+ mph of ball speed and Wren [\d.]+ mph, Heron − Wren is −[\d.]+ mph \(95 % interval −[\d.]+ to −[\d.]+; 48 and 48 shots in 12 and 12 stints\)\. Different by more than the margin of 1 mph\.$/);
  expect(runVerb(forgiveness, tableOf(session()), {}).report.sentences[0]).toBe("No head is shown to be the most forgiving.");
});

test("heads that differ by too little to matter say so", () => {
  const { rows, report } = runVerb(forgiveness, tableOf(clear), { margin: { value: 9, unit: "mph" } });
  expect(rows[15]!["verdict"]).toBe("different but too small to matter");
  expect(report.sentences[0]).toBe("Most forgiving: Heron loses least over the common strikes, by too little to matter.");
});

test("how little one session can show is computed from its own standard errors", () => {
  checkSentence(tableOf(session({ passes: 6, shotSd: 3 })), /^The difference of two losses is known with a standard error of [\d.]+ mph: to see one of 1 mph takes about [\d.]+ times these shots for one pair by itself, or strikes spread over the face on purpose\.$/);
  checkSentence(tableOf(clear), /enough to see one of 1 mph; half of that takes about [\d.]+ times these shots/);
});

test("each head's losses in words: found, not found, and not hit there", () => {
  const data = session({ heads: 2, fallOff: [0.02, 0.02] });
  checkSentence(tableOf(data), /^Wren against its own centre, ball speed: [\d.]+ mph lost over the common strikes \([−\d.]+ to [\d.]+\); /);
  checkSentence(tableOf(data), /; outside where its shots fell: 35 mm to the toe \(0 within 6 mm\), 35 mm to the heel/, { miss_across: { value: 35, unit: "mm" } });
  const inside = session({ heads: 2, fallOff: [-0.02, -0.02] });
  checkSentence(tableOf(inside), /no loss found 12 mm to the toe \(−[\d.]+ mph, −[\d.]+ to −[\d.]+\)/);
  const row = runVerb(forgiveness, tableOf(inside), {}).rows[1]!;
  expect(row["loss"]).toBeLessThan(0);
  expect(row["retention"]).toBeGreaterThan(100);
});

test("a place is outside where shots fell by the rule that the method states", () => {
  const { rows, report } = runVerb(forgiveness, tableOf(session({ heads: 2, passes: 5 })), {});
  expect(report.method).toContain("told where 3 of its shots fell within 6 mm or the ellipse of its next strike (90 %) reaches");
  // Two shots near do not rule a place out that the ellipse reaches.
  expect(rows.some((row) => row["loss"] !== null && row["n_near"] !== null && (row["n_near"] as number) < 3)).toBe(true);
});

test("a loss whose interval holds 0 is not said to be lost", () => {
  const { rows, report } = runVerb(forgiveness, tableOf(session({ heads: 2, shotSd: 4, fallOff: [0.004, 0.004] })), {});
  const held = rows.filter((row) => row["against"] === null && (row["from"] as number) < 0 && (row["to"] as number) > 0 && (row["loss"] as number) > 0);
  expect(held.length).toBeGreaterThan(0);
  const said = report.sentences.join("\n");
  expect(said).not.toMatch(/lost [^(;]+\(−[\d.]+ to [\d.]+\)/);
  expect(said).toMatch(/no loss shown [^(;]+\([\d.]+ mph, −[\d.]+ to [\d.]+\)/);
});

test("one fall-off for all heads has its losses told once", () => {
  const { sentences } = runVerb(forgiveness, tableOf(session({ passes: 1, perStint: 40 })), {}).report;
  expect(sentences.filter((sentence) => sentence.includes("own centre, ball speed"))).toHaveLength(1);
  expect(sentences.join("\n")).toMatch(/^Wren, Heron and Plover alike, against their own centre, ball speed: [\d.]+ mph lost over the common strikes/m);
});

test("a miss nobody hit is missing in the table, never 0", () => {
  const { rows } = runVerb(forgiveness, tableOf(session()), { miss_up: { value: 3, unit: "cm" } });
  expect(rows[3]).toMatchObject({ place: "high", y: 30, loss: null, from: null, retention: null, n_near: 0 });
});

test("a verdict that only one of the two methods gives is undecided, with the intervals on which they differ", () => {
  // Between the margins that hold one method's interval and those that hold both there are some that hold one alone.
  const data = session({ heads: 2, passes: 8, fallOff: [0.02, 0.02] });
  const found = Array.from({ length: 30 }, (_, i) => {
    const margin = { value: 0.3 + i * 0.05, unit: "mph" as const };
    return runVerb(forgiveness, tableOf(data), { margin }).report.sentences[1]!;
  });
  const depends = found.filter((sentence) => sentence.startsWith("Undecided, since it depends on the method"));
  expect(depends.length).toBeGreaterThan(0);
  expect(depends[0]).toMatch(/; against ±[\d.]+ mph the 90 % interval is −?[\d.]+ to −?[\d.]+ by least squares with errors robust to stints \(CR2\) and −?[\d.]+ to −?[\d.]+ by the model of shots in stints\./);
});

test("too few shots or stints: no verdict, no difference, and how to hit it next time, once", () => {
  const few = tableOf(session({ passes: 4, perStint: 4 }));
  const { rows, report } = runVerb(forgiveness, few, {});
  expect(rows.slice(15).map((row) => [row["verdict"], row["difference"]])).toEqual(Array.from({ length: 3 }, () => ["no verdict", null]));
  checkSentence(few, /^Heron has 16 shots with a known strike in 4 stints and Wren has 16 shots with a known strike in 4 stints: a verdict needs 20 shots of each head\. No verdict\.$/);
  expect(report.sentences.filter((sentence) => sentence.startsWith("Next time hit the heads in turn"))).toHaveLength(1);
});

test("heads hit in one go: losses without intervals, no verdict", () => {
  const once = tableOf(session({ passes: 1, perStint: 40 }));
  const { rows } = runVerb(forgiveness, once, {});
  expect(rows[0]!["loss"]).not.toBeNull();
  expect(rows[0]).toMatchObject({ from: null, to: null });
  expect(rows[15]!["verdict"]).toBe("no verdict");
  checkSentence(once, /^Heron has 40 shots with a known strike in one go and Wren has 40 shots with a known strike in one go: a verdict needs 4 stints of each head\. No verdict\.$/);
  checkSentence(once, /^Too few shots for a fall-off of each one's own/);
});

test("order unknown: a warning, an interval, no verdict", () => {
  const unknown = tableOf(clear, facts({ orderKnown: false }));
  const { rows, problems } = runVerb(forgiveness, unknown, {});
  expect(problems.map((each) => each.code)).toEqual(["trade.order-unknown"]);
  expect(rows[15]).toMatchObject({ verdict: "no verdict", stints: null });
  checkSentence(unknown, /Order unknown: the interval is likely too narrow\. No verdict\.$/);
});

test("heads hit in different places are not compared", () => {
  checkSentence(tableOf(session({ heads: 2, aim: [-11, 11] })), /^The heads were not hit in the same places: .* No verdict\.$/);
});

test("strikes read with more than 1 mm of error flatten what is found, and it is said how much", () => {
  const stated = (value: number) => tableOf(session(), facts({ readingErrors: { strike_x: { value, unit: "mm" } } }));
  checkSentence(stated(3), /^Strikes across the face are read with an error of 3 mm: that flattens a tilt by about 1\d % and a fall-off by about 2\d %, so that true losses are larger than these\.$/);
  expect(runVerb(forgiveness, stated(1), {}).report.sentences.join()).not.toContain("flattens");
  checkSentence(stated(30), /as much as they scatter/);
});

test("the session's standard misses, else the defaults; the option before both", () => {
  const stated = tableOf(session(), facts({ standardMisses: { iron: { x: 9, y: 5 }, wedge: { x: 9, y: 5 }, wood: { x: 9, y: 5 } } }));
  expect(runVerb(forgiveness, stated, {}).rows[1]!["x"]).toBe(9);
  checkSentence(stated, /standard misses are those of the session\.$/);
  expect(runVerb(forgiveness, stated, { miss_across: { value: 7, unit: "mm" } }).rows.slice(1, 4).map((row) => row["x"])).toEqual([7, -7, 0]);
});

test("a column on both sides of 0 keeps no share of itself, and asks for its margin", () => {
  const table = tableOf(session());
  expect(refusal(forgiveness, table, { of: "spin_axis" })).toEqual(["trade.no-margin"]);
  const { rows } = runVerb(forgiveness, table, { of: "spin_axis", margin: { value: 1, unit: "deg" } });
  expect(rows[0]).toMatchObject({ retention: null, of: "spin_axis" });
  expect(rows[0]!["loss"]).not.toBeNull();
});

test("tables that cannot answer are refused with what is missing", () => {
  const all = tableOf(session());
  const without = (...left: readonly string[]): Table => makeTable(all.columns.filter((column) => !left.includes(column.name)), all.rowCount, all);
  expect(refusal(forgiveness, without("strike_y"), {})).toEqual(["trade.no-strikes"]);
  expect(inferredProblems(forgiveness, without("strike_y"), {})).toEqual(["trade.no-strikes"]);
  expect(inferredProblems(forgiveness, without("ball_speed"), {})).toEqual(["trade.no-loss-column"]);
  expect(refusal(forgiveness, all, { miss_up: { value: 0, unit: "mm" } })).toEqual(["trade.bad-miss"]);
  expect(refusal(forgiveness, all, { margin: { value: 0, unit: "mph" } })).toEqual(["trade.bad-margin"]);
  expect(refusal(forgiveness, all, { margin: { value: 2, unit: "yd" } })).toEqual(["trade.margin-unit"]);
  expect(refusal(forgiveness, without("head"), {})).toEqual(["trade.no-group-column"]);
});

test("one head alone has losses and no pair", () => {
  const { rows, report } = runVerb(forgiveness, tableOf(session({ heads: 1 })), {});
  expect(rows).toHaveLength(5);
  expect(report.sentences.join()).not.toContain("most forgiving");
});

test("shots without a strike are left out and counted", () => {
  const data = session({ heads: 2 });
  const table = tableOf({ ...data, strike: { x: data.strike!.x.map((x, i) => (i < 2 ? Number.NaN : x)), y: data.strike!.y } });
  expect(runVerb(forgiveness, table, {}).rows[0]!["n"]).toBe(38);
  checkSentence(table, /^Strike x is missing in 2 of 40 shots of Wren\.$/);
});

/** The same shots, the strikes of some of them not read. */
function withoutStrikes(data: ShotData, isLost: (head: number, stint: number) => boolean): Table {
  return tableOf({ ...data, strike: { x: data.strike!.x.map((x, i) => (isLost(data.group[i]!, data.stint[i]!) ? Number.NaN : x)), y: data.strike!.y } });
}

test("a head whose strikes were not read is said to lack strikes, not shots", () => {
  const lost = withoutStrikes(session(), (head) => head === 1);
  checkSentence(lost, /^Heron has no shot with a known strike \(40 shots\): a verdict needs 20 shots in 4 stints of each head\. No verdict\.$/);
  checkSentence(lost, /^The surface is fitted to the 80 shots with a known strike of Wren and Plover, without Heron, which has too few\.$/);
});

test("the advice fits what is lacking: strikes that were not read, or strikes all on one line", () => {
  const advice = (table: Table): readonly string[] => runVerb(forgiveness, table, {}).report.sentences.filter((sentence) => sentence.toLowerCase().includes("next time"));
  const unread = "Too few strikes of Heron are known: next time have them read with every head, or map them in the session.";
  expect(advice(withoutStrikes(session(), (head) => head === 1))).toEqual([unread]);
  expect(advice(withoutStrikes(session({ heads: 2, perStint: 24, passes: 5 }), (head, stint) => head === 1 && stint > 2))).toEqual([unread]);
  const spread = "Next time spread the strikes over the face on purpose, to toe and heel and high and low, with every head.";
  const { strike, ...rest } = session();
  for (const y of [strike!.x, strike!.x.map(() => -9)]) expect(advice(tableOf({ ...rest, strike: { x: strike!.x, y } }))).toEqual([spread]);
  const onLine = tableOf({ ...rest, strike: { x: strike!.x, y: strike!.x } });
  const { sentences } = runVerb(forgiveness, onLine, {}).report;
  expect(sentences.slice(1, 3)).toEqual([
    "These shots do not determine how much any head loses. No verdict.",
    "The strikes of Wren, Heron and Plover lie on one line or in one place, which tells nothing of the rest of the face.",
  ]);
});

test("strikes read in one stint of many do not make a head hit in one go", () => {
  const lost = withoutStrikes(session({ heads: 2, perStint: 24, passes: 5 }), (head, stint) => head === 1 && stint > 2);
  checkSentence(lost, /^Heron has 24 shots with a known strike \(of 120\) in one go: a verdict needs 4 stints of each head\. No verdict\.$/);
});

test("stints with only a break between them are said to count once where that is what lacks", () => {
  const data = session({ heads: 2, perStint: 8, passes: 10 });
  const blocks = tableOf({ ...data, group: Int32Array.from(data.stint, (stint) => Math.floor((stint - 1) / 10)) });
  checkSentence(blocks, /: a verdict needs 4 stints of each head, those with only a break between them counted once\. No verdict\.$/);
});

test("groups keep their names as written, and are called what they are", () => {
  const table = tableOf(session({ heads: 2, passes: 2 }));
  const lower = { ...table, columns: table.columns.map((column) => (column.name === "intent" ? textColumn("tee", Array.from({ length: table.rowCount }, (_, i) => (i % 8 < 4 ? "low" : "high")), "stated") : column)) };
  const { sentences } = runVerb(forgiveness, lower, { by: "tee" }).report;
  const said = sentences.join("\n");
  expect(said).toMatch(/^(high|low) has /m);
  expect(said).toMatch(/^Next time hit the tees in turn/m);
});

test("the answer comes first, and the last sentence says whose shots these were", () => {
  const { report } = runVerb(forgiveness, tableOf(session()), {});
  expect(report.answer).toBe(5);
  expect(report.sentences.at(-1)).toBe("One tester, one session.");
});

test("strikes in inches give the same", () => {
  const table = tableOf(clear);
  const inches = makeTable(
    table.columns.map((column) => (column.kind === "number" && column.name.startsWith("strike") ? numberColumn(column.name, column.values.map((value) => value / 25.4), "in", "measured") : column)),
    table.rowCount,
    table,
  );
  const losses = (of: Table) => runVerb(forgiveness, of, {}).rows.map((row) => Number(row["loss"] ?? 0).toFixed(9));
  expect(losses(inches)).toEqual(losses(table));
});
