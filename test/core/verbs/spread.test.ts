import * as fc from "fast-check";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { presentChart } from "../../../core/present/present-result";
import { chartSvg } from "../../../core/chart/draw-chart";
import { lightTheme } from "../../../core/chart/themes";
import { sdRatio } from "../../../core/stats/bonett";
import { meanResiduals } from "../../../core/stats/mean-residuals";
import { sampleSd } from "../../../core/stats/moments";
import { verdicts } from "../../../core/stats/verdict";
import type { Table } from "../../../core/table/table";
import { numberColumn } from "../../../core/table/table";
import { spread } from "../../../core/verbs/spread";
import { readSvg } from "../chart/read-svg";
import { sampleShots } from "../chart/sample-shots";
import { run } from "../query/query-support";
import { expectClose, normals } from "../stats/check-values";
import type { Shot } from "./trade-verbs";
import { facts, inferredProblems, refusal, rotation, runVerb, shotTable } from "./trade-verbs";

/** Shots of heads in rotation whose scatter differs: `sd` in yards, one a head, offline half as wide. */
function scattered({ sd, passes = 10, shots = 3, seed = 1, drift = 0 }: { sd: readonly number[]; passes?: number; shots?: number; seed?: number; drift?: number }): Table {
  const heads = ["Wren", "Heron", "Plover"].slice(0, sd.length);
  const normal = normals(seed);
  const size = (head: string | null): number => sd[heads.indexOf(head!)]!;
  const hit = rotation({ heads, passes, shotsInStint: shots, stintSd: 0, shotSd: 0, seed });
  const list = hit.map((shot, i) => ({ ...shot, carry: 150 + (drift * i) / hit.length + size(shot.head) * normal() }));
  return shotTable(list, [facts()], [numberColumn("offline", list.map((shot) => (size(shot.head) / 2) * normal()), "yd", "measured")]);
}

const equal = scattered({ sd: [5, 5] });

function only(table: Table, keep: (head: string, stint: number) => boolean): Table {
  const head = table.columns.find((column) => column.name === "head")!;
  const stint = table.columns.find((column) => column.name === "stint")!;
  if (head.kind !== "text" || stint.kind !== "number") throw new Error("no heads");
  const rows = Int32Array.from(Array.from(stint.values.keys()).filter((row) => keep(head.labels[head.codes[row]!]!, stint.values[row]!)));
  const columns = table.columns.map((column) =>
    column.kind === "text" ? { ...column, codes: rows.map((row) => column.codes[row]!) } : column.kind === "number" ? { ...column, values: Float64Array.from(rows, (row) => column.values[row]!) } : column,
  );
  return { ...table, columns, rowCount: rows.length };
}

