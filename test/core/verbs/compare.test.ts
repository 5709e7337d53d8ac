import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { HeadBuild } from "../../../core/session/session-facts";
import { welchContrast } from "../../../core/stats/mean-contrast";
import { mean } from "../../../core/stats/moments";
import { familyCritical, familyP, pairsCritical } from "../../../core/stats/simultaneous";
import { verdicts } from "../../../core/stats/verdict";
import { makeTable, numberColumn, textColumn, type Table } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { describe } from "../../../core/verbs/describe";
import { expectClose, normals } from "../stats/check-values";
import { textStart } from "../../../core/text-position";
import type { Shot } from "./trade-verbs";
import { context, facts, inferredProblems, numbers, refusal, rotation, runVerb, shotTable } from "./trade-verbs";

const two = rotation({ heads: ["Wren", "Heron"], passes: 8 });
const yards = (value: number) => ({ value, unit: "yd" as const });

/** A line, and all that a reader may take as one statement of it: whole sentences that follow one another. */
function runsOf(line: string): readonly string[] {
  const parts = line.split(/(?<=\.) (?=[A-Z])/);
  return parts.flatMap((_, from) => parts.slice(from).map((__, more) => parts.slice(from, from + more + 1).join(" ")));
}

function checkSentence(table: Table, wanted: RegExp, options = {}): void {
  const { sentences } = runVerb(compare, table, { of: "carry", ...options }).report;
  expect(sentences.flatMap(runsOf).some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

function checkVerdict(shots: readonly Shot[], wanted: string, margin = 3): void {
  const { rows } = runVerb(compare, shotTable(shots), { of: "carry", margin: yards(margin) });
  expect(rows.map((row) => row["verdict"])).toEqual([wanted]);
}

test("the columns of a comparison, with the unit of what is compared", () => {
  const { table, report } = runVerb(compare, shotTable(two), { of: "carry" });
  expect(table.columns.map((column) => column.name)).toEqual([
    "head", "against", "of", "strikes", "difference", "from", "to", "from90", "to90", "margin", "verdict",
    "more_shots", "n", "n_against", "stints", "stints_against", "df", "p",
  ]);
  const inYards = table.columns.filter((column) => column.kind === "number" && column.unit === "yd").map((column) => column.name);
  expect(inYards).toEqual(["difference", "from", "to", "from90", "to90", "margin"]);
  expect(report.hidden).toEqual(["df", "p"]);
  expect(report.picture?.type).toBe("chart");
});

test("two heads: the block model on stints, by hand Welch's t on the means of stints", () => {
  const { rows, report } = runVerb(compare, shotTable(two), { of: "carry" });
  const means = (head: string) => [...new Set(two.map((shot) => shot.stint))].flatMap((stint) => {
    const own = two.filter((shot) => shot.stint === stint && shot.head === head).map((shot) => shot.carry!);
    return own.length === 0 ? [] : [mean(own)];
  });
  const welch = welchContrast(means("Heron"), means("Wren"));
  const row = rows[0]!;
  expect([row["head"], row["against"], row["of"], row["strikes"]]).toEqual(["Heron", "Wren", "carry", "as struck"]);
  expect([row["n"], row["n_against"], row["stints"], row["stints_against"]]).toEqual([24, 24, 8, 8]);
  expect(report.method).toMatch(/^Model of shots in stints: head, trend of the session \(REML, Kenward and Roger\), checked by least squares with errors robust to stints \(CR2\); 95 % intervals/);
  // The trend and two heads leave 16 − 3 = 13 df between stints; Kenward and Roger's are those of a balanced session.
  expectClose(row["df"] as number, 13, 0.02);
  const byHand = report.sentences.find((sentence) => sentence.startsWith("By hand"))!;
  expect(byHand).toContain(`Heron − Wren ${welch.difference.toFixed(1).replace("-", "\u2212")} (`);
  expect(byHand).toMatch(/over 8 passes\.$/);
});

test("three heads: Tukey and Kramer's simultaneous intervals, wider than those of one pair", () => {
  const three = shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8 }));
  const { rows, report } = runVerb(compare, three, { of: "carry" });
  expect(rows.map((row) => `${row["head"] as string} ${row["against"] as string}`)).toEqual(["Heron Wren", "Plover Wren", "Plover Heron"]);
  expect(report.method).toMatch(/simultaneous 95 % intervals \(Tukey and Kramer\), 90 % for equivalence/);
  const named = runVerb(compare, three, { of: "carry", against: "Wren" });
  expect(named.rows.map((row) => `${row["head"] as string} ${row["against"] as string}`)).toEqual(["Heron Wren", "Plover Wren"]);
  expectClose(named.rows[0]!["difference"] as number, rows[0]!["difference"] as number, 1e-9);
  expect(named.rows[0]!["to"] as number).toBeLessThan(rows[0]!["to"] as number);
});

test("each verdict", () => {
  const far = (add: number, shotSd = 1, stintSd = 0.5) => rotation({ heads: ["Wren", "Heron"], passes: 8, add: [0, add], shotSd, stintSd });
  checkVerdict(far(9), "different by more than the margin");
  checkVerdict(far(3, 2), "different");
  checkVerdict(far(1), "different but too small to matter");
  checkVerdict(far(-0.2), "practically equivalent");
  checkVerdict(far(1, 9, 3), "undecided");
  checkVerdict(rotation({ heads: ["Wren", "Heron"], passes: 1, shotsInStint: 20 }), "no verdict");
});

test("a difference with its interval, its shots and stints, and the margin", () => {
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 8, add: [0, 9] });
  checkSentence(shotTable(shots), /^As struck, carry is \d+\.\d yd longer with Heron than with Wren \(95 % interval \d+\.\d to \d+\.\d; 24 and 24 shots in 8 and 8 stints\)\. Different by more than the margin of 3 yd\.$/);
  checkSentence(shotTable(shots), /^As struck, carry is \d+\.\d yd longer .* Different, by an amount that may be above or below the margin of 8 yd\.$/, { margin: yards(8) });
  checkSentence(shotTable(shots), /Different but too small to matter: the 90 % interval, .*, is inside ±20 yd\.$/, { margin: yards(20) });
});

test("the same difference the other way round reads as shorter, with positive numbers", () => {
  checkSentence(shotTable(rotation({ heads: ["Wren", "Heron"], passes: 8, add: [9, 0] })), /carry is \d+\.\d yd shorter with Heron than with Wren \(95 % interval \d+\.\d to \d+\.\d;/);
});

test("equivalence is said with the 90 % interval, never as no difference", () => {
  checkSentence(shotTable(two), /^As struck, carry is the same for practical purposes with Heron and Wren: the difference is .* yd \(90 % interval .*; 24 and 24 shots in 8 and 8 stints\), inside ±6 yd\. Practically equivalent\.$/, { margin: yards(6) });
});

test("undecided: how many more shots each, in whole stints, with a range", () => {
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 8, shotSd: 6, stintSd: 2 });
  const { rows } = runVerb(compare, shotTable(shots), { of: "carry" });
  expect(rows[0]!["verdict"]).toBe("undecided");
  expect((rows[0]!["more_shots"] as number) % 3).toBe(0);
  checkSentence(shotTable(shots), /^Undecided: Heron − Wren is .* yd in carry as struck \(95 % interval .*\)\. About \d+ more shots each \(\d+ to [a-z0-9 ]+\) would settle a 3 yd question\.$/);
  checkSentence(shotTable(shots), /More than one session can settle: about \d+00 more shots each for a 0\.5 yd question\.$/, { margin: yards(0.5) });
});

