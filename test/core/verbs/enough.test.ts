import { expect, test } from "vitest";
import { chartKinds } from "../../../core/chart/chart-kinds";
import { tQuantile } from "../../../core/stats/distributions";
import { powerOfEquivalence, powerToSee } from "../../../core/stats/power";
import type { Table } from "../../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { enough } from "../../../core/verbs/enough";
import { runTable } from "../query/query-support";
import { expectClose, normals } from "../stats/check-values";
import type { Shot } from "./trade-verbs";
import { context, facts, inferredProblems, refusal, rotation, runVerb, shotTable } from "./trade-verbs";

const yards = (value: number) => ({ value, unit: "yd" as const });
const carry = { of: "carry", margin: yards(3) };
const usual = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 8, shotsInStint: 4, stintSd: 2, shotSd: 5, seed: 5 }));

function checkSentence(table: Table, wanted: RegExp, options = {}): void {
  const { sentences } = runVerb(enough, table, { ...carry, ...options }).report;
  expect(sentences.some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

const number = (row: Readonly<Record<string, unknown>>, name: string): number => row[name] as number;

test("a query as a person writes it: one row a pair", () => {
  const three = shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8 }));
  const table = runTable('shots.enough({ of: "carry", margin: "3 yd" })', { tables: new Map([["shots", three]]) });
  expect(table.rowCount).toBe(3);
  expect(table.columns.slice(0, 16).map((column) => column.name)).toEqual([
    "head", "against", "of", "margin", "detectable", "power_now", "shots_to_see", "shots_to_show", "more_shots",
    "more_from", "more_to", "shots_independent", "n", "n_against", "stints", "stints_against",
  ]);
  const inYards = table.columns.filter((column) => column.kind === "number" && column.unit === "yd").map((column) => column.name);
  expect(inYards).toEqual(["margin", "detectable", "standard_error"]);
});

test("detectable difference and power now are those of the standard error in hand", () => {
  const row = runVerb(enough, usual, carry).rows[0]!;
  const [standardError, df] = [number(row, "standard_error"), number(row, "df")];
  const critical = tQuantile(0.975, df);
  expectClose(number(row, "detectable"), (critical + tQuantile(0.8, df)) * standardError, 1e-12);
  expectClose(number(row, "power_now"), powerToSee(3, { standardError, df, critical }), 1e-12);
  // 32 shots each in 8 stints: 2(σ_b² + σ²/4)/8 = 2.6 yd² with the true variances.
  expectClose(standardError, 1.6, 0, 0.5);
});

test("with the shots planned both questions have the power asked for, with a stint fewer one has not", () => {
  for (const power of [0.8, 0.9]) {
    const row = runVerb(enough, usual, { ...carry, power }).rows[0]!;
    const powers = (total: number) => {
      const stints = total / 4;
      const standardError = number(row, "standard_error") * Math.sqrt(8 / stints);
      const df = number(row, "df") + 2 * (stints - 8);
      const plan = (probability: number) => ({ standardError, df, critical: tQuantile(probability, df) });
      return { see: powerToSee(3, plan(0.975)), show: powerOfEquivalence(3, plan(0.95)) };
    };
    expect(powers(number(row, "shots_to_see")).see).toBeGreaterThanOrEqual(power);
    expect(powers(number(row, "shots_to_see") - 4).see).toBeLessThan(power);
    expect(powers(number(row, "shots_to_show")).show).toBeGreaterThanOrEqual(power);
    expect(powers(number(row, "shots_to_show") - 4).show).toBeLessThan(power);
    expect(number(row, "more_shots")).toBe(Math.max(number(row, "shots_to_see"), number(row, "shots_to_show")) - 32);
  }
});

test("sessions of known scatter have the power that follows from it", () => {
  // SE² = 2 (2² + 5²/4)/27 yd², so that 3 yd are 3.44 standard errors: a power of 0.92 with 50 df or so.
  const long = (seed: number) => shotTable(rotation({ heads: ["Wren", "Heron"], passes: 27, shotsInStint: 4, stintSd: 2, shotSd: 5, seed: seed * 613 }));
  const powers = [1, 2, 3, 4, 5, 6].map((seed) => number(runVerb(enough, long(seed), carry).rows[0]!, "power_now"));
  expectClose(powers.reduce((total, power) => total + power, 0) / powers.length, 0.92, 0, 0.06);
});

