import { expect, test } from "vitest";
import { chartSvg } from "../../../core/chart/draw-chart";
import { lightTheme } from "../../../core/chart/themes";
import { defaultLimits } from "../../../core/limits";
import { presentChart, presentResult } from "../../../core/present/present-result";
import type { TablePayload } from "../../../core/present/payload";
import { shotPicker } from "../../../core/present/pick-shots";
import { doubtsOf } from "../../../core/quality/doubts";
import type { SessionFacts } from "../../../core/session/session-facts";
import { findColumn, makeTable, numberColumn, summaryOf, takeRows, textColumn } from "../../../core/table/table";
import type { Table } from "../../../core/table/table";
import { chartKinds } from "../../../core/chart/chart-kinds";
import { suspects } from "../../../core/verbs/suspects";
import type { ReadingsPlan } from "../../../scripts/misreads/invent-readings";
import { inventReadings } from "../../../scripts/misreads/invent-readings";
import { context, refusal, runVerb } from "./trade-verbs";

const from31to60 = Array.from({ length: 30 }, (_, i) => 31 + i);
const faceClosed = { column: "face_angle", shots: from31to60, misread: (value: number) => value - 3.5 } as const;
const slowClub = { column: "club_speed", shots: [12, 70], misread: (value: number) => value * 0.85 } as const;
const halvedSpin = { column: "spin_rate", shots: [20], misread: (value: number) => value / 2 } as const;

const shotsOf = (plan: Partial<ReadingsPlan> = {}): Table => inventReadings({ seed: 5, shots: 90, stint: 5, ...plan }).table;
const misread = shotsOf({ faults: [faceClosed, slowClub, halvedSpin] });
const look = (table: Table, values = {}) => runVerb(suspects, table, values);

test("one row a doubted value: what was recorded, what is implied, the tolerance, the unit and the evidence", () => {
  const { rows } = look(misread, { of: "spin_rate", doubt: "strong" });
  expect(rows).toHaveLength(1);
  expect(rows[0]).toMatchObject({ session: "invented", shot: 20, column: "spin_rate", unit: "rpm", rule: "halved or doubled spin", state: "suspect", doubt: "strong" });
  const { recorded, implied, tolerance, evidence } = rows[0]!;
  expect(recorded).toBe(misread.columns.find(({ name }) => name === "spin_rate")!.kind === "number" ? (findColumn(misread, "spin_rate") as { values: Float64Array }).values[19] : null);
  expect(Math.abs(Number(implied) / Number(recorded) - 2)).toBeLessThan(0.3);
  expect(Number(tolerance)).toBeGreaterThan(0);
  expect(evidence).toContain("rpm");
});

test("the answer counts values and shots, by column and by head", () => {
  const { report, rows } = look(misread, { of: ["club_speed", "spin_rate"], doubt: "strong" });
  expect(rows.map(({ shot, column }) => [shot, column])).toEqual([[12, "club_speed"], [20, "spin_rate"], [70, "club_speed"]]);
  expect(report.sentences[0]).toMatch(/^3 values are strongly doubted, of 3 of 90 shots: club speed 2 \(\w+ 1 of 30 and \w+ 1 of 30\); spin rate 1 \(\w+ 1 of 30\)\.$/);
  expect(report.answer).toBe(1);
});

test("columns with one doubted value each are told together when they are many", () => {
  const repeated = shotsOf();
  const rows = Int32Array.from({ length: 90 }, (_, i) => (i === 40 ? 39 : i));
  const identity = ["session", "shot", "head", "player", "stint", "intent"];
  const table = { ...repeated, columns: repeated.columns.map((column) => (identity.includes(column.name) ? column : takeRows(column, rows))) };
  expect(look(table).report.sentences[0]).toMatch(/: 1 each of .*launch angle.* and flight time\.$/);
});

test("a part of a session is in the answer, with bias, interval and shots, and that it is relative", () => {
  const { report, rows } = look(misread);
  expect(report.sentences[1]).toMatch(/^Face angle reads about 3\.\d° more closed \(.*\) in shots 3\d to 6\d than elsewhere\. Which of the two is right cannot be told/);
  expect(report.answer).toBe(2);
  expect(rows.filter(({ rule }) => rule === "part of a session").length).toBeGreaterThan(15);
  expect(look(misread, { of: "club_speed" }).report.sentences.join(" ")).not.toContain("Face angle");
});

test("nothing is set aside by it, a person does so, and a poor strike is no misread", () => {
  const before = JSON.stringify(misread.columns.map((column) => ("values" in column ? [...column.values] : [...column.codes])));
  const said = look(misread).report.sentences.join(" ");
  expect(said).toContain("Nothing was set aside by this");
  expect(said).toContain("fairstrike suspects invented.session.yaml --write");
  expect(said).toContain("A poor strike is no misread");
  expect(JSON.stringify(misread.columns.map((column) => ("values" in column ? [...column.values] : [...column.codes])))).toBe(before);
});