test("each head hit in one go: the difference alone, no interval, no verdict", () => {
  const once = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 1, shotsInStint: 20 }));
  const row = runVerb(compare, once, { of: "carry" }).rows[0]!;
  expect(row).toMatchObject({ from: null, to: null, from90: null, to90: null, p: null, df: null, verdict: "no verdict", more_shots: null });
  expect(row["difference"]).not.toBeNull();
  checkSentence(once, /without an interval\. Each head was hit in one go: fatigue and warm-up cannot be told from the head\. No verdict\.$/);
});

test("one of two heads hit in one go is named", () => {
  const once = two.filter((shot) => shot.head === "Heron" || shot.stint === 1).concat(two.filter((shot) => shot.stint === 1));
  checkSentence(shotTable(once), /Wren was hit in one go/);
});

test("two stints a head: an interval, and at best undecided", () => {
  const few = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 2, shotsInStint: 10, add: [0, 90] }));
  const row = runVerb(compare, few, { of: "carry" }).rows[0]!;
  expect(row["from"]).not.toBeNull();
  expect(row["verdict"]).toBe("undecided");
  checkSentence(few, /A verdict needs 3 stints of each head and 8 in all\./);
});

test("three stints a head, six in all: still undecided", () => {
  const six = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 3, add: [0, 60] }));
  expect(runVerb(compare, six, { of: "carry" }).rows[0]!["verdict"]).toBe("undecided");
  expect(runVerb(compare, six, { of: "carry" }).rows[0]!["more_shots"]).toBeGreaterThanOrEqual(3);
});

test("three heads of three stints are nine in all and get verdicts", () => {
  const nine = shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 3, add: [0, 60, 120] }));
  expect(runVerb(compare, nine, { of: "carry" }).rows.map((row) => row["verdict"])).toEqual(Array(3).fill("different by more than the margin"));
});

test("fewer than five shots of a head are listed", () => {
  const few = shotTable([...two.filter((shot) => shot.head === "Wren"), ...two.filter((shot) => shot.head === "Heron").slice(0, 4)]);
  const row = runVerb(compare, few, { of: "carry" }).rows[0]!;
  expect(row).toMatchObject({ from: null, to: null, p: null, verdict: "no verdict", n: 4 });
  checkSentence(few, /^Heron has 4 values of carry \([\d., ]+ yd\): too few for an interval\. No verdict\.$/);
});

test("heads with four shots each get no test and no trend", () => {
  const four = shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 4, shotsInStint: 1 }));
  const said = runVerb(compare, four, { of: "carry" }).report.sentences.join("\n");
  expect(said).not.toMatch(/F\(|trend is taken out|changed by/);
});

test("a head with four shots does not keep the trend of the others from being told", () => {
  const three = rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8 });
  const few = [...three.filter(({ head }) => head !== "Plover"), ...three.filter(({ head }) => head === "Plover").slice(0, 4)];
  const said = runVerb(compare, shotTable([...few].sort((a, b) => a.stint - b.stint)), { of: "carry" }).report.sentences.join("\n");
  expect(said).not.toMatch(/F\(/);
  expect(said).toMatch(/this trend is taken out/);
});

test("a head too small to be compared is said once, not once a pair", () => {
  const three = rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8 });
  const few = [...three.filter((shot) => shot.head !== "Plover"), ...three.filter((shot) => shot.head === "Plover").slice(0, 2)];
  const { sentences } = runVerb(compare, shotTable(few), { of: "carry" }).report;
  expect(sentences.filter((sentence) => sentence.startsWith("Plover has 2 values"))).toHaveLength(1);
});

test("more than twenty pairs are called an exploration", () => {
  // Far apart, since how many more shots would settle what is undecided takes long to work out.
  const seven = shotTable(rotation({ heads: "ABCDEFG".split(""), passes: 3, add: [0, 60, 120, 180, 240, 300, 360] }));
  checkSentence(seven, /^21 pairs at once are an exploration/);
});

test("a head without any value", () => {
  const none = shotTable(two.map((shot) => (shot.head === "Wren" ? { ...shot, carry: null } : shot)));
  const row = runVerb(compare, none, { of: "carry" }).rows[0]!;
  expect(row).toMatchObject({ difference: null, verdict: "no verdict", n: 24, n_against: 0, stints_against: 0 });
  checkSentence(none, /^Wren has no value of carry\. No verdict\.$/);
});

test("order unknown: a rule of thumb, labelled, without a verdict", () => {
  const unknown = shotTable(two, [facts({ orderKnown: false })]);
  const { rows, report, problems } = runVerb(compare, unknown, { of: "carry" });
  expect(rows[0]).toMatchObject({ verdict: "no verdict", stints: null, stints_against: null, n: 24 });
  expect(rows[0]!["from"]).not.toBeNull();
  expect(report.method).toMatch(/single shots as if they were independent/);
  expect(problems.map((each) => each.code)).toEqual(["trade.order-unknown"]);
  checkSentence(unknown, /as if shots were independent\. Order unknown: the interval is likely too narrow\. No verdict\.$/);
});

test("a table that has lost its stints is as one whose order is not known", () => {
  const all = shotTable(two);
  const lost = makeTable(all.columns.filter((column) => column.name !== "stint"), all.rowCount, all);
  expect(runVerb(compare, lost, { of: "carry" }).rows[0]!["verdict"]).toBe("no verdict");
});

test("heads hit at different times of the session are mixed with drift", () => {
  // The player took a break after each of C's stints, so that these are four.
  const late = "ABABABABCCCC".split("").flatMap((head, stint) => [1, 2, 3].map((i): Shot => ({ head, stint, carry: 150 + stint + i })));
  const { rows } = runVerb(compare, shotTable(late), { of: "carry" });
  expect(rows.map((row) => row["verdict"])).toEqual(["undecided", "no verdict", "no verdict"]);
  checkSentence(shotTable(late), /C and A were hit at different times of the session: the difference cannot be told from drift\. No verdict\.$/);
});

/** Heads that are alike, hit in the order given, one stint a letter, with a drop of 8 yd half-way. */
function withDrop(order: string, session = "s1", seed = 1): readonly Shot[] {
  const names: Record<string, string> = { W: "Wren", H: "Heron", P: "Plover" };
  const normal = normals(seed);
  return order.split("").flatMap((head, i) =>
    Array.from({ length: 3 }, (): Shot => ({ session, head: names[head]!, stint: i + 1, carry: (i < order.length / 2 ? 150 : 142) + normal() })),
  );
}

test("identical heads hit one after the other, each in turn with a third, get no verdict, whether or not the third is there", () => {
  const shots = withDrop("WPWPWPWPHPHPHPHP");
  const wanted = /^Heron − Wren is −[\d.]+ yd .*\. Heron and Wren were hit at different times of the session: the difference cannot be told from drift\. No verdict\.$/;
  checkSentence(shotTable(shots), wanted);
  checkSentence(shotTable(shots.filter((shot) => shot.head !== "Plover")), wanted);
  // The third head was hit before and after the first had ended, and before the second began.
  expect(runVerb(compare, shotTable(shots), { of: "carry" }).rows.map((row) => row["verdict"])).toEqual(["undecided", "no verdict", "undecided"]);
});