test("the observed difference changes nothing", () => {
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 8, seed: 5 });
  const apart = shots.map((shot) => (shot.head === "Heron" ? { ...shot, carry: shot.carry! + 20 } : shot));
  const plan = (given: readonly Shot[]) => runVerb(enough, shotTable(given), carry).rows[0]!;
  for (const name of ["detectable", "power_now", "shots_to_see", "shots_to_show", "more_shots", "more_to"]) expectClose(number(plan(apart), name), number(plan(shots), name), 1e-9);
});

test("reversing the shots within each stint leaves the plan but for the trend", () => {
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 8, seed: 5 });
  const reversed = [...new Set(shots.map((shot) => shot.stint))].flatMap((stint) => shots.filter((shot) => shot.stint === stint).reverse());
  const plan = (given: readonly Shot[]) => number(runVerb(enough, shotTable(given), carry).rows[0]!, "standard_error");
  expectClose(plan(reversed), plan(shots), 0.02);
});

test("the rule of thumb stands beside it, with the design effect", () => {
  const normal = normals(3);
  // Independent shots of SD 6 yd and a margin of 3 yd: 64 each.
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 40, shotsInStint: 5, stintSd: 0, shotSd: 0 }).map((shot) => ({ ...shot, carry: 150 + 6 * normal() }));
  expectClose(number(runVerb(enough, shotTable(shots), carry).rows[0]!, "shots_independent"), 64, 0, 10);
  checkSentence(usual, /^Rule of thumb for independent shots with two heads, 95 % and a power of 80 %: 16 \(s\/Δ\)² = \d+ each to find a difference of the margin, times the design effect \d+\.$/);
  checkSentence(usual, /^Standard deviation \d\.\d+ yd between stints and \d\.\d+ yd within them, .* ρ = 0\.\d\d\. With 4(\.0)? shots a stint the design effect is \d\.\d\d: 32 shots with one head are worth \d+ independent ones\.$/);
});

test("the answer says how many more, with the range, and what the shots in hand find", () => {
  checkSentence(usual, /^Heron and Wren: about \d+ more shots with each \(\d+ to (\d+|more than 300)\) would settle whether carry differs by 3 yd: \d+ in all to find such a difference, \d+ to rule one out where there is none\. The 32 shots in hand find \d\.\d+ yd with a power of 80 %, and 3 yd with \d+ %\.$/);
  checkSentence(usual, /^Planned for the margin of 3 yd, never for the difference observed, which would say nothing new\./);
  checkSentence(usual, /^Many swings tire, .* stop when anything hurts, and ask a qualified person about pain\.$/);
  expect(runVerb(enough, usual, carry).report.answer).toBe(1);
});

test("of several pairs the one that needs most is told in full, the others in one sentence", () => {
  const three = shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8, stintSd: 2, shotSd: 5, seed: 4 }));
  const { sentences, answer } = runVerb(enough, three, carry).report;
  expect(answer).toBe(2);
  expect(sentences[1]).toMatch(/^More shots with each for the other pairs: \w+ and \w+ \d+ \(\d+ to [a-z0-9 ]+\) and \w+ and \w+ \d+ \(/);
});

test("as many as there are would do", () => {
  const row = runVerb(enough, usual, { ...carry, margin: yards(20) }).rows[0]!;
  expect(row).toMatchObject({ more_shots: 0, more_from: 0, more_to: 0, shots_to_see: 32, shots_to_show: 32 });
  checkSentence(usual, /^Heron and Wren: as many shots as there are have a power of 80 % or more for 20 yd in carry already\. /, { margin: yards(20) });
  expect(runVerb(enough, usual, { ...carry, margin: yards(20) }).report.sentences.join(" ")).not.toMatch(/tire/);
});

