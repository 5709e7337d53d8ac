import { expect, test } from "vitest";
import type { SessionFacts } from "../../../core/session/session-facts";
import type { Table } from "../../../core/table/table";
import { numberColumn } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { spread } from "../../../core/verbs/spread";
import type { Conclusions } from "../../../core/verbs/what-if";
import { whatIf } from "../../../core/verbs/what-if";
import type { Shot } from "./trade-verbs";
import { context, facts, numbers, rotation, runVerb, shotTable } from "./trade-verbs";

const far = rotation({ heads: ["Wren", "Heron"], passes: 8, add: [0, 9], shotSd: 1, stintSd: 0.5 });
const heron = far.flatMap((shot, i) => (shot.head === "Heron" ? [i + 1] : []));

/** The shots with the carry of some set aside, which the monitor had recorded as `recorded` says. */
function withAside(shots: readonly Shot[], aside: readonly number[], recorded: (shot: Shot) => number, session: Partial<SessionFacts> = {}): Table {
  const value = { column: "carry", unit: "yd" } as const;
  const setAsideValues = aside.map((shot) => ({ ...value, shot, head: shots[shot - 1]!.head, recorded: recorded(shots[shot - 1]!), because: "misread" }));
  const putBack = aside.map((shot) => ({ ...value, shot, value: recorded(shots[shot - 1]!) }));
  return shotTable(shots.map((shot, i) => (aside.includes(i + 1) ? { ...shot, carry: null } : shot)), [facts({ setAsideValues, putBack, ...session })]);
}

/** What a comparison says of other values: in its answer, or else in its details. */
function saidOf(table: Table, options = {}): { readonly answer: readonly string[]; readonly details: readonly string[] } {
  const { report } = runVerb(compare, table, { of: "carry", margin: { value: 3, unit: "yd" }, ...options });
  const isOther = (sentence: string): boolean => /put back|Putting|Without the|Leaving out/.test(sentence);
  return { answer: report.sentences.slice(0, report.answer).filter(isOther), details: report.sentences.slice(report.answer).filter(isOther) };
}

test("a verdict that hangs on a value set aside is said in the answer", () => {
  const { answer, details } = saidOf(withAside(far, [heron[4]!, heron[10]!], () => 20));
  expect(answer).toEqual(["With the 2 values of carry that were set aside put back, Heron against Wren would be undecided instead of different by more than the margin."]);
  expect(details).toEqual([]);
});

test("where no verdict would change, one detail says so", () => {
  const { answer, details } = saidOf(withAside(far, [heron[4]!], (shot) => shot.carry!));
  expect(answer).toEqual([]);
  expect(details).toEqual(["Putting back the one value of carry that was set aside would change no verdict."]);
});

test("with nothing set aside, or another column's value, nothing is said", () => {
  expect(saidOf(shotTable(far))).toEqual({ answer: [], details: [] });
  const other = facts({ putBack: [{ shot: 1, column: "ball_speed", value: 1, unit: "mph" }] });
  expect(saidOf(shotTable(far, [other]))).toEqual({ answer: [], details: [] });
});

test("values of shots that the comparison leaves out change nothing", () => {
  const shots = far.map((shot, i): Shot => (i === heron[4]! - 1 ? { ...shot, intent: "draw" } : shot));
  expect(saidOf(withAside(shots, [heron[4]!], () => 20))).toEqual({ answer: [], details: [] });
});

test("a head of which all is set aside has no verdict, and the one it would have is said", () => {
  const { answer } = saidOf(withAside(far, heron, (shot) => shot.carry!));
  expect(answer).toEqual(["With the 24 values of carry that were set aside put back, Heron against Wren would be different by more than the margin, where there is no verdict now."]);
});

test("strikes set aside count for the answer at the same strikes", () => {
  const strike = (column: "strike_x" | "strike_y") => numberColumn(column, far.map((_, i) => (i === 7 ? null : (i * 7) % 11)), "mm", "measured");
  const putBack = [{ shot: 8, column: "strike_x", value: 2, unit: "mm" }, { shot: 8, column: "strike_y", value: 1, unit: "mm" }] as const;
  const table = shotTable(far, [facts({ putBack, setAsideValues: putBack.map(({ value, ...each }) => ({ ...each, head: "Heron", recorded: value, because: "x" })) })], [strike("strike_x"), strike("strike_y")]);
  expect(saidOf(table).details).toEqual(["Putting back the one strike that was set aside would change no verdict."]);
  expect(saidOf(table, { strikes: "as struck" })).toEqual({ answer: [], details: [] });
});