test("identical heads hit in one go in each of two sessions, breaks or not, get no verdict", () => {
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  const table = shotTable([...withDrop("WWWHHH", "s1", 1), ...withDrop("WWWHHH", "s2", 2)], days);
  expect(runVerb(compare, table, { of: "carry" }).rows[0]).toMatchObject({ verdict: "no verdict", from: null, p: null });
  checkSentence(table, /without an interval\. Each head was hit in one go, and a break does not change that: fatigue and warm-up cannot be told from the head\. No verdict\.$/);
});

test("a session in which a pair was hit in one go is left out of it, and said", () => {
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  const table = shotTable([...withDrop("WHWHWHWH", "s1", 1), ...withDrop("WWWHHH", "s2", 2)], days);
  expect(runVerb(compare, table, { of: "carry" }).rows[0]).toMatchObject({ n: 12, stints: 4 });
  checkSentence(table, /^s2 is left out of the difference of Heron and Wren: there the two were hit at different times, and it cannot be told from drift\.$/);
});

test("stints without any scatter leave no interval", () => {
  const flat = shotTable(two.map((shot) => ({ ...shot, carry: shot.head === "Wren" ? 150 : 160 })));
  expect(runVerb(compare, flat, { of: "carry" }).rows[0]).toMatchObject({ difference: 10, from: null, verdict: "no verdict" });
  checkSentence(flat, /without an interval: all stints of either head have the same mean\. No verdict\.$/);
});

test("stock shots only, with counts", () => {
  const mixed = two.map((shot, i): Shot => ({ ...shot, intent: i < 6 ? "warm-up" : i < 8 ? "draw" : "stock" }));
  expect(runVerb(compare, shotTable(mixed), { of: "carry" }).rows[0]!["n"]).toBe(21);
  checkSentence(shotTable(mixed), /^Stock shots only: 40 of 48; left out: 6 warm-up, 2 draw\.$/);
  checkSentence(shotTable(two.map((shot) => ({ ...shot, intent: "stock" }))), /^All 48 shots are stock shots\.$/);
  checkSentence(shotTable(two.map((shot) => ({ ...shot, intent: "draw" }))), /^None of the 48 shots is a stock shot; all of them are used \(48 draw\)\.$/);
});

test("intents can be compared with one another", () => {
  const mixed = two.map((shot, i): Shot => ({ ...shot, intent: Math.floor(i / 6) % 2 === 0 ? "stock" : "draw" }));
  const { rows } = runVerb(compare, shotTable(mixed), { of: "carry", by: "intent" });
  expect(rows[0]).toMatchObject({ head: "draw", against: "stock", n: 24 });
});

test("missing values are counted head by head and never taken for 0", () => {
  const gaps = two.map((shot, i) => (shot.head === "Heron" && i % 4 === 0 ? { ...shot, carry: null } : shot));
  const missing = gaps.flatMap((shot, i) => (shot.carry === null ? i + 1 : []));
  const value = { head: "Heron", column: "carry", recorded: 12, unit: "yd", because: "misread" } as const;
  const aside = facts({ setAsideValues: [...missing.slice(0, 2), 999].map((shot) => ({ shot, ...value })) });
  const { rows, problems } = runVerb(compare, shotTable(gaps, [aside]), { of: "carry" });
  expect(rows[0]!["n"]).toBe(20);
  expect(rows[0]!["difference"] as number).toBeGreaterThan(-10);
  expect(problems.map((each) => each.code)).toEqual(["trade.unequal-missing"]);
  checkSentence(shotTable(gaps, [aside]), /^Carry is missing in 4 of 24 shots of Heron \(2 set aside\)\.$/);
  checkSentence(shotTable(two), /^No value of carry is missing\.$/);
});

test("shots without a head are left out and counted", () => {
  checkSentence(shotTable(two.map((shot, i) => (i < 1 ? { ...shot, head: null } : shot))), /^1 of 48 shots has no head and is left out\.$/);
  const lost = two.map((shot, i) => (i < 3 ? { ...shot, head: null } : shot));
  checkSentence(shotTable(lost), /^3 of 48 shots have no head and are left out\.$/);
});

const build = (name: string, more: Partial<HeadBuild>): HeadBuild => ({ name, kind: "iron", strikeReference: { x: 0, y: 0 }, ...more });

test("builds that differ are said with their numbers, equal ones in other units are not", () => {
  const heads = [
    build("Wren", { loft: { value: 34, unit: "deg" }, length: { value: 37, unit: "in" }, shaft: "S1" }),
    build("Heron", { loft: { value: 33.5, unit: "deg" }, length: { value: 93.98, unit: "cm" }, shaft: "S2" }),
  ];
  const table = shotTable(two, [facts({ heads })]);
  checkSentence(table, /^The builds differ in loft: Wren 34°, Heron 33\.5°\.$/);
  checkSentence(table, /^The builds differ in shaft: Wren S1, Heron S2\.$/);
  expect(runVerb(compare, table, { of: "carry" }).report.sentences.join(" ")).not.toMatch(/length|lie/);
});

test("a build that is another one in another session is said", () => {
  const loft = (value: number) => ({ value, unit: "deg" as const });
  const days = [
    facts({ name: "s1", heads: [build("Wren", { loft: loft(34) }), build("Heron", { loft: loft(34), shaft: "S1" })] }),
    facts({ name: "s2", heads: [build("Wren", { loft: loft(31) }), build("Heron", { loft: loft(34), shaft: "S1" })] }),
  ];
  const table = shotTable(overDays(), days);
  checkSentence(table, /^The loft of Wren is not the same in all sessions: 34° in s1 and 31° in s2\.$/);
  checkSentence(table, /^The builds differ in loft: Wren 34° or 31°, Heron 34°\.$/);
  expect(runVerb(compare, table, { of: "carry" }).report.sentences.join(" ")).not.toMatch(/shaft/);
});

test("heads come in the order in which the session lists them", () => {
  const heads = [build("Heron", {}), build("Wren", {})];
  expect(runVerb(compare, shotTable(two, [facts({ heads })]), { of: "carry" }).rows[0]).toMatchObject({ head: "Wren", against: "Heron" });
});

test("calculated columns and synthetic data are said, and the tester last of all", () => {
  const table = shotTable(two, [facts({ calculated: ["carry"], synthetic: true })]);
  checkSentence(table, /^Carry was calculated by the monitor from other readings, not measured\.$/);
  checkSentence(table, /^Synthetic data/);
  expect(runVerb(compare, table, { of: "carry" }).report.sentences.at(-1)).toBe("One tester, one session.");
});

test("a margin comes from the option, else the notebook, else the session, else the default of the column", () => {
  const session = facts({ margins: { carry: { value: 5, unit: "m" } } });
  const marginIn = (table: Table, options = {}, margins = {}) => numbers(runVerb(compare, table, { of: "carry", ...options }, { margins }).table, "margin")[0]!;
  expectClose(marginIn(shotTable(two)), 3, 1e-12);
  expectClose(marginIn(shotTable(two, [session])), 5 / 0.9144, 1e-12);
  expectClose(marginIn(shotTable(two, [session]), {}, { carry: yards(4) }), 4, 1e-12);
  expectClose(marginIn(shotTable(two, [session]), { margin: { value: 2, unit: "m" } }, { carry: yards(4) }), 2 / 0.9144, 1e-12);
  checkSentence(shotTable(two), /^The margin of 3 yd is the default for carry\.$/);
  checkSentence(shotTable(two, [session]), /^The margin of 5\.47 yd \(5 m\) is stated in the session\.$/);
});