test("a question that the shots in hand have the power for and left open is no question of more shots", () => {
  const options = { of: "carry", margin: yards(1.6) };
  const tables = Array.from({ length: 80 }, (_, i) => shotTable(rotation({ heads: ["Wren", "Heron"], passes: 14, stintSd: 0.4, shotSd: 2, add: [0, 0.8 + i / 200], seed: i + 1 })));
  const table = tables.find((each) => {
    const row = runVerb(compare, each, options).rows[0]!;
    return row["verdict"] === "undecided" && row["more_shots"] === null;
  })!;
  const compared = runVerb(compare, table, options);
  expect(compared.report.sentences[0]).toMatch(/^Undecided: .* As many shots as there are have a power of 80 % or more for a 1\.6 yd question already; these happened to leave it open\.$/);
  expect(runVerb(enough, table, options).report.sentences[0]).toMatch(/^Heron and Wren: as many shots as there are have a power of 80 % or more for 1\.6 yd in carry already; these happened to leave it open\. /);
});

test.each([[2, 2], [3, 2], [2, 4]])("no power where no verdict is possible: %s stints of each of %s heads", (passes, heads) => {
  const table = shotTable(rotation({ heads: ["Wren", "Heron", "Plover", "Dunlin"].slice(0, heads), passes, shotsInStint: 10, stintSd: 0.1, shotSd: 1, seed: 3 }));
  const { rows, report } = runVerb(enough, table, carry);
  const stints = Math.max(3 - passes, Math.ceil((8 - passes * heads) / heads));
  for (const row of rows) {
    expect(row).toMatchObject({ power_now: null, detectable: null, shots_for_verdict: 10 * (passes + stints) });
    for (const name of ["shots_to_see", "shots_to_show"]) expect(number(row, name)).toBeGreaterThanOrEqual(10 * (passes + stints));
  }
  const said = report.sentences.join("\n");
  expect(said).toMatch(new RegExp(`The ${10 * passes} shots in hand cannot find anything yet: 3 stints of each head and 8 in all are needed\\.`));
  expect(report.picture!.description).toMatch(new RegExp(`The ${10 * passes} shots in hand are in too few stints for a verdict, which takes ${10 * (passes + stints)} shots with each\\.`));
  const short = /in stints of 3 about (\d+) more shots/.exec(said);
  expect(Number(short![1])).toBeGreaterThanOrEqual(3 * stints);
});

test("a small margin is shown as it was given, and shots that no one hits are not counted", () => {
  const tiny = yards(0.001);
  checkSentence(usual, /^Heron and Wren: more than 10 000 more shots with each would settle whether carry differs by 0\.001 yd: not by hitting\./, { margin: tiny });
  checkSentence(usual, /^The margin of 0\.001 yd is stated here\.$/, { margin: tiny });
  const { sentences, picture } = runVerb(enough, usual, { ...carry, margin: tiny }).report;
  expect([...sentences, picture!.description].join(" ")).not.toMatch(/\b0\.00 yd|\d{6}/);
  expect(runVerb(compare, usual, { of: "carry", margin: tiny }).report.sentences.join(" ")).toMatch(/More than 10 000 more shots each for a 0\.001 yd question: not by hitting\./);
});

test("of pairs that all need the same none needs most", () => {
  const three = shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8, seed: 4 }));
  const { report } = runVerb(enough, three, { ...carry, margin: yards(30) });
  expect(report.picture!.description + report.sentences.join(" ")).not.toMatch(/needs most/);
});

test("more than one session", () => {
  checkSentence(usual, /more than one session can give/, { margin: yards(0.5) });
  checkSentence(usual, /^With all heads that is about \d+00 swings: more than one session\./, { margin: yards(0.5) });
});

test("shorter stints need fewer shots, in numbers", () => {
  const long = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 8, shotsInStint: 8, stintSd: 3, shotSd: 4, seed: 2 }));
  const needed = (shots_per_stint: number) => number(runVerb(enough, long, { ...carry, shots_per_stint }).rows[0]!, "more_shots");
  expect(needed(3)).toBeLessThan(needed(8));
  expect(needed(8)).toBe(number(runVerb(enough, long, carry).rows[0]!, "more_shots"));
  checkSentence(long, new RegExp(`^More and shorter stints are better: in stints of 3 about ${needed(3)} more shots with each would do for Heron and Wren, in stints of 8 about ${needed(8)}\\.$`));
  checkSentence(shotTable(rotation({ heads: ["Wren", "Heron"], passes: 8 })), /^Stints of 3 are short already/);
});