test("heads whose values are doubted unlike are warned of", () => {
  const head = findColumn(misread, "head") as { codes: Int32Array; labels: readonly string[] };
  const ofWren = Array.from(head.codes.keys()).filter((row) => head.labels[head.codes[row]!] === "Wren").map((row) => row + 1).slice(0, 9);
  const { report } = look(shotsOf({ faults: [{ ...slowClub, shots: ofWren }] }));
  expect(report.sentences.join(" ")).toMatch(/Club speed is doubted in \d+ % of the shots of Wren and \d+ % of those of \w+, more than 10 points apart/);
});

test("no doubt is said with what was looked at", () => {
  const { report, rows, table } = look(shotsOf(), { doubt: "strong", of: ["spin_rate", "carry"] });
  expect(rows).toEqual([]);
  expect(report.sentences[0]).toBe("No value is strongly doubted among 180 values of 90 shots: spin rate and carry were looked at.");
  expect(table.rowCount).toBe(0);
  expect(report.picture!.description).toContain("No value is doubted.");
});

test("a column that no rule doubts is said to be one", () => {
  const text = look(misread, { of: "stint" }).report.sentences.join(" ");
  expect(text).toContain("Nothing was looked at");
  expect(text).toContain("No rule doubts stint.");
});

/** The table with some values missing because a person set them aside. */
function setAside(table: Table, values: readonly { readonly shot: number; readonly column: "club_speed" | "carry"; readonly because: string }[]): Table {
  const columns = table.columns.map((column) =>
    column.kind === "number" ? { ...column, values: column.values.map((value, row) => (values.some((each) => each.column === column.name && each.shot === row + 1) ? Number.NaN : value)) } : column,
  );
  const facts: SessionFacts = {
    ...table.sessions[0]!,
    setAsideValues: values.map(({ shot, column, because }) => ({ shot, head: "Wren", column, recorded: (findColumn(table, column) as { values: Float64Array }).values[shot - 1]!, unit: column === "carry" ? "yd" : "mph", because })),
    putBack: values.map(({ shot, column }) => ({ shot, column, value: (findColumn(table, column) as { values: Float64Array }).values[shot - 1]!, unit: column === "carry" ? "yd" : "mph" })),
  };
  return { ...table, columns, sessions: [facts] };
}

test("values that a person has set aside are listed as such, with the reason, whether or not a rule doubts them", () => {
  const aside = setAside(misread, [
    { shot: 12, column: "club_speed", because: "the ratio is beyond what this loft allows." },
    { shot: 50, column: "carry", because: "hit a bird" },
  ]);
  const { rows, report } = look(aside, { of: ["club_speed", "carry"], doubt: "strong" });
  const recorded = (findColumn(misread, "club_speed") as { values: Float64Array }).values[11];
  expect(rows.map(({ shot, column, state }) => [shot, column, state])).toEqual([[12, "club_speed", "set aside"], [50, "carry", "set aside"], [70, "club_speed", "suspect"]]);
  expect(rows[0]).toMatchObject({ recorded, unit: "mph" });
  expect(rows[0]!["rule"]).not.toBeNull();
  expect(rows[0]!["evidence"]).toMatch(/^Set aside by a person: the ratio is beyond what this loft allows\. Club speed/);
  expect(rows[1]).toMatchObject({ rule: null, implied: null, evidence: "Set aside by a person: hit a bird. No rule doubts it." });
  expect(report.sentences.join(" ")).toContain("2 values are set aside already, 1 of which no rule doubts.");
});

test("a set-aside value of a shot that was filtered out is not listed", () => {
  const aside = setAside(misread, [{ shot: 12, column: "club_speed", because: "odd" }]);
  const rows = Int32Array.from({ length: 60 }, (_, i) => i + 30);
  const filtered = { ...aside, columns: aside.columns.map((column) => takeRows(column, rows)), rowCount: 60 };
  expect(look(filtered, { of: "club_speed", doubt: "strong" }).rows.map(({ shot }) => shot)).toEqual([70]);
});

