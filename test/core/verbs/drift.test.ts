import * as fc from "fast-check";
import { expect, test } from "vitest";
import { chartSvg } from "../../../core/chart/draw-chart";
import { lightTheme } from "../../../core/chart/themes";
import { defaultLimits } from "../../../core/limits";
import { presentChart } from "../../../core/present/present-result";
import type { OptionValues, RunContext } from "../../../core/query/vocabulary";
import type { Table } from "../../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { drift } from "../../../core/verbs/drift";
import { check, runTable } from "../query/query-support";
import { expectClose, normals } from "../stats/check-values";
import type { Outcome } from "./trade-verbs";
import { facts, inferredProblems, refusal, runVerb } from "./trade-verbs";

/** An invented session whose club speed and speed ratio go as told; ball speed and carry follow. */
interface Invented {
  readonly heads?: readonly string[];
  readonly passes?: number;
  readonly length?: number;
  /** What is added to the club speed in mph at time t, 0 to 1. */
  readonly club?: (t: number, head: string, inStint: number) => number;
  /** What is added to ball speed over club speed. */
  readonly ratio?: (t: number) => number;
  readonly inOneGo?: boolean;
  readonly seed?: number;
  readonly session?: string;
  readonly scatter?: number;
}

interface Row {
  readonly session: string;
  readonly shot: number;
  readonly head: string;
  readonly stint: number;
  readonly pass: number;
  readonly club: number;
  readonly ball: number;
}

function hit({ heads = ["Wren", "Heron", "Plover"], passes = 8, length = 3, club = () => 0, ratio = () => 0, inOneGo = false, seed = 11, session = "s1", scatter = 1 }: Invented = {}): Row[] {
  const normal = normals(seed);
  const stints = heads.length * passes;
  const count = stints * length;
  const levels = Array.from({ length: stints }, () => 0.3 * scatter * normal());
  return Array.from({ length: count }, (_, i) => {
    const stint = Math.floor(i / length);
    const head = inOneGo ? heads[Math.floor(stint / passes)]! : heads[stint % heads.length]!;
    const t = i / (count - 1);
    const speed = 88 + levels[stint]! + 0.7 * scatter * normal() + club(t, head, i % length);
    const ball = speed * (1.33 + 0.01 * heads.indexOf(head) + 0.004 * scatter * normal() + ratio(t));
    return { session, shot: i + 1, head, stint: (inOneGo ? Math.floor(stint / passes) : stint) + 1, pass: Math.floor(stint / heads.length) + 1, club: speed, ball };
  });
}

function tableOf(rows: readonly Row[], without: readonly string[] = [], sessions = [facts()]): Table {
  const columns = [
    textColumn("session", rows.map((row) => row.session), "stated"),
    numberColumn("shot", rows.map((row) => row.shot), null, "stated"),
    textColumn("head", rows.map((row) => row.head), "stated"),
    numberColumn("stint", rows.map((row) => row.stint), null, "derived"),
    numberColumn("pass", rows.map((row) => row.pass), null, "derived"),
    textColumn("intent", rows.map(() => "stock"), "stated"),
    textColumn("player", rows.map(() => "P1"), "stated"),
    numberColumn("club_speed", rows.map((row) => row.club), "mph", "measured"),
    numberColumn("ball_speed", rows.map((row) => row.ball), "mph", "measured"),
    numberColumn("carry", rows.map((row) => 1.4 * row.ball), "yd", "calculated"),
    numberColumn("offline", rows.map((row) => 6 * (row.ball - row.club * 1.34)), "yd", "calculated"),
  ];
  return makeTable(columns.filter((column) => !without.includes(column.name)), rows.length, { sessions });
}

const ask = (invented: Invented = {}, options: OptionValues = {}, without: readonly string[] = [], given: Partial<RunContext> = {}): Outcome =>
  runVerb(drift, tableOf(hit(invented), without), options, given);

const tired: Invented = { club: (t) => -3 * t };

