import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { printNotebook } from "../../core/notebook/print-notebook";
import { formatNumber } from "../../core/present/format-number";
import type { CellOutcome, RunOutcome } from "../../core/run-notebook";
import { createEngine } from "../../core/run-notebook";
import type { Table } from "../../core/table/table";
import { findColumn, valueAt } from "../../core/table/table";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../../server/node-files";

const folder = path.resolve(import.meta.dirname, "..", "..", "sample-notebooks");

function textOf(name: string): string {
  return readFileSync(path.join(folder, `${name}.shots.md`), "utf8");
}

async function run(name: string): Promise<RunOutcome> {
  const files = nodeFiles(folder, defaultLimits.fileBytes);
  const engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: () => 0 });
  return engine.run(parseNotebook(textOf(name)).value, `${name}.shots.md`);
}

const irons = await run("three-irons");
const sessions = await run("two-sessions");
const measured = await run("what-was-measured");

/** The table that a cell gave. */
function table(outcome: RunOutcome, name: string): Table {
  const value = outcome.cells.find((cell) => cell.name === name)?.value;
  if (value?.type !== "table") throw new Error(`${name} gave no table`);
  return value;
}

/** The value of a column in the row whose other columns are as said. */
function look(found: Table, column: string, where: Record<string, string | number>): unknown {
  const rows = Array.from({ length: found.rowCount }, (_, row) => row);
  const row = rows.find((each) => Object.entries(where).every(([name, value]) => valueAt(findColumn(found, name)!, each) === value));
  return row === undefined ? undefined : valueAt(findColumn(found, column)!, row);
}

test("all notebooks are read without a problem and printed as they stand", () => {
  for (const name of ["three-irons", "two-sessions", "what-was-measured"]) {
    const { value, problems } = parseNotebook(textOf(name));
    expect(problems, name).toEqual([]);
    expect(printNotebook(value)).toBe(textOf(name));
  }
});

test("every cell runs, and nothing worse than a remark is said", () => {
  const worse = ({ problems }: Pick<CellOutcome, "problems">): string[] => problems.filter(({ severity }) => severity !== "info").map(({ message }) => message);
  for (const outcome of [irons, sessions, measured]) {
    expect(worse(outcome)).toEqual([]);
    for (const cell of outcome.cells) {
      expect(worse(cell), cell.name).toEqual([]);
      expect(cell.status, cell.name).toBe("ok");
    }
  }
  expect(irons.cells).toHaveLength(18);
  expect(sessions.cells).toHaveLength(16);
  expect(measured.cells).toHaveLength(34);
});

/** The three pairs of heads, in the order of a comparison. */
const pairs = [["Heron", "Wren"], ["Plover", "Wren"], ["Plover", "Heron"]] as const;

/** A column of the rows of the three pairs in a cell of three-irons. */
function ofPairs(cell: string, column: string, where: Record<string, string> = {}): readonly unknown[] {
  return pairs.map(([head, against]) => look(table(irons, cell), column, { head, against, ...where }));
}

/** What a verb said of a cell's table. */
function sentences(outcome: RunOutcome, name: string): string {
  return table(outcome, name).report!.sentences.join("\n");
}

const average = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** All values of a column that are not missing, of the rows for which `keep` holds. */
function values(found: Table, column: string, keep: (row: number) => boolean): readonly number[] {
  const numbers = findColumn(found, column)!;
  return Array.from({ length: found.rowCount }, (_, row) => row).filter(keep).flatMap((row) => (valueAt(numbers, row) as number | null) ?? []);
}

test("three-irons: where the face was hit, and what averages do not say", () => {
  const stock = table(irons, "stock");
  const across = (head: string): number => average(values(stock, "strike_x", (row) => valueAt(findColumn(stock, "head")!, row) === head));
  expect(["Wren", "Heron", "Plover"].map((head) => Math.round(Math.abs(across(head)))), "in the middle, about 4 mm, about 6 mm").toEqual([0, 4, 6]);
  const averages = table(irons, "averages");
  const order = Array.from({ length: 3 }, (_, row) => valueAt(findColumn(averages, "head")!, row));
  expect(order, "Plover first, Wren second, Heron last").toEqual(["Plover", "Wren", "Heron"]);
  const carry = (head: string, column: string): number => look(table(irons, "card"), column, { of: "carry", head }) as number;
  expect(Math.round(carry("Wren", "typical") - carry("Heron", "typical")), "about 2 yards").toBe(2);
  expect(["Wren", "Heron", "Plover"].map((head) => Math.round(carry(head, "sd"))), "single shots lie 5 to 7 yards apart").toEqual([5, 6, 7]);
  expect(Math.round(carry("Wren", "centred") - carry("Heron", "centred")), "from the centre about a yard").toBe(1);
  expect(table(irons, "card").rowCount, "two dozen averages and a dozen shares").toBe(36);
});