test("several sessions are judged each by itself, and say which", () => {
  const other = shotsOf({ seed: 6, facts: { name: "second", file: "second.session.yaml" }, faults: [slowClub] });
  const both = makeTable(
    misread.columns.map((column) => {
      const below = findColumn(other, column.name)!;
      if (column.kind === "number" && below.kind === "number") return { ...column, values: Float64Array.from([...column.values, ...below.values]) };
      const texts = (each: typeof column) => (each.kind === "text" ? Array.from(each.codes, (code) => each.labels[code] ?? null) : []);
      return textColumn(column.name, [...texts(column), ...texts(below)], column.origin);
    }),
    180,
    { sessions: [...misread.sessions, ...other.sessions] },
  );
  const { rows, report } = look(both, { of: "club_speed", doubt: "strong" });
  expect(rows.map(({ session, shot }) => [session, shot])).toEqual([["invented", 12], ["invented", 70], ["second", 12], ["second", 70]]);
  expect(report.sentences.join(" ")).toContain("fairstrike suspects SESSION --write");
  expect(look(both).report.sentences[1]).toMatch(/^invented: Face angle reads/);
  const without = { ...both, columns: both.columns.filter(({ name }) => name !== "session") };
  expect(refusal(suspects, without, {})).toEqual(["trade.no-session-column"]);
});

test("tables that are no shots are refused", () => {
  expect(refusal(suspects, makeTable(misread.columns, 90, summaryOf(misread)), {})).toEqual(["trade.not-shots"]);
  expect(refusal(suspects, { ...misread, sessions: [] }, {})).toEqual(["trade.without-session"]);
  expect(refusal(suspects, { ...misread, columns: misread.columns.filter(({ name }) => name !== "shot") }, {})).toEqual(["trade.without-shot-numbers"]);
  expect(refusal(suspects, look(misread).table, {})).toEqual(["trade.not-shots"]);
  const twice = { ...misread, columns: misread.columns.map((column) => takeRows(column, Int32Array.of(0, 1, 1))), rowCount: 3 };
  expect(refusal(suspects, twice, {})).toEqual(["trade.repeated-shots"]);
});

test("the method names the rules asked, and counts those for which columns are missing", () => {
  const few = { ...misread, columns: misread.columns.filter(({ name }) => !["spin_axis", "face_angle", "club_path"].includes(name)) };
  const { method } = look(few).report;
  expect(method).toMatch(/^Rules asked: .*speed ratio of the head/);
  expect(method).not.toContain("face share");
  expect(method).toMatch(/\d+ not asked, since columns that they need are not here/);
});

test("numbers of one column have its decimals, and the editor can choose the rows to set aside", () => {
  const payload = presentResult(look(misread).table, defaultLimits) as unknown as readonly TablePayload[] | TablePayload;
  const table = (Array.isArray(payload) ? payload : [payload]).find((each) => each.type === "table") as TablePayload;
  const picker = shotPicker(table)!;
  expect(picker.choices).toEqual(["doubted", "all"]);
  const row = table.rows.find((each) => each.includes("spin_rate"))!;
  expect(picker.requests([row], "doubted", "odd")).toEqual([{ file: "invented.session.yaml", requests: [{ shots: [20], columns: ["spin_rate"], because: "odd" }] }]);
});

test("the picture draws the strongest doubts with what single readings imply, and the course of a column that is off", async () => {
  const { picture } = look(misread).report;
  expect(picture!.description).toMatch(/Shot 20, \w+: spin rate \d+ rpm; the others imply/);
  expect(picture!.description).toContain("Face angle reads about");
  const svg = await chartSvg(presentChart(picture!, defaultLimits).spec, lightTheme, 300);
  expect(svg).toContain("Face angle off in shots 31 to 6");
  expect(svg).not.toContain("NaN");
  expect(svg).not.toContain("undefined");
});

test("chart.suspects draws the table by itself, and says where there is nothing", async () => {
  const kind = chartKinds.find(({ name }) => name === "suspects")!;
  const table = look(misread).table;
  const drawn = kind.build(table, {}, context());
  if (drawn.type === "refused") throw new Error("refused");
  expect(drawn.description).toMatch(/^Doubtful values and what other readings imply: 12 values\./);
  expect(await chartSvg(presentChart(drawn, defaultLimits).spec, lightTheme, 640)).toContain("Shot 20");
  const none = kind.build({ ...table, columns: table.columns.map((column) => takeRows(column, new Int32Array())), rowCount: 0 }, {}, context());
  expect(none.type === "chart" && none.description).toContain("No value is doubted.");
});

test("a computed column called shot is not taken for the numbers of shots", () => {
  const own = { ...misread, columns: misread.columns.map((column) => (column.name === "shot" ? numberColumn("shot", Array.from({ length: 90 }, (_, i) => i), null) : column)) };
  expect(refusal(suspects, own, {})).toEqual(["trade.without-shot-numbers"]);
});

test("what the verb lists is what the rules find", () => {
  const { suspects: found } = doubtsOf(misread, { checkpoint: () => undefined, seed: 1 });
  expect(look(misread).rows.map(({ shot, column }) => [shot, column])).toEqual(found.map(({ shot, column }) => [shot, column]));
});