test("metres in, metres out", () => {
  const inMetres = (table: Table) => makeTable(
    table.columns.map((column) => (column.name === "carry" && column.kind === "number" ? numberColumn("carry", column.values.map((v) => v * 0.9144), "m") : column)),
    table.rowCount,
    table,
  );
  const [plain, metres] = [shotTable(two), inMetres(shotTable(two))].map((table) => runVerb(compare, table, { of: "carry" }));
  expectClose(metres!.rows[0]!["difference"] as number, 0.9144 * (plain!.rows[0]!["difference"] as number), 1e-9);
  expectClose(metres!.rows[0]!["to"] as number, 0.9144 * (plain!.rows[0]!["to"] as number), 1e-9);
  expectClose(metres!.rows[0]!["margin"] as number, 0.9144 * 3, 1e-12);
  expect(metres!.rows[0]!["verdict"]).toBe(plain!.rows[0]!["verdict"]);
});

test("the default is that of the kind of head", () => {
  const heads = [build("Wren", {}), build("Heron", { kind: "wood" })];
  expect(runVerb(compare, shotTable(two, [facts({ heads })]), { of: "carry" }).rows[0]!["margin"]).toBe(3);
});

test("a column without a default margin asks for one", () => {
  const extra = numberColumn("feel", two.map((_, i) => i % 10), null, "stated");
  const table = shotTable(two, [facts()], [extra]);
  expect(refusal(compare, table, { of: "feel" })).toEqual(["trade.no-margin"]);
  expect(runVerb(compare, table, { of: "feel", margin: 1 }).rows[0]!["margin"]).toBe(1);
  checkSentence(table, /in feel as struck|feel is/, { of: "feel", margin: 1 });
});

test("a margin that was stated and could not be read is not replaced by another, and there is no verdict", () => {
  const session = facts({ margins: { carry: yards(5) } });
  const inNotebook = { marginsUnread: true };
  expect(refusal(compare, shotTable(two), { of: "carry" }, inNotebook)).toEqual(["trade.margin-unread"]);
  expect(refusal(compare, shotTable(two, [session]), { of: "carry" }, inNotebook)).toEqual(["trade.margin-unread"]);
  expect(refusal(compare, shotTable(two, [facts({ marginsUnread: true })]), { of: "carry" })).toEqual(["trade.margin-unread"]);
  // What is stated for this column and can be read stands.
  expect(refusal(compare, shotTable(two), { of: "carry" }, { ...inNotebook, margins: { carry: yards(3) } })).toEqual([]);
  expect(refusal(compare, shotTable(two), { of: "carry", margin: yards(3) }, inNotebook)).toEqual([]);
  expect(refusal(compare, shotTable(two, [{ ...session, marginsUnread: true }]), { of: "carry" })).toEqual([]);
});

test("a margin stated in another unit is shown as it was stated too", () => {
  checkSentence(shotTable(two), /^The margin of 3\.28 yd \(3 m\) is stated here\.$/, { margin: { value: 3, unit: "m" } });
  checkSentence(shotTable(two), /^The margin of 3 yd is stated here\.$/, { margin: yards(3) });
});

test("asked for the margin of a column without one, the hint names only what is accepted", () => {
  const derived = [numberColumn("gain", two.map((_, i) => i % 10), "yd"), numberColumn("speed_ratio", two.map((_, i) => i % 10)), numberColumn("flight_time", two.map((_, i) => i % 10), "s")];
  const hint = (of: string) => {
    const result = compare.run(shotTable(two, [facts()], derived), [{ kind: "options", values: { of } }], context());
    return result.type === "refused" ? result.problems.map((each) => each.make(textStart).hint).join() : "";
  };
  expect(hint("gain")).toBe('give the option margin with its unit in quotes: margin: "1 yd"');
  expect(hint("speed_ratio")).toBe("give the option margin as a plain number, since the column has no unit: margin: 0.02");
  expect(hint("flight_time")).toMatch(/^give .*: margin: "1 s", or state it in the front matter: margin: \{ flight_time: 1 s \}; carry, /);
  checkSentence(shotTable(two, [facts()], derived), /margin of 0\.02 is stated here/, { of: "speed_ratio", margin: 0.02 });
});

test("margins that cannot be", () => {
  expect(refusal(compare, shotTable(two), { of: "carry", margin: yards(0) })).toEqual(["trade.bad-margin"]);
  expect(refusal(compare, shotTable(two), { of: "carry", margin: yards(-3) })).toEqual(["trade.bad-margin"]);
  expect(refusal(compare, shotTable(two), { of: "carry" }, { margins: { carry: { value: 1, unit: "mph" } } })).toEqual(["trade.margin-unit"]);
  const days = [facts({ name: "s1", margins: { carry: yards(3) } }), facts({ name: "s2", margins: { carry: yards(4) } })];
  expect(refusal(compare, shotTable(overDays(), days), { of: "carry" })).toEqual(["trade.margins-differ"]);
  expect(refusal(compare, shotTable(overDays(), days), { of: "carry", margin: yards(4) })).toEqual([]);
});

function overDays(): readonly Shot[] {
  return ["s1", "s2"].flatMap((session, day) => rotation({ heads: ["Wren", "Heron"], passes: 4, seed: 3 + day }).map((shot) => ({ ...shot, session, carry: shot.carry! + 30 * day })));
}

test("several sessions: differences within each, and said", () => {
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  const { rows, report, problems } = runVerb(compare, shotTable(overDays(), days), { of: "carry" });
  expect(rows[0]).toMatchObject({ n: 24, stints: 8 });
  // Thirty yards lie between the days, and none of them between the heads.
  expect((rows[0]!["to"] as number) - (rows[0]!["from"] as number)).toBeLessThan(10);
  expect(problems).toEqual([]);
  expect(report.sentences.at(-1)).toBe("One tester, 2 sessions.");
  checkSentence(shotTable(overDays(), days), /^Shots of 2 sessions: differences are taken within each session/);
});

/** Two days on which the second head differs from the first by 0 and by `unlike` yards. */
function unlikeDays(unlike: number): Table {
  const shots = [0, unlike].flatMap((add, day) => rotation({ heads: ["Wren", "Heron"], passes: 8, add: [0, 5 + add], seed: 3 + day }).map((shot): Shot => ({ ...shot, session: `s${day + 1}` })));
  return shotTable(shots, [facts({ name: "s1" }), facts({ name: "s2" })]);
}

test("heads that differ otherwise on another day get no verdict of a difference", () => {
  expect(runVerb(compare, unlikeDays(0), { of: "carry" }).rows[0]!["verdict"]).toMatch(/^different/);
  const { rows, report } = runVerb(compare, unlikeDays(12), { of: "carry" });
  expect(rows[0]).toMatchObject({ verdict: "undecided", more_shots: null });
  expect(report.sentences[0]).toMatch(/^Undecided, since the heads do not differ alike in all sessions: Heron − Wren is .* stints\); [\d.]+ yd in s1 and 1[\d.]+ yd in s2\.$/);
});

test("at the same strikes too, heads that differ otherwise on another day get no verdict of a difference", () => {
  const table = unlikeDays(12);
  const normal = normals(9);
  const strike = (name: string, sd: number) => numberColumn(name, Array.from({ length: table.rowCount }, () => sd * normal()), "mm", "measured");
  const struck = makeTable([...table.columns, strike("strike_x", 8), strike("strike_y", 5)], table.rowCount, table);
  expect(runVerb(compare, struck, { of: "carry" }).rows.map((row) => row["verdict"])).toEqual(["undecided", "undecided"]);
  checkSentence(struck, /^Undecided, since the heads do not differ alike in all sessions: .* at the same strikes .* yd in s1 and [\d.]+ yd in s2\.$/);
});