test("three-irons: did the tester change?", () => {
  const stock = table(irons, "stock");
  const pass = findColumn(stock, "pass")!;
  const half = (late: boolean): number => average(values(stock, "club_speed", (row) => (valueAt(pass, row) as number) >= 6 === late));
  expect(half(false) - half(true), "about 1 mph slower").toBeCloseTo(1, 0);
  expect(sentences(irons, "tester"), "so does the step").toMatch(/Club speed: a step of −1\.0/u);
  for (const [of, margin] of [["club_speed", 1], ["ball_speed", 1], ["carry", 3]] as const) {
    const change = (column: string): unknown => look(table(irons, "tester"), column, { of });
    expect([change("verdict"), change("alike")]).toEqual(["undecided", "not seen to differ"]);
    expect(change("to"), "the intervals hold no change").toBeGreaterThan(0);
    expect(change("from"), "and one that matters").toBeLessThan(-margin);
  }
});

test("three-irons: head against head, as struck and at the same strikes", () => {
  for (const cell of ["carry_gap", "speed_gap"]) {
    expect(ofPairs(cell, "verdict", { strikes: "as struck" })).toEqual(["undecided", "different", "different by more than the margin"]);
    expect(ofPairs(cell, "verdict", { strikes: "same" })).toEqual(["undecided", "undecided", "different by more than the margin"]);
    expect(sentences(irons, cell)).toMatch(/Undecided, since it depends on the strike model: Plover − Wren/u);
    const [struck, same] = ["as struck", "same"].map((strikes) => ofPairs(cell, "difference", { strikes }) as number[]);
    expect(struck![0], "as struck, Wren is ahead of Heron").toBeLessThan(0);
    expect(same![0], "at the same strikes it is not").toBeGreaterThan(0);
    for (const pair of [1, 2]) expect(same![pair], "Plover's lead is larger at the same strikes").toBeGreaterThan(struck![pair]!);
    for (const strikes of ["as struck", "same"]) expect(ofPairs(cell, "from", { strikes })[1], "both intervals leave out zero").toBeGreaterThan(0);
  }
  expect(Math.round((ofPairs("carry_gap", "difference", { strikes: "as struck" }) as number[])[0]!), "about 2 yards ahead").toBe(-2);
});

test("three-irons: scatter, losses off the centre and curve are undecided, as the prose says", () => {
  for (const of of ["carry", "offline", "carry and offline"]) expect(ofPairs("tightness", "verdict", { of })).toEqual(["undecided", "undecided", "undecided"]);
  for (const ratio of [...ofPairs("tightness", "detectable", { of: "carry" }), ...ofPairs("tightness", "detectable", { of: "offline" })]) {
    expect(ratio, "ratios below about 2.1").toBeGreaterThan(2.05);
    expect(ratio, "ratios below about 2.1").toBeLessThan(2.2);
  }
  expect(look(table(irons, "tightness"), "sd_against", { of: "carry", against: "Wren" }), "Wren's carries scatter least").toBeLessThan(
    Math.min(...(ofPairs("tightness", "sd", { of: "carry" }) as number[])),
  );
  expect(look(table(irons, "tightness"), "sd", { of: "offline", head: "Heron" }), "Heron's directions").toBeLessThan(
    look(table(irons, "tightness"), "sd_against", { of: "offline", against: "Wren" }) as number,
  );

  expect(ofPairs("off_centre", "verdict", { place: "common strikes" })).toEqual(["undecided", "undecided", "undecided"]);
  const loss = (head: string, column: string): number => look(table(irons, "off_centre"), column, { head, place: "common strikes" }) as number;
  const others = [loss("Heron", "loss"), loss("Plover", "loss")];
  expect(loss("Wren", "loss"), "Wren loses least").toBeLessThan(Math.min(...others));
  expect(loss("Wren", "from"), "from next to nothing").toBeLessThan(0.3);
  expect(loss("Wren", "to"), "to more than what the others lose").toBeGreaterThan(Math.max(...others));

  expect(ofPairs("curve", "verdict")).toEqual(["undecided", "undecided", "undecided"]);
  for (const head of ["Wren", "Heron", "Plover"]) {
    const slope = (column: string): number => look(table(irons, "curve"), column, { head }) as number;
    expect(slope("slope"), "about 1 degree").toBeCloseTo(1, 0);
    const wanted = head === "Plover" ? 2 / 3 : 1 / 3;
    expect(Math.abs((slope("to") - slope("from")) / 2 - wanted), "give or take a third, or two thirds").toBeLessThan(0.05);
    expect(Math.abs(slope("reliability") - 0.5), "about half may be reading error").toBeLessThan(0.15);
  }
  expect(ofPairs("curve", "difference")[1], "with shot 75").toBeLessThan(0);
  const without = irons.cells.find((cell) => cell.name === "curve_without_75")?.value;
  expect(without, "one doubtful reading turns the sign, and not the verdict").toMatchObject({ type: "text", markdown: expect.stringMatching(/would be 0\.\d+ \(−.*\): \*undecided\*/u) });
  for (const more of ofPairs("curve", "more_shots")) expect(more, "another thousand would not do").toBeGreaterThan(1000);
});