function checkSentence(table: Table, wanted: RegExp, options = {}): void {
  const { sentences } = runVerb(spread, table, { of: "carry", ...options }).report;
  expect(sentences.some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

function checkVerdict(table: Table, wanted: string, options = {}): void {
  const { rows } = runVerb(spread, table, { of: "carry", ...options });
  expect(rows.map((row) => row["verdict"])).toEqual([wanted]);
}

test("a query as it is written: which head is tighter", () => {
  const outcome = run('shots.spread({ of: ["carry", "offline"], by: "head", confidence: 0.9, ellipse: "robust", margin: 1.3 })', { tables: new Map([["shots", scattered({ sd: [5, 5, 5] })]]) });
  expect(outcome.problems).toEqual([]);
  expect(outcome.value?.type).toBe("table");
});

test("without options: carry and offline and the ellipse of both", () => {
  const { rows, table, report } = runVerb(spread, equal, {});
  expect(table.columns.map((column) => column.name)).toEqual([
    "head", "against", "of", "ratio", "from", "to", "from_stints", "to_stints", "sd", "sd_against", "detectable", "verdict", "n", "n_against", "stints", "stints_against", "p",
  ]);
  expect(rows.map((row) => row["of"])).toEqual(["carry", "offline", "carry and offline"]);
  expect(rows[0]).toMatchObject({ head: "Heron", against: "Wren", n: 30, n_against: 30, stints: 10, stints_against: 10 });
  expect(rows[2]).toMatchObject({ sd: null, sd_against: null });
  for (const end of ["from", "to", "from_stints", "to_stints"]) expect(rows[2]![end]).not.toBeNull();
  // ±1.96 √(2 (½/29 + ½/28)) on the logarithm, for 30 shots each without long tails.
  expect(Math.log((rows[2]!["to"] as number) / (rows[2]!["ratio"] as number))).toBeGreaterThan(0.519);
  expect(report.hidden).toEqual(["p"]);
  expect(table.columns.filter((column) => column.kind === "number" && column.unit === "yd").map((column) => column.name)).toEqual(["sd", "sd_against"]);
});

test("columns of different units have their unit beside them", () => {
  const speed = numberColumn("ball_speed", Array.from({ length: equal.rowCount }, (_, i) => 110 + (i % 7)), "mph", "measured");
  const { rows } = runVerb(spread, { ...equal, columns: [...equal.columns, speed] }, { of: ["carry", "ball_speed", "carry"] });
  expect(rows.map((row) => [row["of"], row["unit"]])).toEqual([["carry", "yd"], ["ball_speed", "mph"]]);
});

test("the ratio is that of the residuals about head and drift, by Bonett's method", () => {
  const drifting = scattered({ sd: [5, 5], drift: -40 });
  const row = runVerb(spread, drifting, { of: "carry" }).rows[0]!;
  const carry = drifting.columns.find((column) => column.name === "carry")!;
  const head = drifting.columns.find((column) => column.name === "head")!;
  if (carry.kind !== "number" || head.kind !== "text") throw new Error("no carry");
  const n = carry.values.length;
  const residuals = meanResiduals({
    groupCount: 2,
    group: head.codes,
    session: new Int32Array(n),
    stint: new Float64Array(n),
    time: Float64Array.from({ length: n }, (_, i) => i / (n - 1)),
    value: carry.values,
    strike: null,
  });
  const of = (code: number) => [...residuals].filter((_, i) => head.codes[i] === code);
  const expected = sdRatio(of(1), of(0));
  expectClose(row["ratio"] as number, expected.ratio, 1e-9);
  expectClose(row["from"] as number, expected.interval(0.95).from, 1e-9);
  expectClose(row["to"] as number, expected.interval(0.95).to, 1e-9);
  expectClose(row["sd"] as number, sampleSd(of(1)), 1e-9);
  // 40 yards of drift would be a standard deviation of more than 11 by themselves.
  expect(row["sd"] as number).toBeLessThan(7);
});

test("each verdict", () => {
  checkVerdict(scattered({ sd: [2, 8], passes: 20 }), "different by more than the margin");
  checkVerdict(scattered({ sd: [4, 8] }), "different");
  checkVerdict(scattered({ sd: [5, 6], passes: 60, seed: 2 }), "different but too small to matter", { margin: 2 });
  checkVerdict(scattered({ sd: [5, 5], passes: 60 }), "practically equivalent", { margin: 1.6 });
  checkVerdict(equal, "undecided");
  checkVerdict(scattered({ sd: [2, 8], passes: 1, shots: 30 }), "no verdict");
});

test("ellipses in words", () => {
  checkSentence(scattered({ sd: [2, 8], passes: 20 }), /^The ellipse of Heron is larger than that of Wren: ratio of the areas \d+\.\d+ \(95 % interval .*; over stints .*\)\. Different by more than the margin: the ratio is outside 0\.64 to 1\.56\.$/, { of: ["carry", "offline"] });
  checkSentence(scattered({ sd: [5, 5], passes: 60 }), /^The ellipse of carry and offline has practically the same area with Heron and Wren: ratio .*, inside 0\.39 to 2\.56\. Practically equivalent\.$/, { of: ["carry", "offline"], margin: 1.6 });
});

test("a difference in words, with both intervals", () => {
  checkSentence(scattered({ sd: [2, 8], passes: 20 }), /^Heron scatters more than Wren in carry: ratio \d\.\d+ \(95 % interval \d\.\d+ to \d\.\d+; over stints \d\.\d+ to \d\.\d+\)\. Different by more than the margin: the ratio is outside 0\.80 to 1\.25\.$/);
  checkSentence(scattered({ sd: [8, 6.2] }), /^Heron scatters less than Wren in carry: .* Different, by a ratio that may be inside or outside 0\.80 to 1\.25\.$/);
  checkSentence(scattered({ sd: [5, 5], passes: 60 }), /^Heron and Wren scatter alike in carry for practical purposes: ratio \d\.\d+ \(90 % interval .*; over stints .*\), inside 0\.63 to 1\.60\. Practically equivalent\.$/, { margin: 1.6 });
});

test("undecided: what so many shots can show, and what the margin would take", () => {
  checkSentence(equal, /^Undecided in carry: ratios with 95 % intervals Heron \/ Wren \d\.\d+ \(\d\.\d+ to \d\.\d+\)\.$/);
  checkSentence(equal, /^A ratio of standard deviations of 1\.9 is found in 80 % or more of sessions like this \(30 shots each in 10 stints\); one of 1\.25 would take about 2[2-9]0 shots each\.$/);
  const { rows } = runVerb(spread, equal, { of: "carry" });
  // exp((2.1009 + 1.3304)/√29) with Student's quantiles of 18 degrees of freedom, and more with long tails.
  expect(rows[0]!["detectable"] as number).toBeGreaterThanOrEqual(1.89);
});

test("a ratio said to be found is not that of one pair by itself where three are judged", () => {
  const three = runVerb(spread, scattered({ sd: [5, 5, 5] }), { of: "carry" });
  // exp((2.6381 + 1.3304)/√29): 1 − 0.05/3 in place of 1 − 0.05.
  for (const row of three.rows) expect(row["detectable"] as number).toBeGreaterThanOrEqual(2.08);
  expect(three.report.sentences.join("\n")).toMatch(/ is found in 80 % or more of sessions like this \(30 shots each in 10 stints\), for one pair of 3 judged at once; one of 1\.25 would take about 2[78]0 shots each\./);
});

test("ratios are not promised to be found where no verdict can come of them", () => {
  for (const table of [scattered({ sd: [5, 5], passes: 5 }), scattered({ sd: [5, 5], passes: 2, shots: 15 }), { ...equal, sessions: [facts({ orderKnown: false })] }]) {
    const { rows, report } = runVerb(spread, table, {});
    for (const row of rows) expect(row["detectable"]).toBeNull();
    expect(report.sentences.join()).not.toMatch(/sessions like this/);
  }
});

test("the answer of three heads and two columns is a line for each verdict, each scatter and what can be found", () => {
  const { report } = runVerb(spread, scattered({ sd: [5, 5, 5] }), {});
  const answer = report.sentences.slice(0, report.answer);
  expect(answer.length).toBe(6);
  expect(answer[3]).toMatch(/^Standard deviation of carry \(30 shots each in 10 stints\): Wren \d\.\d+ yd \(\d\.\d+ to \d\.\d+\), Heron .*, Plover .*; 95 % intervals from resampled stints \(BCa\)\.$/);
  expect(answer[0]).toMatch(/^Undecided in carry: ratios with 95 % Holm intervals Heron \/ Wren .*, Plover \/ Wren .*, Plover \/ Heron /);
  expect(answer[1]).toMatch(/^Undecided in offline: /);
  expect(answer[2]).toMatch(/^Undecided in the area of the ellipse of carry and offline: /);
  expect(answer[4]).toMatch(/^Standard deviation of offline /);
  expect(answer[5]).toMatch(/^A ratio of standard deviations of \S+( to \S+)? or of areas of \S+( to \S+)? is found /);
  expect(report.sentences.at(-1)).toBe("One tester, one session.");
});

test("the order of tightness is a description, with the notebook's seed", () => {
  const table = scattered({ sd: [5, 5, 5] });
  const sentence = (seed: number) => runVerb(spread, table, { of: "carry" }, { seed }).report.sentences.find((each) => /tightest/.test(each))!;
  expect(sentence(7)).toMatch(/^Of 10000 resamples of stints \(seed 7\) the tightest in carry was \w+ in \d+ %, \w+ in \d+ % and \w+ in \d+ %: a description, no verdict\.$/);
  expect(sentence(7)).toBe(sentence(7));
  expect(sentence(8)).not.toBe(sentence(7));
});

test("below eight stints of a head no stints are resampled, and that is said", () => {
  const few = scattered({ sd: [5, 5], passes: 7, shots: 4 });
  const { report } = runVerb(spread, few, { of: "carry" });
  expect(report.sentences.join()).not.toMatch(/tightest|BCa/);
  checkSentence(few, /^Stints are not resampled, for which every head needs 8\.$/);
});

test("all heads at once: Brown and Forsythe's distances in the model with stints", () => {
  checkSentence(scattered({ sd: [2, 5, 9] }), /^All heads at once: scatter in carry is not the same for all \(Brown and Forsythe's distances from the median in the model with stints, F \d+\.\d\d with 2 and \d+\.\d df\)\.$/);
  checkSentence(scattered({ sd: [5, 5, 5] }), /scatter in carry is not shown to differ/);
});

test("three heads: Holm's p, and an interval leaves out 1 exactly when it is small", () => {
  const three = runVerb(spread, scattered({ sd: [4, 4, 9] }), { of: "carry" });
  const p = three.rows.map((row) => row["p"] as number);
  three.rows.forEach((row, i) => {
    const both = ["", "_stints"].every((end) => (row[`from${end}`] as number) > 1 || (row[`to${end}`] as number) < 1);
    expect(both).toBe(p[i]! < 0.05);
  });
  expect(p.filter((value) => value < 0.05).length).toBe(2);
  expect(three.report.method).toMatch(/each pair at its step of Holm's method over all pairs \(Holm intervals\), so not simultaneous/);
  expect(three.report.sentences.join()).not.toMatch(/simultaneous/);
  checkSentence(scattered({ sd: [4, 4, 9] }), /^Plover scatters more than Wren in carry: ratio \d\.\d+ \(95 % Holm interval \d\.\d+ to \d\.\d+; over stints \d\.\d+ to \d\.\d+\); Plover more than Heron: ratio \d\.\d+ \([^)]*\)\. Different.*: the ratios are outside 0\.80 to 1\.25\. Undecided in carry: ratios with 95 % Holm intervals Heron \/ Wren [^)]*\)\.$/);
});

test("fewer than 3 stints of a head: the ratio, its interval, and no verdict", () => {
  const table = scattered({ sd: [2, 20], passes: 2, shots: 10 });
  const row = runVerb(spread, table, { of: "carry" }).rows[0]!;
  expect(row).toMatchObject({ verdict: "no verdict", p: null });
  expect(row["from"]).not.toBeNull();
  checkSentence(table, /^No verdict on carry: ratios .*\. Scatter is judged from 12 shots and 3 stints of each head on\.$/);
});

test("fewer than 12 shots of a head: no ratio is told, no order of tightness, and no test of all heads", () => {
  for (const table of [scattered({ sd: [2, 20, 2], passes: 3 }), scattered({ sd: [2, 20, 2], passes: 10, shots: 1 })]) {
    const { rows, report } = runVerb(spread, table, {});
    for (const row of rows) expect(row).toMatchObject({ ratio: null, from: null, from_stints: null, p: null, verdict: "no verdict" });
    expect(rows[0]!["sd"]).not.toBeNull();
    checkSentence(table, /^No verdict on carry: Heron \/ Wren, Plover \/ Wren, Plover \/ Heron\. Ratios of scatter are told from 12 shots of each head on\.$/);
    expect(report.sentences.join()).not.toMatch(/Brown|tightest|ratios with/);
  }
});

test("fewer than 12 shots of a head: no scatter at the same strikes", () => {
  const first = (many: number): Table => {
    const kept = new Map<string, number>();
    return only(sampleShots(), (head) => {
      kept.set(head, (kept.get(head) ?? 0) + 1);
      return kept.get(head)! <= many;
    });
  };
  expect(runVerb(spread, first(11), { of: "carry" }).report.sentences.join()).not.toMatch(/At the same strikes/);
  expect(runVerb(spread, first(16), { of: "carry" }).report.sentences.join()).toMatch(/At the same strikes/);
});

test("fewer than 20 shots or 4 stints of a head: undecided, however large the difference", () => {
  for (const table of [scattered({ sd: [1, 20], passes: 5 }), scattered({ sd: [1, 20], passes: 3, shots: 12 })]) {
    checkVerdict(table, "undecided");
    checkSentence(table, /^Undecided in carry: .* A verdict on scatter needs 20 shots and 4 stints of each head\./);
  }
});

test("fewer than five shots are listed", () => {
  const few = only(equal, (head, stint) => head === "Wren" || stint <= 2);
  const row = runVerb(spread, few, { of: "carry" }).rows[0]!;
  expect(row).toMatchObject({ verdict: "no verdict", ratio: null, sd: null, from: null, from_stints: null, p: null, n: 3, detectable: null });
  checkSentence(few, /Heron \d[\d., ]+ \(values, too few for more\)/);
});

test("each head hit in one go: ratios alone, no verdict, and how to hit next time, once", () => {
  const once = scattered({ sd: [5, 5], passes: 1, shots: 30 });
  const { rows, report } = runVerb(spread, once, {});
  for (const row of rows) expect(row).toMatchObject({ from: null, from_stints: null, p: null, verdict: "no verdict" });
  expect(rows[0]!["ratio"]).not.toBeNull();
  checkSentence(once, /^No verdict on carry: ratios Heron \/ Wren \d\.\d+\. Each head was hit in one go: what changed during the session cannot be told from the head\.$/);
  expect(report.sentences.filter((sentence) => sentence.startsWith("Next time hit the heads in turns")).length).toBe(1);
});

test("the order unknown: a description, warned of", () => {
  const table = { ...equal, sessions: [facts({ orderKnown: false })] };
  const { rows, report, problems } = runVerb(spread, table, { of: "carry" });
  expect(rows[0]).toMatchObject({ verdict: "no verdict", from_stints: null, stints: null, p: null });
  expect(problems.map((each) => each.code)).toEqual(["trade.order-unknown"]);
  expect(report.sentences.join()).toMatch(/Order unknown: intervals as if shots were independent, likely too narrow\./);
  expect(report.sentences.join()).not.toMatch(/tightest|Brown/);
});

test("a verdict that one method supports and the other does not depends on the method", () => {
  // All of Heron's scatter is in two of its ten stints: single shots say more than stints can.
  const normal = normals(3);
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 10, shotsInStint: 6, stintSd: 0, shotSd: 0 }).map(
    (shot): Shot => ({ ...shot, carry: 150 + (shot.head === "Heron" ? ([2, 12].includes(shot.stint) ? 16 : 3) : 4) * normal() }),
  );
  const table = shotTable(shots);
  const row = runVerb(spread, table, { of: "carry" }).rows[0]!;
  expect(row["verdict"]).toBe("undecided");
  expect([row["from"] as number > 1, (row["from_stints"] as number) > 1]).toEqual([true, false]);
  checkSentence(table, /^Undecided in carry: ratios with 95 % intervals Heron \/ Wren \S+ \(\S+ to \S+; over stints \S+ to \S+: depends on the method\)\.$/);
});