function checkSaid(outcome: Outcome, wanted: RegExp): void {
  const { sentences } = outcome.report;
  expect(sentences.some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

function checkUnsaid(outcome: Outcome, unwanted: RegExp): void {
  expect(outcome.report.sentences.filter((sentence) => unwanted.test(sentence))).toEqual([]);
}

test("one row a column, the usual columns unless told", () => {
  const { rows, table, report } = ask(tired);
  expect(rows.map((row) => [row["of"], row["unit"]])).toEqual([["club_speed", "mph"], ["ball_speed", "mph"], ["carry", "yd"]]);
  expect(table.columns.map((column) => column.name)).toEqual([
    "of", "unit", "session", "change", "from", "to", "theil_sen", "kendall", "p", "df", "alike", "verdict", "n", "stints",
  ]);
  expect(report.hidden).toEqual(["p", "df"]);
  expect(rows[0]).toMatchObject({ session: "s1", n: 72, stints: 24, verdict: "changed by more than the margin", alike: "not seen to differ" });
});

test("one column keeps its unit", () => {
  const { table } = ask(tired, { of: ["carry", "carry"] });
  expect(table.rowCount).toBe(1);
  expect(table.columns.find((column) => column.name === "change")).toMatchObject({ unit: "yd" });
  expect(table.columns.some((column) => column.name === "unit")).toBe(false);
});

test("cells as a person writes them", () => {
  const tables = new Map([["shots", tableOf(hit(tired))]]);
  expect(runTable("shots.drift()", { tables }).rowCount).toBe(3);
  expect(runTable('shots.drift({ of: "ball_speed" })', { tables }).rowCount).toBe(1);
  const one = runTable('shots.filter(d => d.head === "Wren").drift({ of: ["club_speed", "carry"], confidence: 0.9 })', { tables });
  expect([one.rowCount, one.report!.confidence]).toEqual([2, 0.9]);
  expect(runTable('shots.drift({ of: "carry", by: "player" })', { tables }).report!.sentences.join(" ")).toMatch(/Shots of Heron, Plover and Wren|Shots of Wren, Heron and Plover/);
  const codes = (body: string): string[] => check(body, { tables }).problems.map((found) => found.code);
  expect(codes('shots.drift({ of: "cary" })')).toEqual(["query.unknown-column"]);
  expect(codes("shots.drift({ confidence: 1.2 })")).toEqual(["query.number"]);
  expect(codes('shots.drift({ of: "head" })')).toEqual(["query.column-kind"]);
  expect(codes('shots.drift({ margin: "3 yd" })')).toEqual(["query.unknown-option"]);
  expect(codes('shots.select("head", "stint", "shot").drift()')).toEqual(["trade.nothing-to-follow"]);
});

test("the answer comes first: change, interval, shots, stints and verdict, and whose doing it was", () => {
  const outcome = ask(tired);
  const { report } = outcome;
  expect(report.answer).toBe(4);
  expect(report.sentences[0]).toMatch(
    /^Club speed fell by \d\.\d+ mph over the session, taken alike for all heads \(95 % interval −\d\.\d+ to −\d\.\d+; 72 shots in 24 stints\)\. Changed by more than the margin of 1 mph\.$/,
  );
  expect(report.sentences[3]).toMatch(
    /^Ball speed and carry changed in the same direction as club speed, −\d\.\d+ mph \(−\d\.\d+ to −\d\.\d+\), and ball speed divided by club speed did not drift, .*: the tester, not the heads\.$/,
  );
  expect(report.sentences.at(-1)).toBe("One tester, one session.");
  expect(report.method).toMatch(/REML, Kenward and Roger.*95 % intervals.*seed 1\./);
});

test("what changed without club speed is not the swing", () => {
  checkSaid(ask({ ratio: (t) => -0.05 * t }), /changed, and no change is seen in club speed, .*: not the speed of the swing/);
});

test("a tester who slows down is not cleared by a club speed that is read too roughly to show it", () => {
  const normal = normals(5);
  const rough = hit({ club: (t) => -2 * t }).map((row) => ({ ...row, club: row.club + 4 * normal() }));
  const outcome = runVerb(drift, tableOf(rough), { of: "ball_speed" });
  expect(outcome.rows[0]!["verdict"]).toMatch(/^changed/);
  checkUnsaid(outcome, /not the speed of the swing/);
  checkSaid(outcome, /^Whether the tester or something else made ball speed change cannot be told: club speed, .* mph \(.* to .*\), is not known closely enough\.$/);
});

test("a carry that falls with a club speed that is steady by its margin is not the swing", () => {
  const loose = hit({ ratio: (t) => -0.05 * t, scatter: 0.5 });
  checkSaid(runVerb(drift, tableOf(loose, ["ball_speed"]), { of: "carry" }), /^Carry changed, and no change is seen in club speed, .*: not the speed of the swing/);
});

test("when the speed ratio changed as well, it was not the tester's speed alone", () => {
  checkSaid(ask({ club: (t) => -3 * t, ratio: (t) => -0.05 * t }), /but ball speed divided by club speed changed too, .*: not the tester's speed alone/);
});

test("what changes against club speed is not the swing alone", () => {
  checkSaid(ask({ club: (t) => -2.5 * t, ratio: (t) => 0.1 * t }), /but not all as club speed did/);
});

test("a ratio that is not known closely leaves the heads in question", () => {
  const loose = hit(tired).map((row, i) => ({ ...row, ball: row.ball + 25 * Math.sin(i * 2.4) }));
  checkSaid(runVerb(drift, tableOf(loose), { of: "club_speed" }), /^Club speed changed, .* which points to the tester; but ball speed divided by club speed, .* is not known closely enough/);
});

test("without club speed or ball speed it cannot be told", () => {
  checkSaid(ask(tired, {}, ["club_speed"]), /^Whether the tester or something else made ball speed and carry change cannot be told: the table has no club speed\.$/);
  checkSaid(ask(tired, {}, ["ball_speed"]), /made club speed and carry change cannot be told: the table has no ball speed/);
  const rare = hit(tired).map((row, i) => ({ ...row, club: i < 3 ? row.club : Number.NaN }));
  checkSaid(runVerb(drift, tableOf(rare), { of: "carry" }), /cannot be told: too little is known of club speed/);
});

test("the speed ratio of the table is used where it has one", () => {
  const rows = hit(tired);
  const ratio = numberColumn("speed_ratio", rows.map((row) => row.ball / row.club), null, "derived");
  const table = tableOf(rows, ["ball_speed"]);
  checkSaid(runVerb(drift, makeTable([...table.columns, ratio], rows.length, table), { of: "carry" }), /the tester, not the heads\.$/);
});

test("nothing that changed leaves nobody to blame", () => {
  checkUnsaid(ask(), /tester, not|cannot be told/);
});

test("heads that do not change alike", () => {
  const outcome = ask({ club: (t, head) => (head === "Wren" ? -4 : 2) * t });
  expect(outcome.rows.map((row) => [row["alike"], row["verdict"]])).toEqual([["differ", "do not change alike"], ["differ", "do not change alike"], ["differ", "do not change alike"]]);
  checkSaid(outcome, /^Club speed does not change alike for all heads over the session: Wren −\d.*, Heron \d.* and Plover \d.*The difference between them depends on when they were hit\.$/);
  checkUnsaid(outcome, /the tester, not the heads/);
});

test("undecided and steady are told apart by the margin", () => {
  const steady = ask({ scatter: 0.5 }, { of: "carry" });
  expect(steady.rows[0]!["verdict"]).toBe("practically steady");
  checkSaid(steady, /^Carry was steady for practical purposes: .*\(90 % interval .*inside ±3 yd\. Practically steady\.$/);
  const open = ask({ scatter: 4 }, { of: "carry" });
  expect(open.rows[0]!["verdict"]).toBe("undecided");
  checkSaid(open, /^Undecided: the change in carry over the session, taken alike for all heads, is −?\d/);
  const wide = ask({ scatter: 4 }, { of: "carry" }, [], { margins: { carry: { value: 90, unit: "yd" } } });
  expect(wide.rows[0]!["verdict"]).toBe("practically steady");
  checkSaid(wide, /^Margin, the largest change that does not matter: carry 90 yd \(stated in the notebook\)\.$/);
});

test("a column without a margin is never called steady", () => {
  const rows = hit({ scatter: 0.1 });
  const table = tableOf(rows);
  const feel = numberColumn("backswing", rows.map((row) => 1 + row.club / 1e4), null, "measured");
  const outcome = runVerb(drift, makeTable([...table.columns, feel], rows.length, table), { of: "backswing" });
  expect(outcome.rows[0]!["verdict"]).toMatch(/^(undecided|changed)$/);
  checkSaid(outcome, /^No margin is known for backswing: nothing is called steady there\.$/);
});

test("directions are told by their side", () => {
  checkSaid(ask({ ratio: (t) => 0.1 * t }, { of: "offline" }), /^Offline moved by \d+\.\d+ yd to the right over the session/);
});

test("heads each hit in one go: no verdict, what can be told, and how to hit next time, once", () => {
  const outcome = ask({ ...tired, inOneGo: true });
  expect(outcome.rows.map((row) => [row["change"], row["from"], row["verdict"], row["stints"]])).toEqual(Array.from({ length: 3 }, () => [null, null, "no verdict", 3]));
  checkSaid(outcome, /^Each head was hit in one go: what changed in the session cannot be told from the heads\. No verdict\. Within a stint, from its first shot to its last, club speed fell by \d\.\d mph, .* on average\.$/);
  expect(outcome.report.sentences.filter((sentence) => /next time/.test(sentence))).toHaveLength(1);
  checkUnsaid(outcome, /the tester, not/);
});

test("one head alone", () => {
  const outcome = ask({ ...tired, heads: ["Wren"], passes: 12 });
  expect(outcome.rows[0]).toMatchObject({ verdict: "changed by more than the margin", alike: null, stints: 12 });
  checkSaid(outcome, /^Club speed fell by \d\.\d+ mph over the session \(95 % interval/);
});

test("few shots are listed, few stints described", () => {
  const few = ask({ heads: ["Wren"], passes: 1, length: 4 }, { of: "carry" });
  expect(few.rows[0]).toMatchObject({ n: 4, change: null, from: null, verdict: "no verdict" });
  checkSaid(few, /^Carry has 4 values \([\d., ]+ yd\): too few to see a change\. No verdict\.$/);
  const short = ask({ ...tired, heads: ["Wren"], passes: 2, length: 6 }, { of: "carry" });
  expect(short.rows[0]).toMatchObject({ n: 12, stints: 2, from: null, verdict: "no verdict" });
  expect(short.rows[0]!["change"]).not.toBeNull();
  checkSaid(short, /without an interval: that takes 3 stints, and there are 2\. No verdict\.$/);
});

test("missing values are counted and never taken for 0", () => {
  const gaps = hit(tired).map((row, i) => (i % 9 === 0 ? { ...row, club: Number.NaN } : row));
  const outcome = runVerb(drift, tableOf(gaps), { of: "club_speed" });
  expect(outcome.rows[0]!["n"]).toBe(64);
  expect(outcome.rows[0]!["from"] as number).toBeGreaterThan(-5);
  checkSaid(outcome, /^Club speed is missing in \d of 24 shots of /);
  const none = runVerb(drift, tableOf(gaps.map((row) => ({ ...row, club: Number.NaN }))), { of: "club_speed" });
  checkSaid(none, /^Club speed has no value\. No verdict\.$/);
});

test("equal values have a change of 0 and no interval", () => {
  const outcome = runVerb(drift, tableOf(hit().map((row) => ({ ...row, club: 88 }))), { of: "club_speed" });
  expect(outcome.rows[0]).toMatchObject({ from: null, verdict: "no verdict" });
  checkSaid(outcome, /without an interval, since its shots do not scatter/);
});

test("one row a session, each with its own change", () => {
  const sessions = [facts(), facts({ name: "s2", file: "s2.session.yaml" })];
  const rows = [...hit(tired), ...hit({ club: (t) => 4 * t, session: "s2", seed: 5 })];
  const outcome = runVerb(drift, tableOf(rows, [], sessions), { of: "club_speed" });
  expect(outcome.rows.map((row) => [row["session"], row["n"]])).toEqual([["s1", 72], ["s2", 72]]);
  expect(outcome.rows[0]!["to"] as number).toBeLessThan(0);
  expect(outcome.rows[1]!["from"] as number).toBeGreaterThan(0);
  checkSaid(outcome, /^Club speed in s2 rose by/);
  expect(outcome.report.sentences.at(-1)).toBe("One tester, 2 sessions.");
  expect(outcome.report.picture!.description).toMatch(/144 shots/);
});

test("first pass and first shots after a change, with intervals, and the change without them where they matter", () => {
  const plain = ask({}, { of: "club_speed" });
  checkSaid(plain, /^First pass used against the rest, beyond the trend of the session: club speed −?\d.* mph \(.* to .*\); 95 % intervals\.$/);
  checkSaid(plain, /^First shot after a change of head against the other shots: club speed /);
  checkSaid(ask({ club: (_, __, i) => (i === 0 ? -3 : 0) }, { of: "club_speed" }), /^Without the first shots after a change of head, the change in club speed is /);
  // With one head left the other stints' numbers are gone: something else was hit in between.
  const one = tableOf(hit({ club: (_, __, i) => (i === 0 ? -3 : 0) }).filter((row) => row.head === "Wren"));
  checkSaid(runVerb(drift, one, { of: "club_speed" }), /^First shot after a change of head against the other shots: club speed −/);
});

test("values that are all equal did not change, rather than rise by 0", () => {
  const rows = hit().map((row) => ({ ...row, club: 88, ball: 120 }));
  const outcome = runVerb(drift, tableOf(rows), { of: ["club_speed", "offline"] });
  checkSaid(outcome, /^Club speed did not change from the first shot to the last, without an interval, since its shots do not scatter\. No verdict\.$/);
  checkSaid(outcome, /^Offline did not change /);
});

test("a break is no change of head", () => {
  const rows = hit({ heads: ["Wren"], passes: 8 });
  checkUnsaid(runVerb(drift, tableOf(rows), { of: "club_speed" }), /change of head/);
});

test("a step and a bend are told from a steady change", () => {
  checkSaid(ask({ club: (t) => (t > 0.5 ? -3 : 0) }, { of: "club_speed" }), /^Club speed: a step of −\d.* mph after shot 3[3-9] fits the means of stints better than a steady change/);
  checkSaid(ask({ scatter: 0.5, club: (t) => 10 * (t - 0.5) ** 2 }, { of: "club_speed" }), /^Club speed did not change steadily: it was lowest about shot (3|4)\d; a bend/);
});

test("what cannot be answered is refused with a reason", () => {
  const table = tableOf(hit());
  expect(refusal(drift, tableOf(hit(), [], [facts({ orderKnown: false })]), {})).toEqual(["trade.drift-without-order"]);
  expect(refusal(drift, tableOf(hit(), ["stint"]), {})).toEqual(["trade.drift-without-order"]);
  expect(refusal(drift, tableOf(hit(), ["club_speed", "ball_speed", "carry"]), {})).toEqual(["trade.nothing-to-follow"]);
  expect(inferredProblems(drift, { ...table, groupedBy: ["head"] }, {})).toEqual(["trade.grouped"]);
  expect(inferredProblems(drift, tableOf(hit(), ["head"]), {})).toEqual(["trade.no-group-column"]);
  expect(refusal(drift, tableOf([]), {})).toEqual(["trade.no-shots"]);
  expect(refusal(drift, tableOf(hit({ heads: Array.from({ length: 13 }, (_, i) => `bird ${i}`), passes: 2 })), {})).toEqual(["trade.too-many-groups"]);
  expect(refusal(drift, tableOf(hit({ passes: 501, length: 1, heads: ["Wren", "Heron"] })), {})).toEqual(["trade.too-many-stints"]);
});

async function drawn(outcome: Outcome, width = 640): Promise<string> {
  return chartSvg(presentChart(outcome.report.picture!, defaultLimits).spec, lightTheme, width);
}

test("the picture has the trend with its band, the levels of the heads taken out", async () => {
  const outcome = ask(tired);
  const { picture } = outcome.report;
  expect(picture!.description).toMatch(/^Club speed of 72 shots in hitting order, by head: .* in 24 stints\. Long line: the fitted trend; between the dashes: its 95 % interval\. Levelled: /);
  const layers = (picture!.spec as unknown as { layer: { mark: { type: string } }[] }).layer.map((layer) => layer.mark.type);
  expect(layers).toEqual(["rect", "point", "rule", "area", "line", "line", "line"]);
  for (const width of [300, 640]) expect(await drawn(outcome, width)).not.toMatch(/NaN|Infinity|undefined/);
});

test("the picture of heads that do not change alike has a line a head", async () => {
  const outcome = ask({ club: (t, head) => (head === "Wren" ? -4 : 2) * t });
  expect(outcome.report.picture!.description).toContain("Long lines: the trend of each head, since they do not change alike.");
  expect(await drawn(outcome)).not.toMatch(/NaN|Infinity|undefined/);
});

test("without a trend the shots are drawn and the picture says so", async () => {
  const outcome = ask({ ...tired, inOneGo: true });
  expect(outcome.report.picture!.description).toContain("No trend is drawn, since none can be told.");
  expect(await drawn(outcome)).not.toMatch(/NaN|Infinity|undefined/);
  expect(ask(tired, {}, ["shot"]).report.picture).toBeNull();
});

test("a group column may be called what the picture calls its own numbers, and labels stay text", async () => {
  const rows = hit(tired);
  const table = tableOf(rows);
  for (const by of ["club_speed_levelled", "level", "from", "shot_", "x_group"]) {
    const column = textColumn(by, rows.map((row) => (row.head === "Wren" ? "<script>" : row.head === "Heron" ? "constructor" : "__proto__")), "stated");
    const svg = await drawn(runVerb(drift, makeTable([...table.columns, column], rows.length, table), { of: "club_speed", by }));
    expect(svg).not.toMatch(/NaN|Infinity|<script>/);
    expect(svg).toContain("&lt;script&gt;");
  }
});

test("the line drawn is the change told", () => {
  const outcome = ask(tired, { of: "club_speed" });
  const { layer } = outcome.report.picture!.spec as unknown as { layer: { data: { values: { level: number }[] } }[] };
  const values = layer.at(-1)!.data.values;
  expectClose(values.at(-1)!.level - values[0]!.level, outcome.rows[0]!["change"] as number, 1e-9);
});

test("shifting changes no number, relabelling heads neither, and the same seed gives the same bytes", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 50 }), (seed, shift) => {
      const rows = hit({ ...tired, passes: 4, seed });
      const numbers = (given: readonly Row[]) => runVerb(drift, tableOf(given), { of: "club_speed" }).rows[0]!;
      const plain = numbers(rows);
      const names: Record<string, string> = { Wren: "Plover", Heron: "Wren", Plover: "Heron" };
      for (const other of [numbers(rows.map((row) => ({ ...row, club: row.club + shift }))), numbers(rows.map((row) => ({ ...row, head: names[row.head]! })))]) {
        for (const name of ["change", "from", "to", "theil_sen", "kendall", "df"]) expectClose(other[name] as number, plain[name] as number, 1e-6, 1e-6, name);
        expect(other["verdict"]).toBe(plain["verdict"]);
      }
    }),
    { seed: 31, numRuns: 12 },
  );
  const bytes = (seed: number): string => JSON.stringify(ask(tired, {}, [], { seed }));
  expect(bytes(3)).toBe(bytes(3));
});

test("a run that is cancelled stops", () => {
  const cancel = () => {
    throw new Error("cancelled");
  };
  expect(() => ask(tired, {}, [], { checkpoint: cancel })).toThrow("cancelled");
});