test("three-irons: what can be said, with the numbers that the cells gave", () => {
  const value = irons.cells.find((cell) => cell.name === "what_can_be_said")?.value;
  if (value?.type !== "text") throw new Error("what_can_be_said gave no text");
  const line = (question: string): string => value.markdown.split("\n").find((each) => each.startsWith(`- ${question}`)) ?? "no such line";
  const shown = (cell: string, pair: number): string => formatNumber(ofPairs(cell, "difference", { strikes: "same" })[pair] as number, 1);
  expect(line("Carry, Plover less Heron")).toContain(`: ${shown("carry_gap", 2)} yd (`);
  expect(line("Carry, Plover less Wren")).toContain(`: ${shown("carry_gap", 1)} yd (`);
  expect(line("Carry, Heron less Wren")).toContain(`: ${shown("carry_gap", 0)} yd (`);
  for (const question of ["Carry, Plover less Heron", "Ball speed, the same"]) expect(line(question)).toMatch(/\*\*different by more than the margin\*\*\.$/u);
  for (const question of ["Carry, Plover less Wren", "Carry, Heron less Wren", "Scatter of carry", "Ball speed lost", "Degrees of spin axis", "Club speed from"]) {
    expect(line(question)).toMatch(/\*\*undecided\*\*\.$/u);
  }
  expect(value.markdown).toContain(`About ${Math.max(...(ofPairs("plan", "more_shots") as number[]))} more shots`);
});

test("the prose of two-sessions says what its cells say", () => {
  const both = table(sessions, "both_heads");
  const lost = ["Heron", "Plover"].map(
    (head) => (look(both, "carry", { head, session: "spring-bay-1" }) as number) - (look(both, "carry", { head, session: "autumn-range-1" }) as number),
  );
  expect(lost.map(Math.round), "Heron lost much the same").toEqual([6, 5]);
  const text = sessions.cells.find((cell) => cell.name === "both_days")?.value;
  for (const cell of ["spring_gap", "autumn_gap"]) {
    for (const strikes of ["as struck", "same"]) {
      const gap = (column: string): unknown => look(table(sessions, cell), column, { head: "Plover", strikes });
      expect(gap("verdict"), "beyond the margin of 3 metres on both days").toBe("different by more than the margin");
      expect(text).toMatchObject({ type: "text", markdown: expect.stringContaining(`${formatNumber(gap("difference") as number, 1)} m in ${cell.replace("_gap", "")}, different by more than the margin`) });
    }
  }
  const doubtful = table(sessions, "doubtful");
  expect([look(doubtful, "spin_rate", { shot: 26 }), look(doubtful, "speed_ratio", { shot: 41 })]).toEqual([null, expect.closeTo(1.6, 2)]);
});

/** The shots of the rows of a table for which `keep` holds, each once. */
function shotsOf(found: Table, keep: (value: (column: string) => unknown) => boolean): readonly number[] {
  const rows = Array.from({ length: found.rowCount }, (_, row) => row).filter((row) => keep((column) => valueAt(findColumn(found, column)!, row)));
  return [...new Set(rows.map((row) => valueAt(findColumn(found, "shot")!, row) as number))];
}