test("a few far shots that make the difference are pointed out", () => {
  const normal = normals(4);
  const far = rotation({ heads: ["Wren", "Heron"], passes: 10, stintSd: 0, shotSd: 0 }).map(
    (shot, i): Shot => ({ ...shot, carry: 150 + 3 * normal() - (shot.head === "Heron" && i % 20 === 4 ? 25 : 0) }),
  );
  checkSentence(shotTable(far), /^Heron \/ Wren in carry: by the middle 80 % of shots the ratio is \d\.\d\d; a few far shots make the difference to \d\.\d+\.$/);
});

test("with strikes known, the scatter at the same strikes is described", () => {
  const { report } = runVerb(spread, sampleShots(), { of: "carry" });
  expect(report.sentences.join("\n")).toMatch(/At the same strikes.*, the standard deviation of carry would be Heron \d\.\d+ yd, Plover \d\.\d+ yd and Wren \d\.\d+ yd: a description, without intervals\./);
});

test("heads of different sessions, and shots without scatter, get no verdict", () => {
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  const apart = rotation({ heads: ["Wren", "Heron"], passes: 8 }).map((shot): Shot => ({ ...shot, session: shot.head === "Wren" ? "s1" : "s2" }));
  expect(runVerb(spread, shotTable(apart, days), { of: "carry" }).rows[0]).toMatchObject({ verdict: "no verdict", ratio: null });
  checkSentence(shotTable(apart, days), /They have no session in common/);
  const flat = rotation({ heads: ["Wren", "Heron"], passes: 8 }).map((shot): Shot => ({ ...shot, carry: shot.head === "Wren" ? 150 : shot.carry }));
  checkVerdict(shotTable(flat), "no verdict");
});