test("beside verdicts from several sessions the answer says that other days are not known", () => {
  const { report } = runVerb(compare, unlikeDays(0), { of: "carry" });
  expect(report.sentences[1]).toMatch(/^This is for the days of these 2 sessions \(Heron − Wren [\d.]+ yd in s1 and [\d.]+ yd in s2\): how a difference between heads repeats on other days is not known\.$/);
  expect(report.answer).toBe(2);
  expect(runVerb(compare, shotTable(two), { of: "carry" }).report.sentences.join(" ")).not.toMatch(/other days/);
});

test("heads never hit in the same session are not compared", () => {
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  const apart = overDays().filter((shot) => (shot.session === "s1") === (shot.head === "Wren"));
  const { rows, problems } = runVerb(compare, shotTable(apart, days), { of: "carry" });
  expect(rows[0]).toMatchObject({ difference: null, from: null, verdict: "no verdict" });
  expect(problems.map((each) => each.code)).toEqual(["trade.sessions-differ"]);
  checkSentence(shotTable(apart, days), /have no session in common: a difference between them cannot be told from a difference between days/);
});

test("compared by session, the sentence speaks of sessions and nothing asks to hit them", () => {
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  const { report, problems } = runVerb(compare, shotTable(overDays(), days), { of: "carry", by: "session" });
  expect(problems).toEqual([]);
  expect(report.sentences[0]).toBe("s2 and s1 are different sessions: heads are compared within a session, since between sessions the day differs too. No verdict.");
});

test("a column that only a session left out calculates is not called calculated", () => {
  const carry = numberColumn("carry", two.map((shot) => shot.carry!), "yd", "calculated");
  const table = shotTable(two, [facts()]);
  const joined = { ...table, columns: table.columns.map((column) => (column.name === "carry" ? carry : column)) };
  const { sentences } = runVerb(compare, joined, { of: "carry" }).report;
  expect(sentences.some((sentence) => sentence.includes("calculated by the monitor"))).toBe(false);
  expect(sentences.length).toBeGreaterThan(3);
});

test("a column calculated in one session of two says in which", () => {
  const days = [facts({ name: "s1", calculated: ["carry"] }), facts({ name: "s2" })];
  checkSentence(shotTable(overDays(), days), /^Carry was calculated by the monitor from other readings, not measured, in s1\.$/);
});

test("two players are never taken together", () => {
  const both = two.map((shot, i): Shot => ({ ...shot, player: i % 2 === 0 ? "P1" : "P2" }));
  expect(refusal(compare, shotTable(both), { of: "carry" })).toEqual(["trade.several-players"]);
  const days = [facts({ name: "s1", player: "P1" }), facts({ name: "s2", player: "P2" })];
  expect(refusal(compare, shotTable(overDays(), days), { of: "carry" })).toEqual(["trade.several-players"]);
  expect(runVerb(compare, shotTable(both), { of: "carry", by: "player" }).report.sentences.at(-1)).toBe("2 testers, one session.");
});

test("shots concatenated with themselves are not counted twice", () => {
  const twice = [0, 1].flatMap(() => two.map((shot, i) => ({ ...shot, carry: shot.carry!, number: i + 1 })));
  const shot = numberColumn("shot", twice.map((each) => each.number));
  const once = shotTable(twice);
  const table = { ...once, columns: once.columns.map((column) => (column.name === "shot" ? shot : column)) };
  expect(refusal(compare, table, { of: "carry" })).toEqual(["trade.repeated-shots"]);
  expect(refusal(describe, table, { of: "carry" })).toEqual(["trade.repeated-shots"]);
  // The same shot in two groups is a shot of each, as after fold.
  const key = textColumn("key", twice.map((_, i) => (i < two.length ? "carry" : "total")));
  expect(refusal(compare, { ...table, columns: [...table.columns, key] }, { of: "carry", by: "key" })).toEqual([]);
});

test("select that drops intent, player and shot is warned of, and nobody is called one tester", () => {
  const players = two.map((shot, i): Shot => ({ ...shot, player: i % 2 === 0 ? "P1" : "P2" }));
  const all = shotTable(players);
  const selected = makeTable(all.columns.filter(({ name }) => ["head", "carry", "stint"].includes(name)), all.rowCount, all);
  const { report, problems } = runVerb(compare, selected, { of: "carry" });
  expect(problems.map((each) => each.message)).toEqual([
    "the table no longer has intent, player and shot: shots that are no stock shots, such as warm-up, cannot be left out; whether one player hit all shots is not known; whether a shot is here twice is not known",
  ]);
  expect(problems[0]!.severity).toBe("warning");
  expect(report.sentences.at(-1)).toBe("Tester not known, one session.");
  checkSentence(selected, /^The table no longer has the column intent: all shots are used, those that are no stock shots among them\.$/);
  expect(runVerb(compare, shotTable(two), { of: "carry" }).problems).toEqual([]);
});

test("a session that states no player is not one of one tester", () => {
  const table = shotTable(two, [facts({ player: null })]);
  expect(runVerb(compare, table, { of: "carry" }).report.sentences.at(-1)).toBe("Tester not known, one session.");
  expect(runVerb(compare, table, { of: "carry" }).problems).toEqual([]);
});

test("errors in the data are said beside the verdict", () => {
  const days = [facts({ name: "s1", file: "s1.session.yaml", errors: 2 }), facts({ name: "s2", file: "s2.session.yaml", errors: 0 })];
  checkSentence(shotTable(overDays(), days), /^2 errors in s1\.session\.yaml or its exports: what they concern is missing or not used\.$/);
  const both = days.map((session) => ({ ...session, errors: 1 }));
  checkSentence(shotTable(overDays(), both), /^2 errors in s1\.session\.yaml and s2\.session\.yaml or their exports: what they concern is missing or not used\.$/);
  expect(runVerb(describe, shotTable(two, [facts({ errors: 1 })]), { of: "carry" }).report.sentences.join()).toMatch(/1 error in s1/);
  expect(runVerb(compare, shotTable(two, [facts({ errors: 0 })]), { of: "carry" }).report.sentences.join()).not.toMatch(/errors? in/);
});

test("tables that cannot be compared say why", () => {
  const only = two.filter((shot) => shot.head === "Wren");
  expect(refusal(compare, shotTable(only), { of: "carry" })).toEqual(["trade.one-group"]);
  expect(refusal(compare, shotTable([]), { of: "carry" })).toEqual(["trade.no-shots"]);
  const many = shotTable(rotation({ heads: "ABCDEFGHIJKLM".split(""), passes: 2 }));
  expect(refusal(compare, many, { of: "carry" })).toEqual(["trade.too-many-groups"]);
  const grouped: Table = { ...shotTable(two), groupedBy: ["session"] };
  expect(refusal(compare, grouped, { of: "carry" })).toEqual(["trade.grouped"]);
  expect(inferredProblems(compare, grouped, { of: "carry" })).toEqual(["trade.grouped"]);
  const days = shotTable(overDays(), [facts({ name: "s1" }), facts({ name: "s2" })]);
  const unsaid = makeTable(days.columns.filter((column) => column.name !== "session"), days.rowCount, days);
  expect(refusal(compare, unsaid, { of: "carry" })).toEqual(["trade.no-session-column"]);
  const headless = makeTable([numberColumn("carry", [1, 2], "yd"), textColumn("zone", ["high", "low"])], 2);
  expect(refusal(compare, headless, { of: "carry" })).toEqual(["trade.no-group-column"]);
  expect(inferredProblems(compare, headless, { of: "carry" })).toEqual(["trade.no-group-column"]);
});