/** The words of a text cell. */
function words(outcome: RunOutcome, name: string): string {
  const value = outcome.cells.find((cell) => cell.name === name)?.value;
  if (value?.type !== "text") throw new Error(`${name} gave no text`);
  return value.markdown;
}

test("what-was-measured: every planted misread is asked about, and little else", () => {
  const doubts = table(measured, "doubts");
  const repeated = (value: (column: string) => unknown): boolean => value("rule") === "repeated row";
  const of = (column: string): readonly number[] => shotsOf(doubts, (value) => value("column") === column && !repeated(value) && value("rule") !== "part of a session");
  expect(of("club_speed"), "24 and 85 were planted, 19 and 38 are the widest of the usual scatter").toEqual([19, 24, 38, 85]);
  expect(of("spin_rate")).toEqual([39, 69]);
  expect(of("start_direction")).toEqual([34]);
  expect(shotsOf(doubts, repeated)).toEqual([79]);
  const stretch = shotsOf(doubts, (value) => value("rule") === "part of a session" && value("column") === "face_angle");
  expect([stretch[0], stretch.at(-1), stretch.length], "the club of shot 58 was not seen").toEqual([46, 75, 29]);
  expect(doubts.rowCount, "a planted misread has a row, and nothing else but 19 and 38").toBe(7 + 29 + shotsOf(doubts, repeated).length * 17);
});

test("what-was-measured: a session whose shots were all left out has nothing to say of its readings", () => {
  expect(sentences(measured, "doubts")).toMatch(/more closed/u);
  expect(sentences(measured, "doubts")).not.toMatch(/spring-bay-1/u);
});

test("what-was-measured: poor strikes are no misreads", () => {
  expect(table(measured, "poor").rowCount).toBeGreaterThan(10);
  expect(words(measured, "poor_doubted")).toMatch(/these 13 shots, 0 have/u);
});

test("what-was-measured: misreads cost a verdict, hide a tester and move a verdict", () => {
  const pair = (cell: string, strikes: string): unknown => look(table(measured, cell), "verdict", { head: "Plover", against: "Heron", strikes });
  expect([pair("spin_with", "same"), pair("spin_without", "same")]).toEqual(["undecided", "different"]);
  expect(sentences(measured, "spin_with")).toMatch(/Without the 3 doubted values of spin rate .* different instead of undecided/u);
  const change = (cell: string): number => look(table(measured, cell), "change", { of: "club_speed" }) as number;
  expect(Math.abs(change("tester_with")), "a swing that seems not to change").toBeLessThan(0.3);
  expect(change("tester_without")).toBeLessThan(-1);
  expect([pair("spring_gap", "as struck"), pair("spring_put_back", "as struck")]).toEqual(["different by more than the margin", "different"]);
});

test("what-was-measured: the summer's gain was the air's", () => {
  const gain = (cell: string, head: string): number =>
    (look(table(measured, cell), "carry", { head, session: "summer-net-1" }) as number) - (look(table(measured, cell), "carry", { head, session: "spring-bay-1" }) as number);
  for (const head of ["Wren", "Heron", "Plover"]) expect(gain("carry_before", head), "all three carry longer").toBeGreaterThan(7);
  expect(Math.abs(gain("carry_after", "Heron")), "and Heron no longer at the sea").toBeLessThan(1);
  for (const head of ["Wren", "Plover"]) expect(gain("carry_after", head), "no head has become longer").toBeLessThan(3);
  expect(sentences(measured, "both_as_played")).toMatch(/of different air, and nothing was moved/u);
  expect(sentences(measured, "both_at_sea_level")).not.toMatch(/nothing was moved/u);
});

test("what-was-measured: what the loft may explain, and what one launch does in other air", () => {
  for (const of of ["carry", "ball_speed"]) expect(look(table(measured, "loft"), "verdict", { head: "Plover", against: "Heron", of })).toBe("loft may explain it");
  expect(look(table(measured, "loft"), "left_over_from", { head: "Plover", against: "Heron", of: "carry" }), "its interval holds zero").toBeLessThan(0);
  expect(words(measured, "one_shot")).toMatch(/^A ball at 115 mph, 19 degrees and 6700 rpm carries 155\.2 yd at the sea and 167\.8 yd/u);
  const said = words(measured, "what_can_be_said");
  for (const word of ["Misread", "Air", "Head, with its loft", "Loft", "Strike", "Tester"]) expect(said).toContain(`- **${word}**`);
  expect(said).toMatch(/Plover less Heron is .* over both days in the same air: \*\*different by more than the margin\*\*/u);
});