test("swapping two heads gives reciprocals and the same verdict", () => {
  const heads = (first: string) => {
    const names = [first, first === "Wren" ? "Heron" : "Wren"];
    return facts({ heads: names.map((name) => ({ name, kind: "iron" as const, design: "blade", strikeReference: { x: 0, y: 0 } })) });
  };
  const [plain, swapped] = ["Wren", "Heron"].map((first) => runVerb(spread, { ...scattered({ sd: [4, 8] }), sessions: [heads(first)] }, {}).rows);
  plain!.forEach((row, i) => {
    const other = swapped![i]!;
    expectClose(other["ratio"] as number, 1 / (row["ratio"] as number), 1e-9);
    expectClose(other["from_stints"] as number, 1 / (row["to_stints"] as number), 1e-9);
    expect(other["verdict"]).toBe(row["verdict"]);
  });
});

test("another unit changes no ratio, and a wider margin no interval", () => {
  const scaled = (factor: number): Table => ({
    ...equal,
    columns: equal.columns.map((column) => (column.name === "carry" && column.kind === "number" ? { ...column, values: column.values.map((value) => factor * value) } : column)),
  });
  const [one, other] = [1, 0.9144].map((factor) => runVerb(spread, scaled(factor), { of: "carry" }).rows[0]!);
  for (const name of ["ratio", "from", "to", "from_stints", "to_stints", "p", "detectable"]) expectClose(other![name] as number, one![name] as number, 1e-9, 0, name);
  expectClose(other!["sd"] as number, 0.9144 * (one!["sd"] as number), 1e-9);
  expect(runVerb(spread, equal, { of: "carry", margin: 2 }).rows[0]!["from"]).toBe(one!["from"]);
});