test("compared by something else than heads, the heads taken together are named", () => {
  const ball = textColumn("ball", two.map((_, i) => (Math.floor(i / 6) % 2 === 0 ? "B1" : "B2")), "stated");
  const table = shotTable(two, [facts()], [ball]);
  expect(runVerb(compare, table, { of: "carry", by: "ball" }).rows[0]).toMatchObject({ head: "B2", against: "B1" });
  checkSentence(table, /^Shots of Wren and Heron are taken together within each ball\.$/, { by: "ball" });
});

test("a lower confidence narrows the interval and is named; the 90 % interval stays", () => {
  const [usual, lower] = [0.95, 0.8].map((confidence) => runVerb(compare, shotTable(two), { of: "carry", confidence }));
  expect(lower!.rows[0]!["to"] as number).toBeLessThan(usual!.rows[0]!["to"] as number);
  expect(lower!.rows[0]!["to90"]).toBe(usual!.rows[0]!["to90"]);
  expect(lower!.report.method).toMatch(/80 % intervals/);
  expect(lower!.report.confidence).toBe(0.8);
  expect(JSON.stringify(lower!.report.picture!.spec["title"])).toContain("Thin bars: 80 % interval. Thick bars: 90 % interval.");
});

test("a few far shots that drive a difference are pointed out", () => {
  // One shot in each of Heron's stints went nowhere; the others are as Wren's.
  const wild = two.map((shot, i) => (shot.head === "Heron" && i % 3 === 0 ? { ...shot, carry: shot.carry! - 40 } : shot));
  checkSentence(shotTable(wild), /^Heron − Wren: a few shots drive the difference\. Single shots differ by −1\d\.\d yd on average, and by −?\d\.\d yd in the median \(Hodges and Lehmann\)\.$/);
});

test("directions have words of their own", () => {
  const offline = numberColumn("offline", two.map((shot, i) => (shot.head === "Heron" ? 12 : 0) + (i % 5)), "yd");
  const strike = numberColumn("strike_x", two.map((shot, i) => (shot.head === "Heron" ? -12 : 0) + (i % 5)), "mm");
  const table = shotTable(two, [facts()], [offline, strike]);
  checkSentence(table, /offline is \d+\.\d+ yd farther right with Heron/, { of: "offline" });
  checkSentence(table, /strike x is \d+\.\d+ mm farther to the heel with Heron/, { of: "strike_x", margin: { value: 2, unit: "mm" } });
});

test("relabelling heads turns differences round and changes no verdict", () => {
  const turned = two.map((shot) => ({ ...shot, head: shot.head === "Wren" ? "Heron" : "Wren" }));
  const [plain, other] = [two, turned].map((shots) => runVerb(compare, shotTable(shots, [facts({ heads: [build("Wren", {}), build("Heron", {})] })]), { of: "carry" }).rows[0]!);
  expectClose(other!["difference"] as number, -(plain!["difference"] as number), 1e-12);
  expectClose(other!["from"] as number, -(plain!["to"] as number), 1e-12);
  expect(other!["verdict"]).toBe(plain!["verdict"]);
});

test("whatever the shots, a comparison gives whole rows or a reason, and no NaN is shown", () => {
  const shot = fc.record({
    head: fc.constantFrom("Wren", "Heron", "Plover", null),
    stint: fc.integer({ min: 1, max: 12 }),
    carry: fc.oneof({ weight: 4, arbitrary: fc.integer({ min: 1300, max: 1600 }).map((n) => n / 10) }, { weight: 1, arbitrary: fc.constant(null) }),
    intent: fc.constantFrom("stock", "stock", "draw"),
    session: fc.constantFrom("s1", "s2"),
  });
  const days = [facts({ name: "s1" }), facts({ name: "s2" })];
  let compared = 0;
  fc.assert(
    fc.property(fc.array(shot, { maxLength: 60, size: "max" }), (shots) => {
      const table = shotTable(shots, days);
      if (refusal(compare, table, { of: "carry" }).length > 0) return;
      compared++;
      const { rows, table: result } = runVerb(compare, table, { of: "carry" });
      for (const row of rows) {
        expect(verdicts).toContain(row["verdict"]);
        expect(row["from"] === null).toBe(row["to"] === null);
        if (row["verdict"] !== "no verdict") expect(row["from"]).not.toBeNull();
        expect(row["more_shots"] === null || row["verdict"] === "undecided").toBe(true);
      }
      for (const column of result.columns) if (column.kind === "number") expect(column.values.every((v) => Number.isNaN(v) || Number.isFinite(v))).toBe(true);
    }),
    { seed: 81, numRuns: 30 },
  );
  expect(compared).toBeGreaterThan(20);
});

/** A session of heads that fall off alike, with strikes; Heron is 6 yd longer and hit farther out. */
function withStrikes(heads = ["Wren", "Heron"], strikeOf: (head: string) => readonly [number, number] = (head) => (head === "Heron" ? [9, -4] : [0, 0]), passes = 10): Table {
  const normal = normals(12);
  const shots = rotation({ heads, passes, stintSd: 0.5, shotSd: 2, seed: 12 });
  const x = shots.map((shot) => strikeOf(shot.head!)[0] + 8 * normal());
  const y = shots.map((shot) => strikeOf(shot.head!)[1] + 5 * normal());
  const carried = shots.map((shot, i): Shot => ({ ...shot, carry: shot.carry! + (shot.head === "Heron" ? 6 : 0) - 0.03 * x[i]! ** 2 - 0.05 * y[i]! ** 2 }));
  return shotTable(carried, [facts()], [numberColumn("strike_x", x, "mm", "measured"), numberColumn("strike_y", y, "mm", "measured")]);
}

test("where strikes are known, each pair is compared as struck and at the same strikes, and the latter is the headline", () => {
  const { rows, report } = runVerb(compare, withStrikes(), { of: "carry" });
  expect(rows.map((row) => row["strikes"])).toEqual(["as struck", "same"]);
  expect(rows[0]!["verdict"]).toBe("undecided");
  expect(rows[1]!["verdict"]).toMatch(/^different/);
  expect(report.sentences[0]).toMatch(/^At the same strikes, carry is \d\.\d+ yd longer with Heron than with Wren \(95 % interval [\d.]+ to [\d.]+; 30 and 30 shots in 10 and 10 stints\)\. Different/);
  expect(report.sentences[1]).toMatch(/^Heron − Wren as struck is −?\d.* yd \(.*; undecided\), at the same strikes \d\.\d+ yd; −\d\.\d+ yd is due to where the face was hit: Wren was hit nearer the centre\.$/);
  expect(report.answer).toBe(2);
  expect(report.sentences).toContain("The strikes of Heron and Wren differ strongly (by more than 1 SD): the answer at the same strikes leans on the shape of the strike model.");
  expect(report.method).toMatch(/; as struck, and at the same strikes by a quadratic strike surface \(fall-off of each its own, tilt and twist shared\)\.$/);
  expect(report.picture!.description).toContain("Heron − Wren, same strikes: ");
});

test("the share that is due to where the face was hit is the difference of the numbers shown", () => {
  const sentence = runVerb(compare, withStrikes(), { of: "carry" }).report.sentences[1]!.replaceAll("\u2212", "-");
  const [struck, same, due] = [/as struck is (-?[\d.]+)/, /at the same strikes (-?[\d.]+)/, /; (-?[\d.]+) yd is due/].map((wanted) => Number(wanted.exec(sentence)![1]));
  expectClose(due!, struck! - same!, 0, 1e-9);
});

