import { expect, test } from "vitest";
import { presentTable } from "../../../core/present/present-table";
import type { SessionFacts } from "../../../core/session/session-facts";
import type { Table } from "../../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { workability } from "../../../core/verbs/workability";
import { runTable } from "../query/query-support";
import { normals } from "../stats/check-values";
import type { Shot } from "./trade-verbs";
import { facts, inferredProblems, refusal, rotation, runVerb, shotTable } from "./trade-verbs";

/** How an invented session is hit and read. */
interface Hit {
  /** True slope of each head, degrees of spin axis for a degree of face-to-path. */
  readonly slopes?: Readonly<Record<string, number>>;
  readonly passes?: number;
  readonly shotsInStint?: number;
  /** SD of the true face-to-path, and of what the spin axis has besides. */
  readonly spread?: number;
  readonly scatter?: number;
  /** SDs of the reading errors of face and path. */
  readonly errors?: readonly [face: number, path: number];
  /** Millimetres to the toe for a degree of face-to-path. */
  readonly strikeAlong?: number;
  readonly seed?: number;
  readonly sessions?: readonly SessionFacts[];
  readonly intents?: readonly string[];
  readonly order?: readonly string[];
  /** Number of the session of each stint of `order`, 1 and up; 1 unless told. */
  readonly sessionOf?: (stint: number) => number;
  readonly withStrike?: boolean;
}

/** Gear effect of the invented heads, in degrees of spin axis for a millimetre to the toe. */
const gear = -0.35;

/** Shots of heads with known slopes, as a session gives them. */
function hit(given: Hit = {}): Table {
  const { slopes = { Wren: 4, Heron: 5 }, passes = 10, shotsInStint = 4, spread = 2.5, scatter = 1.2, errors = [0, 0], strikeAlong = 0, seed = 1, sessions, intents, order, sessionOf = () => 1, withStrike = true } = given;
  const heads = Object.keys(slopes);
  const shots: readonly Shot[] =
    order === undefined
      ? rotation({ heads, passes, shotsInStint })
      : order.flatMap((head, i) => Array.from({ length: shotsInStint }, (): Shot => ({ head, stint: i + 1, carry: 150, session: `s${sessionOf(i + 1)}` })));
  const normal = normals(seed * 101);
  const readings = shots.map((shot) => {
    const [path, along] = [2 * normal(), spread * normal()];
    const strike = strikeAlong * along + 6 * normal();
    const axis = 1 + slopes[shot.head!]! * along + gear * strike + scatter * normal();
    return { path: path + errors[1] * normal(), face: path + along + errors[0] * normal(), strike, axis };
  });
  const degrees = (name: string, of: (reading: (typeof readings)[number]) => number, origin: "measured" | "derived" = "measured") => numberColumn(name, readings.map(of), "deg", origin);
  return shotTable(
    intents === undefined ? shots : shots.map((shot, i) => ({ ...shot, intent: intents[i % intents.length]! })),
    sessions,
    [
      degrees("face_angle", (reading) => reading.face),
      degrees("club_path", (reading) => reading.path),
      degrees("face_to_path", (reading) => reading.face - reading.path, "derived"),
      degrees("spin_axis", (reading) => reading.axis),
      ...(withStrike ? [numberColumn("strike_x", readings.map((reading) => reading.strike), "mm", "measured")] : []),
    ],
  );
}