test("a lower confidence narrows both intervals and is named", () => {
  const [usual, lower] = [0.95, 0.8].map((confidence) => runVerb(spread, equal, { of: "carry", confidence }));
  for (const end of ["to", "to_stints"]) expect(lower!.rows[0]![end] as number).toBeLessThan(usual!.rows[0]![end] as number);
  expect(lower!.report.method).toMatch(/Bonett's 80 % intervals/);
  expect(lower!.report.confidence).toBe(0.8);
});

test("what cannot be compared says why", () => {
  expect(refusal(spread, only(equal, (head) => head === "Wren"), { of: "carry" })).toEqual(["trade.one-group"]);
  expect(refusal(spread, only(equal, () => false), {})).toEqual(["trade.no-shots"]);
  const bare = { ...equal, columns: equal.columns.filter(({ name }) => name !== "carry" && name !== "offline") };
  expect(inferredProblems(spread, bare, {})).toEqual(["trade.no-spread-column"]);
  expect(inferredProblems(spread, { ...equal, groupedBy: ["session"] }, {})).toEqual(["trade.grouped"]);
  expect(runVerb(spread, equal, { of: "carry", ellipse: "robust" }).problems.map((each) => each.code)).toEqual(["trade.no-ellipse"]);
  expect(runVerb(spread, equal, { ellipse: "robust" }).problems).toEqual([]);
});

test("values missing at different rates are warned of and counted", () => {
  const gaps = equal.columns.map((column) =>
    column.name === "carry" && column.kind === "number" ? { ...column, values: column.values.map((value, i) => (i % 12 < 3 ? Number.NaN : value)) } : column,
  );
  const { problems } = runVerb(spread, { ...equal, columns: gaps }, { of: "carry" });
  expect(problems.map((each) => each.code)).toEqual(["trade.unequal-missing"]);
  checkSentence({ ...equal, columns: gaps }, /^Carry is missing in \d+ of 30 shots of Wren\.$/);
});

test("the same shots and seed give the same bytes", () => {
  const table = scattered({ sd: [4, 6, 5] });
  const bytes = () => JSON.stringify(runVerb(spread, table, {}));
  expect(bytes()).toBe(bytes());
});

test("the picture of carry and offline names its ellipse", () => {
  const subtitle = (options: object): string => JSON.stringify(runVerb(spread, equal, options as never).report.picture!.spec["title"]);
  expect(subtitle({})).toMatch(/Each ellipse holds the next shot with 95 %\./);
  expect(subtitle({})).toMatch(/The drift of the session is taken out\./);
  expect(subtitle({ confidence: 0.8 })).toMatch(/Each ellipse holds the next shot with 80 %\./);
  expect(subtitle({ ellipse: "population" })).toMatch(/Each ellipse holds about 95 % of all shots \(if centre and scatter were exact\)\./);
  expect(subtitle({ ellipse: "mean point" })).toMatch(/Each ellipse holds the mean point with 95 %\./);
  expect(subtitle({ ellipse: "robust" })).toMatch(/Each ellipse is robust \(minimum covariance determinant\)/);
});

test("the picture of other columns: a strip a head with its standard deviation in words", async () => {
  for (const of of ["carry", ["offline"]]) {
    const { picture } = runVerb(spread, scattered({ sd: [5, 5, 5] }), { of }).report;
    const elements = readSvg(await chartSvg(presentChart(picture!, defaultLimits).spec, lightTheme, 300));
    const texts = elements.map((element) => element.text);
    for (const head of ["Wren", "Heron", "Plover"]) expect(texts.some((text) => new RegExp(`^${head}: SD \\d+\\.\\d+ yd, 30 shots$`).test(text)), texts.join("|")).toBe(true);
    expect(elements.some((element) => /NaN|Infinity|undefined|null/.test(element.text + (element.attributes["d"] ?? "")))).toBe(false);
  }
});

test("whatever the shots, there are whole rows or a reason, and no NaN is shown", () => {
  const shot = fc.record({
    head: fc.constantFrom("Wren", "Heron", "Plover", null),
    stint: fc.integer({ min: 1, max: 12 }),
    carry: fc.oneof({ weight: 4, arbitrary: fc.integer({ min: 1300, max: 1600 }).map((n) => n / 10) }, { weight: 1, arbitrary: fc.constant(null) }),
    session: fc.constantFrom("s1", "s2"),
  });
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  let compared = 0;
  fc.assert(
    fc.property(fc.array(shot, { maxLength: 60, size: "max" }), (shots) => {
      const offline = numberColumn("offline", shots.map((each, i) => (i % 9 === 0 ? null : ((each.carry ?? 7) * 7) % 13)), "yd");
      const table = shotTable(shots, days, [offline]);
      if (refusal(spread, table, {}).length > 0) return;
      compared++;
      const { rows, table: result } = runVerb(spread, table, {});
      for (const row of rows) {
        expect(verdicts).toContain(row["verdict"]);
        expect(row["from"] === null).toBe(row["to"] === null);
        expect(row["from_stints"] === null).toBe(row["to_stints"] === null);
      }
      for (const column of result.columns) if (column.kind === "number") expect(column.values.every((v) => Number.isNaN(v) || Number.isFinite(v))).toBe(true);
    }),
    { seed: 91, numRuns: 20 },
  );
  expect(compared).toBeGreaterThan(12);
});