test("the option strikes keeps one kind", () => {
  expect(runVerb(compare, withStrikes(), { of: "carry", strikes: "same" }).rows.map((row) => row["strikes"])).toEqual(["same"]);
  expect(runVerb(compare, withStrikes(), { of: "carry", strikes: "as struck" }).rows.map((row) => row["strikes"])).toEqual(["as struck"]);
  expect(runVerb(compare, withStrikes(), { of: "carry", strikes: "as struck" }).report.sentences[0]).toMatch(/^Undecided: Heron − Wren .* as struck/);
});

test("asked for the same strikes where nothing can be said of them, compare says why", () => {
  const same = { of: "carry", strikes: "same" } as const;
  expect(refusal(compare, shotTable(two), same)).toEqual(["trade.no-same-strikes"]);
  expect(inferredProblems(compare, shotTable(two), same)).toEqual(["trade.no-same-strikes"]);
  expect(inferredProblems(compare, withStrikes(), same)).toEqual([]);
  const table = withStrikes();
  expect(refusal(compare, { ...table, sessions: [facts({ orderKnown: false })] }, same)).toEqual(["trade.no-same-strikes"]);
  expect(refusal(compare, table, { ...same, of: "strike_x", margin: { value: 2, unit: "mm" } })).toEqual(["trade.no-same-strikes"]);
  const unknown = { ...table, columns: table.columns.map((column) => (column.name === "strike_x" ? numberColumn("strike_x", Array(table.rowCount).fill(Number.NaN), "mm") : column)) };
  expect(refusal(compare, unknown, same)).toEqual(["trade.no-same-strikes"]);
  expect(runVerb(compare, unknown, { of: "carry" }).rows.map((row) => row["strikes"])).toEqual(["as struck"]);
  checkSentence(unknown, /^Not compared at the same strikes: no shot has a known strike\.$/);
  checkSentence(shotTable(two), /^Not compared at the same strikes: the table has no strikes\.$/);
});

test("shots without a strike count as struck alone, and each row says how many it rests on", () => {
  const table = withStrikes();
  const lost = { ...table, columns: table.columns.map((column) => (column.name === "strike_y" && column.kind === "number" ? numberColumn("strike_y", column.values.map((value, i) => (i < 5 ? Number.NaN : value)), "mm") : column)) };
  expect(runVerb(compare, lost, { of: "carry" }).rows.map((row) => [row["n"], row["n_against"]])).toEqual([[30, 30], [28, 27]]);
});

test("heads not hit in the same places: the verdict is as struck, and that is said", () => {
  const apart = withStrikes(["Wren", "Heron"], (head) => (head === "Heron" ? [25, 12] : [-25, -12]));
  const { rows, report } = runVerb(compare, apart, { of: "carry" });
  expect(rows[1]).toMatchObject({ strikes: "same", difference: null, from: null, verdict: "no verdict" });
  expect(report.sentences[1]).toBe("Not compared at the same strikes: Heron and Wren, since the heads were not hit in the same places. The verdict is as struck.");
  expect(report.picture!.description).toContain("Heron − Wren, same strikes: no difference: no verdict.");
  expect(runVerb(compare, apart, { of: "carry", strikes: "same" }).report.sentences[0]).toBe(
    "Heron and Wren are not compared at the same strikes: the heads were not hit in the same places. No verdict.",
  );
});

test("three heads: the answer is six lines, and details follow", () => {
  const { report } = runVerb(compare, withStrikes(["Wren", "Heron", "Plover"]), { of: "carry" });
  expect(report.answer).toBe(6);
  expect(report.sentences.length).toBeLessThan(19);
  expect(report.sentences.filter((sentence) => sentence.startsWith("All heads alike as struck: F(2, "))).toHaveLength(1);
  expect(report.sentences.filter((sentence) => sentence.includes("this trend is taken out"))).toHaveLength(1);
});

test("strikes in inches are taken as the same places", () => {
  const table = withStrikes();
  const inInches = { ...table, columns: table.columns.map((column) => (column.name.startsWith("strike_") && column.kind === "number" ? numberColumn(column.name, column.values.map((value) => value / 25.4), "in") : column)) };
  const [plain, inches] = [table, inInches].map((each) => runVerb(compare, each, { of: "carry" }).rows[1]!);
  expectClose(inches!["difference"] as number, plain!["difference"] as number, 1e-9);
});

test("against one head: pairs with it alone, and an unknown one is answered with the names", () => {
  const three = shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 8 }));
  const { rows, report } = runVerb(compare, three, { of: "carry", against: "Heron" });
  expect(rows.map((row) => `${row["head"] as string} ${row["against"] as string}`)).toEqual(["Wren Heron", "Plover Heron"]);
  expect(report.method).toMatch(/simultaneous \(Bonferroni\) 95 % intervals, p values by Holm's method, 90 % for equivalence/);
  expect(refusal(compare, three, { of: "carry", against: "Rook" })).toEqual(["trade.no-such-group"]);
  expect(inferredProblems(compare, three, { of: "carry", against: "Rook" })).toEqual(["trade.no-such-group"]);
  const result = compare.run(three, [{ kind: "options", values: { of: "carry", against: "Rook" } }], context());
  const problem = result.type === "refused" ? result.problems[0]!.make(textStart) : null;
  expect(problem!.message).toBe('there is no head "Rook" to compare with');
  expect(problem!.hint).toBe("compare with one of the heads here: Wren, Heron or Plover");
});

test("against the only other head nothing changes but the direction", () => {
  const [plain, turned] = [{}, { against: "Heron" }].map((more) => runVerb(compare, shotTable(two), { of: "carry", ...more }).rows[0]!);
  expectClose(turned!["from"] as number, -(plain!["to"] as number), 1e-9);
  expectClose(turned!["p"] as number, plain!["p"] as number, 1e-9);
});

test("a verdict that one method gives and the other does not depends on the method, with both intervals", () => {
  const heads = ["Wren", "Heron", "Plover", "Rook"];
  const seeds = Array.from({ length: 60 }, (_, i) => i + 1);
  const found = seeds
    .map((seed) => runVerb(compare, shotTable(rotation({ heads, passes: 4, add: [0, 5, 0, 0], stintSd: 0.2, shotSd: 3, seed })), { of: "carry" }))
    .find(({ report }) => report.sentences.some((sentence) => sentence.startsWith("Undecided, since it depends on the method")));
  expect(found!.report.sentences.find((sentence) => sentence.startsWith("Undecided, since"))).toMatch(
    /^Undecided, since it depends on the method: .* yd in carry as struck \(95 % interval .* to .*; 12 and 12 shots in 4 and 4 stints\); the other method gives .* to .*\. About \d+ more shots each/,
  );
});

/** Shots of two heads, one of which scatters three times as much as the other. */
function uneven(seed: number): readonly Shot[] {
  const normal = normals(seed);
  return Array.from({ length: 16 * 3 }, (_, i): Shot => {
    const stint = Math.floor(i / 3);
    const head = stint % 2 === 0 ? "Wren" : "Heron";
    return { head, stint: stint + 1, carry: 150 + (head === "Heron" ? 4 + 6 * normal() : 2 * normal()) };
  });
}