/** The shots with a club speed of which the one of shot 10 jumps. */
function withJump(): Table {
  const ball = numberColumn("ball_speed", far.map((_, i) => 118 + ((i * 7) % 5) / 2), "mph", "measured");
  const club = numberColumn("club_speed", far.map((_, i) => (i === 9 ? 70 : 87 + ((i * 7) % 5) / 3)), "mph", "measured");
  return shotTable(far, [facts({ heads: ["Wren", "Heron"].map((name) => ({ name, kind: "iron", strikeReference: { x: 0, y: -9 } })) })], [ball, club]);
}

test("a value that the rules doubt is left out to see what changes; one of another column is not", () => {
  const { answer, details } = saidOf(withJump(), { of: "club_speed", margin: { value: 1, unit: "mph" } });
  expect([...answer, ...details].join()).toMatch(/^(Without|Leaving out) the one doubted value of club speed.*suspects\(\) shows it\.$/);
  expect(saidOf(withJump())).toEqual({ answer: [], details: [] });
});

test("a column that follows from a doubted one goes with it", () => {
  const table = withJump();
  const [ball, club] = [numbers(table, "ball_speed"), numbers(table, "club_speed")];
  const ratio = numberColumn("speed_ratio", ball.map((value, i) => value / club[i]!), null, "derived");
  const seen: (readonly number[])[] = [];
  const conclude = (other: Table): Conclusions => {
    seen.push(numbers(other, "speed_ratio"));
    return [];
  };
  whatIf({ input: { ...table, columns: [...table.columns, ratio] }, rows: Int32Array.from(far.keys()), columns: ["speed_ratio"], found: [], conclude }, context());
  expect(seen).toEqual([Array.from(ratio.values, (value, i) => (i === 9 ? Number.NaN : value))]);
});

test("neither a computed column nor a table too long to judge asks the rules", () => {
  const table = withJump();
  const never = (): Conclusions => {
    throw new Error("asked");
  };
  const computed = { ...table, columns: table.columns.map((column) => (column.name === "club_speed" ? { ...column, origin: "computed" as const } : column)) };
  const question = { rows: Int32Array.from(far.keys()), columns: ["club_speed"], found: [], conclude: never };
  expect(whatIf({ ...question, input: computed }, context())).toEqual({ answer: [], details: [] });
  const long = shotTable(Array.from({ length: 60 }, () => far).flat(), [facts()], []);
  const { details } = whatIf({ ...question, columns: ["carry"], input: long }, context());
  expect(details).toEqual(["Whether a verdict hangs on doubtful values was not looked into, for 2880 shots; suspects() lists such values."]);
});

test("of each pair the verdict that stands is told first, and one beside it only where that stays", () => {
  const pair = (main: string, struck: string): Conclusions => [[{ of: "Heron against Wren", verdict: main }, { of: "Heron against Wren as struck", verdict: struck }]];
  const table = withAside(far, [3], () => 20);
  const told = (after: Conclusions) => whatIf({ input: table, rows: Int32Array.from(far.keys()), columns: ["carry"], found: pair("undecided", "different"), conclude: () => after }, context()).answer;
  const start = "With the one value of carry that was set aside put back, Heron against Wren";
  expect(told(pair("different", "undecided"))).toEqual([`${start} would be different instead of undecided.`]);
  expect(told(pair("undecided", "undecided"))).toEqual([`${start} as struck would be undecided instead of different.`]);
  expect(told(pair("no verdict", "different"))).toEqual([`${start} would have no verdict instead of being undecided.`]);
});

test("a verdict on scatter that hangs on a value set aside is said in the answer", () => {
  const tight = rotation({ heads: ["Wren", "Heron"], passes: 10, add: [0, 0], shotSd: 2, stintSd: 0.2, seed: 3 }).map((shot): Shot => (shot.head === "Heron" ? { ...shot, carry: 150 + (shot.carry! - 150) / 4 } : shot));
  const aside = tight.findIndex((shot) => shot.head === "Heron") + 1;
  const { report } = runVerb(spread, withAside(tight, [aside], () => 100), { of: "carry" });
  const answer = report.sentences.slice(0, report.answer);
  expect(answer.at(-1)).toMatch(/^With the one value of carry that was set aside put back, Heron against Wren in carry would be \w.* instead of different by more than the margin\.$/);
});