test("shorter stints that save no shots are not called better", () => {
  let saving = 0;
  for (let seed = 1; seed <= 30; seed++) {
    const said = runVerb(enough, shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 3, shotsInStint: 6, stintSd: 0, shotSd: 3.5, seed })), { ...carry, margin: yards(3.3) }).report.sentences.join(" ");
    const shots = /in stints of 3 about (\d+) more shots with each would do for \w+ and \w+, in stints of 6 about (\d+)\./.exec(said);
    if (shots === null) continue;
    saving++;
    expect(Number(shots[1])).toBeLessThan(Number(shots[2]));
  }
  expect(saving).toBeGreaterThan(0);
});

test("three heads at once need more than two", () => {
  const three = rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8, seed: 4 });
  const row = runVerb(enough, shotTable(three), carry).rows[0]!;
  const two = runVerb(enough, shotTable(three.filter((shot) => shot.head !== "Plover")), carry).rows[0]!;
  expect(number(row, "detectable") / number(row, "standard_error")).toBeGreaterThan(number(two, "detectable") / number(two, "standard_error"));
});

test("a verdict needs eight stints in all, however little the shots scatter", () => {
  const few = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 3, stintSd: 0.1, shotSd: 0.1 }));
  expect(runVerb(enough, few, carry).rows[0]).toMatchObject({ more_shots: 3 });
});

test("heads hit in one go: no plan, and how to hit them", () => {
  const once = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 1, shotsInStint: 20 }));
  expect(runVerb(enough, once, carry).rows[0]).toMatchObject({ detectable: null, power_now: null, more_shots: null, n: 20, stints: 1 });
  checkSentence(once, /^Heron and Wren: hit in one go, so that it is not known how much stints differ, .* To plan, have each head hit in turn, three shots or so with each, at least six times through\.$/);
});

test("order unknown, too few, no value, different days, different times, no scatter: no plan, each with its sentence", () => {
  const two = rotation({ heads: ["Wren", "Heron"], passes: 8 });
  checkSentence(shotTable(two, [facts({ orderKnown: false })]), /^Order unknown: how much stints differ is not known/);
  expect(runVerb(enough, shotTable(two, [facts({ orderKnown: false })]), carry).rows[0]).toMatchObject({ stints: null, n: 24, more_shots: null });
  checkSentence(shotTable(two.filter((shot) => shot.head === "Wren" || shot.stint <= 2)), /^Heron and Wren: 3 and 24 values of carry are too few to plan from/);
  checkSentence(shotTable(two.map((shot) => (shot.head === "Wren" ? { ...shot, carry: null } : shot))), /^Wren has no value of carry: nothing to plan from\.$/);
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  checkSentence(shotTable(two.map((shot) => ({ ...shot, session: shot.head === "Wren" ? "s1" : "s2" })), days), /have no session in common/);
  const late = "WPWPWPWPHPHPHPHP".split("").flatMap((head, i) => [1, 2, 3].map((j): Shot => ({ head, stint: i + 1, carry: 150 + ((i * 7 + j * 3) % 5) })));
  checkSentence(shotTable(late), /^H and W were hit at different times of the session: more shots hit so would not tell a difference from drift\./);
  checkSentence(shotTable(two.map((shot) => ({ ...shot, carry: 150 }))), /nothing scatters, and there is nothing to plan from\.$/);
});

/** Four hits with each of two groups in turn, with strikes, and a column of the groups' own. */
function grouped(by: string, groups: readonly [string, string]): Table {
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 8, shotsInStint: 4, stintSd: 2, shotSd: 5, seed: 5 });
  const normal = normals(3);
  return shotTable(shots, [facts()], [
    textColumn(by, shots.map(({ stint }) => groups[stint % 2]!), "stated"),
    numberColumn("strike_x", shots.map(() => 6 * normal()), "mm", "measured"),
    numberColumn("strike_y", shots.map(() => 4 * normal()), "mm", "measured"),
  ]);
}

test("zones, and where the face was hit itself, are not planned at the same strikes", () => {
  const said = (table: Table, options: object): string => runVerb(enough, table, { ...carry, ...options }).report.sentences.join("\n");
  expect(said(grouped("tee", ["low", "high"]), { by: "tee" })).toMatch(/^At the same strikes/m);
  expect(said(grouped("zone", ["toe", "centre"]), { by: "zone" })).not.toMatch(/same strikes/);
  for (const of of ["strike_x", "strike_y"]) expect(said(grouped("tee", ["low", "high"]), { of, margin: { value: 3, unit: "mm" } })).not.toMatch(/same strikes/);
});