function checkSentence(table: Table, wanted: RegExp, options = {}): void {
  const { sentences } = runVerb(workability, table, options).report;
  expect(sentences.some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

const verdictsOf = (table: Table, options = {}) => runVerb(workability, table, options).rows.filter((row) => row["against"] !== null).map((row) => row["verdict"]);

test("a query as a person writes it: a row a head and a row a pair", () => {
  const rows = runTable("shots.workability()", { tables: new Map([["shots", hit()]]) });
  expect(rows.columns.map((column) => column.name)).toEqual([
    "head", "against", "slope", "difference", "from", "to", "from90", "to90", "margin", "verdict", "more_shots",
    "corrected", "corrected_from", "corrected_to", "reliability", "face_to_path_sd", "n", "n_against", "stints", "stints_against", "df", "p",
  ]);
  expect(rows.rowCount).toBe(3);
  expect(rows.columns.filter((column) => column.kind === "number" && column.unit !== null).map((column) => column.name)).toEqual(["face_to_path_sd"]);
});

test("the true slopes and their true difference lie in the intervals", () => {
  for (const seed of [1, 2, 3, 4]) {
    const { rows } = runVerb(workability, hit({ slopes: { Wren: 4, Heron: 5, Plover: 4.5 }, seed }), { confidence: 0.999 });
    [4, 5, 4.5, 1, 0.5, -0.5].forEach((truth, i) => {
      expect(rows[i]!["from"] as number).toBeLessThan(truth);
      expect(rows[i]!["to"] as number).toBeGreaterThan(truth);
    });
  }
});

test("each verdict", () => {
  expect(verdictsOf(hit())).toEqual(["different by more than the margin"]);
  expect(verdictsOf(hit(), { margin: 1 })).toEqual(["different"]);
  expect(verdictsOf(hit(), { margin: 2 })).toEqual(["different but too small to matter"]);
  expect(verdictsOf(hit({ slopes: { Wren: 4, Heron: 4 } }), { margin: 0.5 })).toEqual(["practically equivalent"]);
  expect(verdictsOf(hit({ slopes: { Wren: 4, Heron: 4.1 }, scatter: 4 }))).toEqual(["undecided"]);
});

test("the sentences of each verdict, with degrees", () => {
  checkSentence(hit(), /^Most workable: Heron curves most for the same face-to-path\.$/);
  checkSentence(hit(), /^A degree of face-to-path tilts the spin axis \d\.\d+° more with Heron than with Wren \(95 % interval \d\.\d+ to \d\.\d+\)\. Different by more than the margin of 0\.15°\.$/);
  checkSentence(hit({ slopes: { Wren: 5, Heron: 4 } }), /^A degree of face-to-path tilts the spin axis \d\.\d+° less with Heron than with Wren \(95 % interval \d/);
  checkSentence(hit(), /may be above or below the margin of 1°\.$/, { margin: 1 });
  checkSentence(hit(), /Different but too small to matter: the 90 % interval .* is inside ±2°\.$/, { margin: 2 });
  checkSentence(hit({ slopes: { Wren: 4, Heron: 4 } }), /^Heron and Wren are equally workable for practical purposes: .* Practically equivalent\.$/, { margin: 0.5 });
  const noisy = hit({ slopes: { Wren: 4, Heron: 4.1 }, scatter: 4 });
  checkSentence(noisy, /^No head is shown to be the most workable\.$/);
  checkSentence(noisy, /^Undecided: Heron − Wren is .*° of spin axis for a degree of face-to-path .*more shots each/);
  checkSentence(hit(), /^Wren: [34]\.\d+° of spin axis for a degree of face-to-path \(95 % interval [\d.]+ to [\d.]+; 40 shots in 10 stints, standard deviation of face-to-path \d\.\d°\)\.$/);
  checkSentence(hit(), /^One tester, one session\.$/);
});

test("a strike that goes along with face-to-path is taken out, and said not to be where it is not known", () => {
  const along = { slopes: { Wren: 4, Heron: 4 }, strikeAlong: 1.5 };
  const slope = (table: Table) => runVerb(workability, table, {}).rows[0]!["slope"] as number;
  expect(Math.abs(slope(hit(along)) - 4)).toBeLessThan(0.3);
  expect(slope(hit({ ...along, withStrike: false }))).toBeLessThan(3.75);
  checkSentence(hit({ withStrike: false }), /^Where the face was hit is not known and not taken out/);
  expect(runVerb(workability, hit(), {}).report.method).toMatch(/the strike across the face taken out; .*CR2.*Kenward and Roger/);
});

test("shots without a strike are left out with a count, and the strike with most of its readings missing", () => {
  const table = hit();
  const withGaps = (keep: (i: number) => boolean): Table => ({
    ...table,
    columns: table.columns.map((column) =>
      column.name === "strike_x" && column.kind === "number" ? { ...column, values: column.values.map((value, i) => (keep(i) ? value : Number.NaN)) } : column,
    ),
  });
  checkSentence(withGaps((i) => i % 10 > 0), /^8 of 80 shots lack one of these and are left out\.$/);
  expect(runVerb(workability, withGaps((i) => i % 10 > 0), {}).rows[0]!["n"]).toBe(36);
  checkSentence(withGaps((i) => i % 10 === 0), /known of fewer than half of the shots and not taken out/);
  expect(runVerb(workability, withGaps((i) => i % 10 === 0), {}).rows[0]!["n"]).toBe(40);
});

test("a head whose strikes were not read keeps its shots, and the strike is taken out of no slope", () => {
  const table = hit();
  const isHeron = Array.from({ length: table.rowCount }, (_, i) => Math.floor(i / 4) % 2 === 1);
  const lost = (isLost: (i: number) => boolean): Table => ({
    ...table,
    columns: table.columns.map((column) => (column.name === "strike_x" && column.kind === "number" ? { ...column, values: column.values.map((value, i) => (isLost(i) ? Number.NaN : value)) } : column)),
  });
  for (const none of [lost((i) => isHeron[i]!), lost((i) => isHeron[i]! && i > 12)]) {
    expect(runVerb(workability, none, {}).rows.slice(0, 2).map((row) => row["n"])).toEqual([40, 40]);
    expect(verdictsOf(none)).not.toEqual(["no verdict"]);
    checkSentence(none, /^Where the face was hit is known of too few shots of Heron and taken out of no slope: a strike beside the middle tilts the spin axis by itself\.$/);
    expect(runVerb(workability, none, {}).report.method).not.toMatch(/strike/);
  }
});

test("the advice names what the groups are", () => {
  const table = hit({ spread: 1 });
  const byTee = { ...table, columns: [...table.columns, textColumn("tee", Array.from({ length: table.rowCount }, (_, i) => (Math.floor(i / 4) % 2 === 0 ? "low" : "high")), "stated")] };
  checkSentence(byTee, /^Next time hit at least 4 stints with each tee, in turn/, { by: "tee" });
});

test("draws and fades on purpose are used beside stock shots, warm-up is not", () => {
  const table = hit({ intents: ["draw", "fade", "stock", "warm-up"] });
  expect(runVerb(workability, table, {}).rows[0]!["n"]).toBe(30);
  checkSentence(table, /^Stock, draw, fade shots only: 60 of 80; left out: 20 warm-up\.$/);
});

test("face-to-path that was not varied enough: no verdict, with the numbers, and how to hit it", () => {
  const narrow = hit({ spread: 1 });
  expect(verdictsOf(narrow)).toEqual(["no verdict"]);
  expect(runVerb(workability, narrow, {}).rows[0]).toMatchObject({ from: null, to: null, n: 40, stints: 10 });
  expect(runVerb(workability, narrow, {}).rows[0]!["slope"]).not.toBeNull();
  checkSentence(narrow, /^The tester did not vary face-to-path enough with Wren: standard deviation (0\.\d|1\.\d)° over 40 shots, and a verdict needs 1\.5°\. No verdict\.$/);
  checkSentence(narrow, /^Next time hit at least 4 stints with each head, in turn, and ask for draws and fades on purpose/);
});

test("too few shots, too few stints, one go, order unknown: no verdict, each with its sentence", () => {
  checkSentence(hit({ passes: 5, shotsInStint: 2 }), /^Wren has 10 shots of which spin axis, face-to-path and strike are known; a verdict needs 15\. No verdict\.$/);
  checkSentence(hit({ passes: 5, shotsInStint: 2, withStrike: false }), /^Wren has 10 shots of which spin axis and face-to-path are known; a verdict needs 15\. No verdict\.$/);
  checkSentence(hit({ passes: 3, shotsInStint: 8 }), /^Wren was hit in fewer than 4 stints, those with only a break between them counted once\. No verdict\.$/);
  checkSentence(hit({ order: ["Wren", "Heron"], shotsInStint: 20 }), /^Heron was hit in one go: fatigue and warm-up cannot be told from the head\. No verdict\.$/);
  checkSentence(hit({ order: ["Wren", "Wren", "Wren", "Wren", "Heron", "Heron", "Heron", "Heron"], shotsInStint: 5 }), /^Heron was hit in one go/);
  checkSentence(hit({ sessions: [facts({ orderKnown: false })] }), /^Order unknown: .* no slope has an interval\. No verdict\.$/);
  for (const table of [hit({ passes: 5, shotsInStint: 2 }), hit({ passes: 3, shotsInStint: 8 }), hit({ sessions: [facts({ orderKnown: false })] })]) {
    expect(verdictsOf(table)).toEqual(["no verdict"]);
    checkSentence(table, /^Without an interval, spin axis for a degree of face-to-path: Wren [\d.]+° and Heron [\d.]+°\.$/);
  }
});

const days = (count: number): readonly SessionFacts[] => Array.from({ length: count }, (_, i) => facts({ name: `s${i + 1}` }));

test("heads hit in one go in each of eight sessions: no verdict, however many sessions", () => {
  const order = Array.from({ length: 16 }, (_, i) => (i % 2 === 0 ? "Wren" : "Heron"));
  const oneGo = hit({ order, shotsInStint: 10, sessions: days(8), sessionOf: (stint) => Math.ceil(stint / 2) });
  expect(verdictsOf(oneGo)).toEqual(["no verdict"]);
  checkSentence(oneGo, /^Heron and Wren were each hit in one go in every session: fatigue and warm-up cannot be told from the head\. No verdict\.$/);
  checkSentence(oneGo, /^No head is shown to be the most workable\.$/);
  checkSentence(oneGo, /^Next time hit at least 4 stints with each head, in turn/);
});

test("heads each hit in turn with a third, one after the other, are not told apart", () => {
  const order = Array.from({ length: 20 }, (_, i) => (i % 2 === 1 ? "Plover" : i < 10 ? "Wren" : "Heron"));
  const { rows, report } = runVerb(workability, hit({ slopes: { Wren: 4, Heron: 6, Plover: 5 }, order }), {});
  const verdictOf = (head: string, against: string) => rows.find((row) => row["head"] === head && row["against"] === against)!["verdict"];
  expect(verdictOf("Heron", "Wren")).toBe("no verdict");
  expect(verdictOf("Plover", "Wren")).toMatch(/^different/);
  expect(report.sentences.join("\n")).toMatch(/^Heron − Wren is .* Heron and Wren were hit at different times of the session: the difference cannot be told from drift\. No verdict\.$/m);
  expect(report.sentences[0]).toBe("No head is shown to be the most workable.");
});

test("heads hit in turn in too few stints of one session, and in one go in others, get no verdict", () => {
  const order = Array.from("WHWHWHWWWHHH", (letter) => (letter === "W" ? "Wren" : "Heron"));
  const few = hit({ order, shotsInStint: 6, sessions: days(2), sessionOf: (stint) => (stint <= 6 ? 1 : 2) });
  expect(verdictsOf(few)).toEqual(["no verdict"]);
  checkSentence(few, /A verdict needs 4 stints of each head in sessions in which both were hit in turn\. No verdict\.$/);
});

test("undecided by one method alone: the reason stands in the same sentence, and the margin is not blamed", () => {
  // Between the margins that hold one method's interval and those that hold both there are some that hold one alone.
  const found = Array.from({ length: 80 }, (_, i) => {
    const table = hit({ slopes: { Wren: 4, Heron: 4.2 }, passes: 5, scatter: 3, seed: 1 + (i % 4) });
    return runVerb(workability, table, { margin: 0.2 + 0.08 * Math.floor(i / 4) }).report.sentences;
  });
  const depends = found.filter(([, pair]) => pair!.startsWith("Undecided, since it depends on the method"));
  expect(depends.length).toBeGreaterThan(0);
  for (const [, pair] of depends) expect(pair).toMatch(/^Undecided, since it depends on the method: Heron − Wren is .*; (the 95 %|against ±[\d.]+° the 90 %) interval .*by the model of shots in stints.*\. (About|More than one session|More shots may not settle it soon, since it depends on the method)/);
  for (const sentences of found) {
    expect(sentences.filter((sentence) => sentence.startsWith("The verdict on") && sentences[1]!.startsWith("Undecided"))).toEqual([]);
  }
});

test("a head with too little is not judged, and the others are", () => {
  const three = hit({ slopes: { Wren: 4, Heron: 5, Plover: 4 }, order: [...Array.from({ length: 20 }, (_, i) => (i % 2 === 0 ? "Wren" : "Heron")), "Plover"] });
  expect(verdictsOf(three)).toEqual(["different by more than the margin", "no verdict", "no verdict"]);
});

test("a spin axis that was worked out from face, path and strike cannot be judged", () => {
  const computed = hit({ scatter: 0.1 });
  expect(verdictsOf(computed)).toEqual(["no verdict"]);
  expect(runVerb(workability, computed, {}).rows[0]).toMatchObject({ slope: null, from: null });
  checkSentence(computed, /^Spin axis is calculated, not measured; workability cannot be judged: .* explain (99\.\d|100\.0) % of its variance/);
});

test("a session that says the spin axis is calculated, or the spins that it comes from, is believed", () => {
  const said = hit({ sessions: [facts({ calculated: ["spin_axis"] })] });
  expect(verdictsOf(said)).toEqual(["no verdict"]);
  checkSentence(said, /^Spin axis is calculated, not measured, as the session says; workability cannot be judged\.$/);
  const fromSpins = hit({ sessions: [facts({ calculated: ["side_spin"] })] });
  const derived = { ...fromSpins, columns: fromSpins.columns.map((column) => (column.name === "spin_axis" ? { ...column, origin: "derived" as const } : column)) };
  expect(verdictsOf(derived)).toEqual(["no verdict"]);
});

const degrees = (value: number) => ({ value, unit: "deg" as const });

test("stated reading errors correct the slopes, and the truth lies in the corrected intervals", () => {
  const sessions = [facts({ readingErrors: { face_angle: degrees(1), club_path: degrees(0.8) } })];
  const table = hit({ errors: [1, 0.8], passes: 30, sessions });
  const [wren] = runVerb(workability, table, {}).rows;
  expect(wren!["slope"] as number).toBeLessThan(3.7);
  expect(wren!["corrected_from"] as number).toBeLessThan(4);
  expect(wren!["corrected_to"] as number).toBeGreaterThan(4);
  expect(wren!["reliability"] as number).toBeCloseTo(6.25 / (6.25 + 1.64), 1);
  checkSentence(table, /^With the stated reading errors \(face angle 1°, club path 0\.8°\) slopes are flattened; corrected they are Wren [\d.]+° \([\d.]+ to [\d.]+; reliability 0\.\d\d\) and Heron/);
  checkSentence(hit(), /they are not stated in the session, and no slope is corrected for them\.$/);
});

test("below a reliability of 0.6 no slope is corrected", () => {
  const sessions = [facts({ readingErrors: { face_angle: degrees(1.6), club_path: degrees(1.6) } })];
  const table = hit({ sessions });
  expect(runVerb(workability, table, {}).rows[0]!["corrected"]).toBeNull();
  checkSentence(table, /too little of the spread of face-to-path is left to correct the slopes of Wren \(reliability 0\.\d\d\) and Heron \(reliability 0\.\d\d\): 0\.6 is needed\.$/);
});

test("heads of different days are not compared", () => {
  const both = hit({ slopes: { Wren: 4, Heron: 5 } });
  const head = both.columns.find((column) => column.name === "head")!;
  const isHeron = (row: number) => head.kind === "text" && head.labels[head.codes[row]!] === "Heron";
  const columns = both.columns.map((column) =>
    column.name === "session" && column.kind === "text"
      ? { ...column, labels: ["s1", "s2"], codes: column.codes.map((_, row) => (isHeron(row) ? 1 : 0)) }
      : column,
  );
  const apart = { ...makeTable(columns, both.rowCount, { sessions: days(2) }) };
  expect(verdictsOf(apart)).toEqual(["no verdict"]);
  checkSentence(apart, /^Heron and Wren have no session in common/);
});

test("a table without spin axis or face-to-path is refused before and while it runs", () => {
  const plain = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 4 }));
  expect(refusal(workability, plain, {})).toEqual(["trade.workability-columns"]);
  expect(inferredProblems(workability, plain, {})).toEqual(["trade.workability-columns"]);
});

test("one head alone gets its slope and no pair", () => {
  const { rows, report } = runVerb(workability, hit({ slopes: { Wren: 4 } }), {});
  expect(rows).toHaveLength(1);
  expect(report.sentences.join(" ")).not.toMatch(/most workable/i);
});

test("the picture shows the shots and a line a head", () => {
  const { picture } = runVerb(workability, hit(), {}).report;
  expect(picture?.description).toMatch(/^Spin axis against face to path of 80 shots, by head: Heron \(40\), Wren \(40\)\. .*Degrees of spin axis for a degree of face to path: Heron [45]\.\d, Wren [34]\.\d\./);
});

test("slopes, their differences and both intervals are shown with the same decimals", () => {
  const { table } = runVerb(workability, hit({ slopes: { Wren: 4, Heron: 5 } }), {});
  const digits = presentTable(table, 20).columns.filter(({ name }) => ["slope", "difference", "from", "to", "from90", "to90"].includes(name)).map((column) => column.digits);
  expect(new Set(digits).size).toBe(1);
});