test("an undecided pair whose interval leaves out 0 says that it depends on the method", () => {
  const sentences = Array.from({ length: 60 }, (_, i) => runVerb(compare, shotTable(uneven(i + 1)), { of: "carry", margin: yards(1) }).report.sentences[0]!);
  const leavesOut = sentences.filter((sentence) => sentence.startsWith("Undecided") && /\(95 % interval (\d.* to \d|−.* to −)/.test(sentence));
  expect(leavesOut.length).toBeGreaterThan(0);
  for (const sentence of leavesOut) expect(sentence).toMatch(/^Undecided, since it depends on the method: .*; the other method gives −?[\d.]+ to −?[\d.]+\. /);
});

test("where no number of shots is known to settle what depends on the method, the margin is not blamed", () => {
  const sentences = Array.from({ length: 90 }, (_, i) => runVerb(compare, shotTable(uneven((i % 30) + 1)), { of: "carry", margin: yards(5 + Math.floor(i / 30)) }).report.sentences[0]!);
  const unplanned = sentences.filter((sentence) => sentence.startsWith("Undecided, since it depends on the method") && /may not settle it soon/.test(sentence));
  expect(unplanned.length).toBeGreaterThan(0);
  for (const sentence of unplanned) expect(sentence).toMatch(/ More shots may not settle it soon, since it depends on the method\.$/);
});

test("heads hit in one go are told once how to hit next time", () => {
  const once = shotTable(rotation({ heads: ["Wren", "Heron", "Plover"], passes: 1, shotsInStint: 20 }));
  const { sentences } = runVerb(compare, once, { of: "carry" }).report;
  expect(sentences.filter((sentence) => sentence.startsWith("Next time"))).toEqual(["Next time hit the heads in turn, 3 shots each, at least 6 times."]);
});

test("a difference that depends on the strike model says what its shapes give", () => {
  const { rows, report } = runVerb(compare, withStrikes(["Wren", "Heron"], (head) => (head === "Heron" ? [9, -4] : [0, 0])), { of: "carry", margin: yards(0.05) });
  expect(rows[1]!["verdict"]).toBe("undecided");
  expect(rows[1]!["more_shots"]).toBeNull();
  expect(report.sentences[0]).toMatch(/^Undecided, since it depends on the strike model: Heron − Wren is .* at the same strikes \(.*\), and different shapes of the strike surface give [\d.]+ to [\d.]+, farther apart than the margin of 0\.05 yd\.$/);
});

test("a head whose strikes the monitor lost is compared as struck, and why is said", () => {
  const table = withStrikes();
  const lost = (keep: (i: number) => boolean): Table => ({ ...table, columns: table.columns.map((column) => (column.name === "strike_x" && column.kind === "number" ? numberColumn("strike_x", column.values.map((value, i) => (keep(i) ? value : Number.NaN)), "mm") : column)) });
  const few = runVerb(compare, lost((i) => i % 6 < 3 || i < 12), { of: "carry" });
  expect(few.rows.map((row) => row["n"])).toEqual([30, 6]);
  expect(few.report.sentences[1]).toBe("Not compared at the same strikes: Heron and Wren, since 6 and 30 shots with a known strike are too few. The verdict is as struck.");
  const late = runVerb(compare, lost((i) => (i % 6 < 3) === i < 30), { of: "carry" });
  expect(late.report.sentences[1]).toMatch(/since the shots with a known strike do not tell the two from the course of time\. The verdict is as struck\.$/);
});

test("what is not due to where the face was hit, as far as is shown, is not put down to it", () => {
  // Where the face was hit costs nothing here.
  const said = Array.from({ length: 40 }, (_, i) => {
    const normal = normals(i + 1);
    const shots = rotation({ heads: ["Wren", "Heron"], passes: 10, stintSd: 0.5, shotSd: 2, add: [0, 4], seed: i + 1 });
    const table = shotTable(shots, [facts()], ["strike_x", "strike_y"].map((name) => numberColumn(name, shots.map(() => 6 * normal()), "mm", "measured")));
    return runVerb(compare, table, { of: "carry" }).report.sentences.find((sentence) => sentence.includes(" as struck is ") && sentence.includes("), at the same strikes ")) ?? "";
  }).filter((sentence) => sentence !== "");
  const isSame = (sentence: string): boolean => /as struck is (−?[\d.]+)/.exec(sentence)![1] === /\), at the same strikes (−?[\d.]+)/.exec(sentence)![1];
  expect(said.some(isSame)).toBe(true);
  expect(said.every(isSame)).toBe(false);
  for (const sentence of said) expect(/ is due to /.test(sentence), sentence).toBe(!isSame(sentence));
});

test("uneven scatter is said once for both kinds of strikes", () => {
  const normal = normals(5);
  const strike = Array.from({ length: 48 }, () => [8 * normal(), 5 * normal()] as const);
  const table = shotTable(uneven(3), [facts()], [numberColumn("strike_x", strike.map(([x]) => x), "mm", "measured"), numberColumn("strike_y", strike.map(([, y]) => y), "mm", "measured")]);
  const said = runVerb(compare, table, { of: "carry" }).report.sentences.filter((sentence) => sentence.startsWith("Scatter differs"));
  expect(said).toEqual([expect.stringMatching(/: the intervals as struck and at the same strikes are those of least squares/)]);
});

test("a head that lost its strikes leaves the others' intervals at the same strikes as wide as three heads at once make them", () => {
  const table = withStrikes(["Wren", "Heron", "Plover"]);
  const lost = { ...table, columns: table.columns.map((column) => (column.name === "strike_x" && column.kind === "number" ? numberColumn("strike_x", column.values.map((value, i) => (i % 9 < 6 ? value : Number.NaN)), "mm") : column)) };
  for (const strikes of [undefined, "same"] as const) {
    const options = strikes === undefined ? { of: "carry" } : { of: "carry", strikes };
    const row = runVerb(compare, lost, options).rows.find((each) => each["strikes"] === "same" && each["head"] === "Heron" && each["against"] === "Wren")!;
    const [from, to, df] = ["from", "to", "df"].map((name) => row[name] as number);
    const [narrow, wide] = [row["from90"], row["to90"]] as number[];
    // The ratio of the two intervals is that of the studentized range of three means.
    expectClose((to! - from!) / (wide! - narrow!), familyCritical(0.95, 3, df!) / familyCritical(0.9, 3, df!), 1e-6);
    expect(row["p"]).toBeCloseTo(familyP({ difference: row["difference"] as number, standardError: (to! - from!) / 2 / familyCritical(0.95, 3, df!), df: df! }, 3), 6);
  }
  // With one head named, the pair that cannot be compared counts among those asked for.
  const named = runVerb(compare, lost, { of: "carry", against: "Wren" }).rows.find((each) => each["strikes"] === "same" && each["head"] === "Heron")!;
  const reach = (confidence: number): number => pairsCritical(confidence, 2, named["df"] as number);
  expectClose(((named["to"] as number) - (named["from"] as number)) / ((named["to90"] as number) - (named["from90"] as number)), reach(0.95) / reach(0.9), 1e-6);
});

test("zones of one stint are compared with one another, as struck alone", () => {
  const table = withStrikes();
  const zones = textColumn("zone", Array.from({ length: table.rowCount }, (_, i) => (i % 3 === 0 ? "toe" : "centre")), "derived");
  const { rows } = runVerb(compare, { ...table, columns: [...table.columns, zones] }, { of: "carry", by: "zone" });
  expect(rows.map((row) => [row["strikes"], row["stints"], row["n"], row["n_against"]])).toEqual([["as struck", 20, 40, 20]]);
  expect(rows[0]!["from"]).not.toBeNull();
});