test("groups keep their names as written", () => {
  expect(runVerb(enough, grouped("tee", ["low", "high"]), { ...carry, by: "tee" }).report.sentences[0]).toMatch(/^(low and high|high and low): /);
});

test("with the strikes known, what the same strikes take is said as well", () => {
  const normal = normals(8);
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 10, shotsInStint: 4, stintSd: 1, shotSd: 3, seed: 6 });
  const strikes = shots.map(() => ({ x: 8 * normal(), y: 5 * normal() }));
  // Off-centre strikes cost carry, so that part of the scatter goes with where the face was hit.
  const struck = shots.map((shot, i) => ({ ...shot, carry: shot.carry! - 0.05 * strikes[i]!.x ** 2 - 0.08 * strikes[i]!.y ** 2 }));
  const millimetres = (name: string, values: readonly number[]) => numberColumn(name, values, "mm", "measured");
  const table = shotTable(struck, undefined, [millimetres("strike_x", strikes.map(({ x }) => x)), millimetres("strike_y", strikes.map(({ y }) => y))]);
  const { sentences } = runVerb(enough, table, carry).report;
  const said = sentences.find((sentence) => sentence.startsWith("At the same strikes"))!;
  const more = Number(/about (\d+) more shots/.exec(said)?.[1] ?? 0);
  expect(more).toBeLessThan(number(runVerb(enough, table, carry).rows[0]!, "more_shots"));
  expect(runVerb(enough, usual, carry).report.sentences.join(" ")).not.toMatch(/same strikes/);
});

test("what cannot be asked is refused", () => {
  const one = shotTable(rotation({ heads: ["Wren"], passes: 8 }));
  expect(refusal(enough, one, carry)).toEqual(["trade.one-group"]);
  expect(refusal(enough, usual, { of: "carry", margin: { value: 3, unit: "mph" } })).toEqual(["trade.margin-unit"]);
  expect(refusal(enough, usual, { of: "carry", margin: yards(0) })).toEqual(["trade.bad-margin"]);
  expect(inferredProblems(enough, { ...usual, groupedBy: ["head"] }, carry)).toEqual(["trade.grouped"]);
});

test("the margin is the notebook's, else the column's default, and it is said which", () => {
  expect(runVerb(enough, usual, { of: "carry" }, { margins: { carry: yards(5) } }).rows[0]!["margin"]).toBe(5);
  expect(runVerb(enough, usual, { of: "carry" }).rows[0]!["margin"]).toBe(3);
  const { sentences } = runVerb(enough, usual, { of: "carry" }).report;
  expect(sentences).toContain("The margin of 3 yd is the default for carry.");
  expect(sentences.at(-1)).toBe("One tester, one session.");
});

test("the picture shows the pair that needs most, and says when no pair has a plan", () => {
  const kind = chartKinds.find((each) => each.name === "enough")!;
  const shots = rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8, seed: 4 });
  const three = runVerb(enough, shotTable(shots.filter(({ head, stint }) => head !== "Plover" || stint < 17)), carry);
  const row = [...three.rows].sort((a, b) => number(b, "shots_to_show") - number(a, "shots_to_show") || number(b, "standard_error") - number(a, "standard_error"))[0]!;
  const chart = kind.build(three.table, {}, context());
  expect(chart.type === "chart" && chart.description).toMatch(new RegExp(`^How many shots are enough\\? ${row["head"] as string} and ${row["against"] as string}, the pair that needs most, carry\\.`));
  expect(three.report.picture?.description).toBe(chart.type === "chart" ? chart.description : "");
  const once = runVerb(enough, shotTable(rotation({ heads: ["Wren", "Heron"], passes: 1, shotsInStint: 20 })), carry);
  expect(once.report.picture?.description).toMatch(/No pair can be planned for from these shots\./);
  const empty = makeTable(three.table.columns.map((column) => ({ ...column, ...(column.kind === "text" ? { codes: new Int32Array(0) } : { values: new Float64Array(0) }) }) as typeof column), 0);
  const none = kind.build(empty, {}, context());
  expect(none.type === "chart" && none.description).toMatch(/There is no pair to plan for\./);
});
