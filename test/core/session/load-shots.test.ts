import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { loadShots } from "../../../core/session/load-shots";
import { readSession } from "../../../core/session/read-session";
import { findColumn } from "../../../core/table/table";
import { load, places, values } from "./load-check";

const heads = "heads:\n  Wren: { kind: iron, set: W }\n  Heron: { kind: iron, set: H, called: [7i] }\n";
const plain = `session: s\nsources: a.csv\ncolumns:\n  shot: "No"\n  head: Club\n  carry: { from: Carry, unit: yd }\n${heads}`;

function check(rows: string, expected: Readonly<Record<string, readonly unknown[] | undefined>>, more = "", problems: readonly string[] = []): void {
  const loaded = load(plain + more, { "a.csv": `No,Club,Carry\n${rows}` });
  for (const [name, wanted] of Object.entries(expected)) expect(values(loaded.table, name), name).toEqual(wanted);
  expect(places(loaded.problems)).toEqual(problems);
}

test("shots are in hitting order and numbered in it", () => {
  check("3,Wren,150\n1,Heron,151\n2,Wren,152\n", {
    shot: [1, 2, 3],
    head: ["Heron", "Wren", "Wren"],
    carry: [151, 152, 150],
    No: undefined,
    session: ["s", "s", "s"],
    set: ["H", "W", "W"],
    intent: ["stock", "stock", "stock"],
    note: undefined,
  });
});

test("with gaps in the export's numbers, shot is the export's number, and lists name shots by it", () => {
  const rows = "1,Wren,150\n2,Wren,151\n4,Wren,152\n5,Heron,153\n6,Heron,154\n";
  const more = `shots: { shots: 1-3, intent: warm-up }
breaks: 6
corrections: { shot: 4, column: head, value: Heron, because: x }
set_aside: { shot: 5, column: carry, because: x }
`;
  check(rows, { shot: [1, 2, 4, 5, 6], No: undefined, carry: [150, 151, 152, null, 154], head: ["Wren", "Wren", "Heron", "Heron", "Heron"], intent: ["warm-up", "warm-up", "stock", "stock", "stock"], stint: [1, 1, 2, 2, 3] }, more);
  expect(load(plain + more, { "a.csv": `No,Club,Carry\n${rows}` }).table.sessions[0]!.setAsideValues).toMatchObject([{ shot: 5, recorded: 153 }]);
});

test("with the export's numbers from 101 on, lists name shots by them", () => {
  check("101,Wren,150\n103,Wren,151\n", { shot: [101, 103], carry: [150, null] }, "set_aside: { shot: 103, column: carry, because: x }\n");
  const beyond = load(`${plain}set_aside: { shot: 2, column: carry, because: x }\n`, { "a.csv": "No,Club,Carry\n101,Wren,150\n103,Wren,151\n" });
  expect(places(beyond.problems)).toEqual(["session.no-such-shot session 10:20"]);
  expect(beyond.problems.find((p) => p.code === "session.no-such-shot")!.message).toBe("there are 2 shots in this session, numbered 101 to 103; of shot 2 not all are there");
  check("101,Wren,150\n103,Wren,151\n", { carry: [150, 151] }, "set_aside: { shot: 102, column: carry, because: x }\n", ["session.no-such-shot session 10:20"]);
  const long = "202603140001,Wren,150\n202603140002,Wren,151\n";
  check(long, { shot: [202603140001, 202603140002], carry: [150, null] }, "set_aside: { shot: 202603140002, column: carry, because: x }\n");
});

test("where the export's numbers cannot be kept, that is said, as a warning where lists go by the new ones", () => {
  const twice = { "a.csv": "No,Club,Carry\n1,Wren,150\n2,Wren,151\n2,Wren,152\n" };
  expect(places(load(plain, twice).problems, true).filter((place) => place.includes("renumbered"))).toEqual(["session.renumbered session 4:9"]);
  const listed = load(`${plain}set_aside: { shot: 3, column: carry, because: x }\n`, twice);
  expect(places(listed.problems)).toEqual(["schema.unique a.csv 4:1", "session.lists-renumbered session 4:9"]);
  expect(values(listed.table, "shot")).toEqual([1, 2, 3]);
  expect(values(listed.table, "No")).toEqual([1, 2, 2]);
  expect(values(listed.table, "carry")).toEqual([150, 151, null]);
  const newestFirst = load(plain.replace("a.csv", "{ file: a.csv, order: file }"), { "a.csv": "No,Club,Carry\n3,Wren,150\n1,Wren,151\n" });
  expect(newestFirst.problems.find((p) => p.code === "session.renumbered")!.message).toBe('the shots are numbered 1 to 2 in hitting order and not as in the column "No": they do not count up in hitting order');
});

test("one shot without a head is one shot", () => {
  const { problems } = load(plain, { "a.csv": "No,Club,Carry\n7,,150\n9,Wren,151\n" });
  expect(problems.find((p) => p.code === "session.head-not-named")!.message).toBe("1 shot has no head: shot 7");
});

test("stints and passes", () => {
  const rows = ["Wren", "Wren", "Heron", "Wren", "Heron", "Heron", "Heron"].map((head, i) => `${i + 1},${head},150\n`).join("");
  check(rows, { stint: [1, 1, 2, 3, 4, 4, 4], pass: [1, 1, 1, 2, 2, 2, 2] });
  check(rows, { stint: [1, 1, 2, 3, 4, 4, 5], pass: [1, 1, 1, 2, 2, 2, 3] }, "breaks: 7\n");
});

test("V-11 the same shot twice names both lines", () => {
  check("1,Wren,150\n2,Wren,151\n1,Wren,152\n", { carry: [150, 152, 151] }, "", ["schema.unique a.csv 4:1"]);
  const { problems } = load(plain, { "a.csv": "No,Club,Carry\n1,Wren,150\n2,Wren,151\n1,Wren,152\n" });
  expect(problems[0]!.message).toBe("shot 1 is there twice: a.csv, line 2 and a.csv, line 4");
});

test("a shot without a number cannot be put in order", () => {
  check("2,Wren,150\n,Wren,151\n", { carry: [150, 151], stint: [null, null] }, "", ["session.order session 2:10"]);
});

test("without numbers or times the order is not known unless the session says so", () => {
  const session = (order: string): string => `session: s\nsources: { file: a.csv${order} }\ncolumns: { head: Club }\n${heads}`;
  const unknown = load(session(""), { "a.csv": "Club,x\nWren,1\nWren,2\n" });
  expect(places(unknown.problems)).toEqual(["session.order-unknown session 2:18"]);
  expect(unknown.table.sessions[0]!.orderKnown).toBe(false);
  expect(values(unknown.table, "stint")).toEqual([null, null]);
  const known = load(session(", order: file"), { "a.csv": "Club,x\nWren,1\nWren,2\n" });
  expect(places(known.problems)).toEqual([]);
  expect(known.table.sessions[0]!.orderKnown).toBe(true);
  expect(values(known.table, "stint")).toEqual([1, 1]);
});

test("several files follow one another as listed, each in its own order", () => {
  const session = `session: s\nsources:\n  - { file: a.csv, head: Wren }\n  - { file: b.csv, head: Heron }\ncolumns: { shot: n, carry: { from: c, unit: yd } }\n${heads}`;
  const { table, problems } = load(session, { "a.csv": "n,c\n2,152\n1,151\n", "b.csv": "n,c,extra\n1,161,x\n" });
  expect(places(problems)).toEqual([]);
  expect(values(table, "head")).toEqual(["Wren", "Wren", "Heron"]);
  expect(values(table, "carry")).toEqual([151, 152, 161]);
  expect(values(table, "extra")).toEqual([null, null, "x"]);
  expect(values(table, "n")).toEqual([1, 2, 1]);
});

test("files of one head are put in one order by time, or by a number that counts through the session", () => {
  const session = (order: string): string =>
    `session: s\nsources:\n  - { file: a.csv, head: Wren, order: ${order} }\n  - { file: b.csv, head: Heron, order: ${order} }\ncolumns: { shot: n, time: t }\n${heads}`;
  const files = { "a.csv": "n,t\n1,09:00:00\n4,09:03:00\n", "b.csv": "n,t\n2,09:01:00\n3,09:02:30.5\n" };
  for (const order of ["time", "session shot"]) expect(values(load(session(order), files).table, "head")).toEqual(["Wren", "Heron", "Heron", "Wren"]);
  expect(values(load(session("shot"), files).table, "head")).toEqual(["Wren", "Wren", "Heron", "Heron"]);
  const twice = load(session("session shot"), { ...files, "b.csv": "n,t\n1,09:01:00\n" });
  expect(places(twice.problems)).toEqual(["schema.unique b.csv 2:1"]);
});

test("V-08, V-09 times that can be read in two ways are refused, and no time zone is guessed", () => {
  const session = `session: s\nsources: { file: a.csv, order: time }\ncolumns: { time: t }\n`;
  const order = (...times: readonly string[]) => load(session + "heads: {}\n", { "a.csv": `t,i\n${times.map((t, i) => `${t},${i}`).join("\n")}` });
  expect(values(order("2026-03-14 09:05:00", "2026-03-14T08:59:00").table, "i")).toEqual([1, 0]);
  expect(values(order("12:05 PM", "12:10 AM").table, "i")).toEqual([1, 0]);
  expect(values(order("2026-03-14T09:00:00+01:00", "2026-03-14T08:30:00Z").table, "i")).toEqual([0, 1]);
  expect(places(order("01/02/2026 09:00", "01/02/2026 09:01").problems)).toContain("value.date a.csv 2:1");
  expect(places(order("2016-12-31T23:59:60Z").problems)).toContain("value.date a.csv 2:1");
  expect(places(order("2026-02-30 09:00").problems)).toContain("value.date a.csv 2:1");
  expect(places(order("2026-03-14 09:05", "09:06").problems)).toContain("session.order session 2:32");
});

test("a clock of 12 hours does not reverse a session in silence", () => {
  const session = `session: s\nsources: { file: a.csv, order: time }\ncolumns: { time: t }\nheads: {}\n`;
  const checkOrder = (times: string, order: readonly number[], said: readonly string[] = []): void => {
    const { table, problems } = load(session, { "a.csv": `t,i\n${times.split(" ").map((t, i) => `${t.replace("_", " ")},${i}`).join("\n")}` });
    expect(values(table, "i"), times).toEqual(order);
    expect(places(problems, true).filter((place) => !place.includes("no-head")), times).toEqual(said);
  };
  checkOrder("12:58 12:59 1:00 1:01", [0, 1, 2, 3], ["session.order session 2:32"]);
  checkOrder("9:50 11:50 12:30 1:30 2:30 4:00 6:00 6:30", [0, 1, 2, 3, 4, 5, 6, 7], ["session.order session 2:32"]);
  checkOrder("2026-03-14_12:58 2026-03-14_1:00", [0, 1], ["session.order session 2:32"]);
  checkOrder("12:58_PM 12:59_PM 1:00_PM", [0, 1, 2]);
  checkOrder("12:58 12:59 13:00", [0, 1, 2]);
  checkOrder("9:05 12:58 11:30", [0, 2, 1]);
  checkOrder("18:00 9:00 9:30", [1, 2, 0]);
  checkOrder("23:58 23:59 00:01", [0, 1, 2], ["session.past-midnight session 2:32"]);
  checkOrder("00:01:30 00:01 23:59", [2, 1, 0], ["session.past-midnight session 2:32"]);
});

test("files of one head go past midnight together", () => {
  const session = `session: s\nsources:\n  - { file: a.csv, head: Wren, order: time }\n  - { file: b.csv, head: Heron, order: time }\ncolumns: { time: t }\n${heads}`;
  const { table } = load(session, { "a.csv": "t,x\n23:50,1\n00:20,3\n", "b.csv": "t,x\n23:59,2\n00:30,4\n" });
  expect(values(table, "x")).toEqual([1, 2, 3, 4]);
});

test("heads go by the session's names; unknown ones are reported where they stand first", () => {
  check("1,7i,150\n2,Wern,151\n3,Wern,152\n", { head: ["Heron", "Wern", "Wern"] }, "", ["session.unknown-head a.csv 3:3", "session.head-misspelt session 8:3"]);
  const { problems } = load(plain, { "a.csv": "No,Club,Carry\n1,7i,150\n2,Wern,151\n3,Wern,152\n" });
  const found = problems.find((p) => p.code === "session.unknown-head")!;
  expect(found.message).toBe('the head "Wern" (2 shots) is not described in the session');
  expect(found.hint).toContain("did you mean Wren?");
});

test("a head stated for a file does not override another in its head column in silence", () => {
  const session = (more = ""): string => plain.replace("sources: a.csv", "sources: { file: a.csv, head: Heron }") + more;
  const file = { "a.csv": "No,Club,Carry\n3,7i,150\n1,Wren,151\n2,Wren,152\n4,,153\n5,Heron,154\n" };
  const { table, problems } = load(session(), file);
  expect(values(table, "head")).toEqual(["Heron", "Heron", "Heron", "Heron", "Heron"]);
  expect(places(problems)).toEqual(["session.head-contradicted a.csv 3:3"]);
  expect(problems.find((p) => p.code === "session.head-contradicted")!.message).toContain("2 shots have");
  const corrected = load(session("corrections: { shots: 1-2, column: head, value: Wren, because: x }\n"), file);
  expect(values(corrected.table, "head")).toEqual(["Wren", "Wren", "Heron", "Heron", "Heron"]);
  expect(places(corrected.problems)).toEqual([]);
});

test("a session without heads, and shots without one", () => {
  const bare = plain.replace(heads, "");
  const loaded = load(bare, { "a.csv": "No,Club,Carry\n1,Wren,150\n" });
  expect(places(loaded.problems)).toEqual(["session.no-heads session 1:1"]);
  expect(loaded.table.sessions[0]!.heads).toMatchObject([{ name: "Wren", kind: "iron" }]);
  check("1,,150\n2,Wren,151\n", { head: [null, "Wren"] }, "", ["session.head-not-named session 1:1"]);
  expect(places(load("session: s\nsources: { file: a.csv, order: file }\n", { "a.csv": "x,y\n1,2\n" }).problems)).toEqual(["session.no-head session 2:18"]);
});

test("corrections come before everything else and may be in another unit", () => {
  check("1,Wren,150\n2,Wren,1.5\n3,Wren,ERR\n", { head: ["Wren", "Heron", "Heron"], carry: [150, 164.04199475065616, 3], stint: [1, 2, 2] },
    "corrections:\n  - { shots: 2-3, column: head, value: Heron, because: wrong club }\n  - { shot: 2, column: carry, value: 150 m, because: read off the screen }\n  - { shot: 3, column: carry, value: 3, because: x }\n",
  );
  check("1,Wren,150\n", { carry: [150] }, "corrections:\n  - { shot: 1, column: carry, value: far, because: x }\n", ["session.wrong-number session 11:38"]);
  check("1,Wren,150\n", { carry: [150] }, "corrections:\n  - { shot: 1, column: cary, value: 3, because: x }\n", ["session.no-such-column session 11:24"]);
  check("1,Wren,150\n", { carry: [150] }, "corrections:\n  - { shots: 1-2, column: head, value: Wren, because: x }\n", ["session.no-such-shot session 11:14"]);
});

test("a correction may say its side, and must where the export's sign does not tell it", () => {
  const offline = (form: string, value: string): unknown => {
    const session = plain.replace("heads:", `  offline: { from: Side, unit: yd${form} }\nheads:`);
    const { table, problems } = load(`${session}corrections: { shot: 1, column: offline, value: ${value}, because: x }\n`, { "a.csv": `No,Club,Carry,Side\n1,Wren,150,${form.includes("sides") ? "1 R" : "1"}\n` });
    return problems.some((p) => p.code === "session.wrong-number") ? problems.find((p) => p.code === "session.wrong-number")!.hint : values(table, "offline")![0];
  };
  expect(offline(", sides: L/R", "5 L")).toBe(-5);
  expect(offline(", sides: { left: W, right: E }", "5 yd W")).toBe(-5);
  expect(offline(", sides: L/R", "5")).toContain("say the side: 3 L, 3 R");
  expect(offline(", sides: L/R", "0")).toBe(0);
  expect(offline(", positive: left", "7")).toContain("say the side");
  expect(offline(", positive: left", "7 L")).toBe(-7);
  expect(offline(", positive: right", "7")).toBe(7);
  expect(offline(", positive: right", "-7")).toBe(-7);
  expect(offline("", "7 L")).toBe(-7);
  expect(offline("", "far")).toContain("or with its side");
});

test("a value set aside is missing, is counted, and keeps what was recorded", () => {
  const more = "set_aside:\n  - { shots: 2-3, column: carry, because: no }\n";
  const { table, problems } = load(plain + more, { "a.csv": "No,Club,Carry\n1,Wren,150\n2,Wren,15000\n3,Heron,ERR\n" });
  expect(places(problems)).toEqual([]);
  expect(values(table, "carry")).toEqual([150, null, null]);
  expect(table.sessions[0]).toMatchObject({
    shotCount: 3,
    setAside: [
      { head: "Wren", column: "carry", count: 1 },
      { head: "Heron", column: "carry", count: 1 },
    ],
    setAsideValues: [
      { shot: 2, head: "Wren", column: "carry", recorded: 15000, unit: "yd", because: "no" },
      { shot: 3, head: "Heron", column: "carry", recorded: null },
    ],
  });
});

test("all readings of a shot can be set aside, and the shot stays", () => {
  check("1,Wren,150\n2,Wren,151\n", { shot: [1, 2], head: ["Wren", "Wren"], carry: [null, 151] }, "set_aside:\n  - { shot: 1, column: all, because: double click }\n");
  check("1,Wren,150\n", { carry: [150] }, "set_aside:\n  - { shot: 1, column: total, because: x }\n", ["session.no-such-column session 11:24"]);
});

test("intents and notes by shot, over those of the export", () => {
  check("1,Wren,150\n2,Wren,151\n3,Wren,152\n", { intent: ["warm-up", "stock", "draw"], note: [null, null, "asked for"] },
    "shots:\n  - { shots: 1, intent: warm-up }\n  - { shots: 3, intent: draw, note: asked for }\n");
  const own = load(plain.replace("columns:", "columns:\n  intent: What"), { "a.csv": "No,Club,Carry,What\n1,Wren,150,draw\n2,Wren,150,\n" });
  expect(values(own.table, "intent")).toEqual(["draw", "stock"]);
});

test("V-05, V-10 what is no number is missing and reported at its place", () => {
  check("1,Wren,n/a\n2,Wren,151\n3,Wren,\n", { carry: [null, 151, null] }, "", ["value.not-a-number a.csv 2:8"]);
  check("1,Wren,n/a\n2,Wren,-\n", { carry: [null, null] }, 'missing: ["n/a", "-"]\n');
  check("1,Wren,NaN\n", { carry: [null] }, "", ["value.not-a-number a.csv 2:8"]);
});

test("V-03 a grouped number is taken where it can be nothing else", () => {
  const spin = `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, spin_rate: { from: Spin, unit: rpm } }\n${heads}`;
  const known = load(spin, { "a.csv": 'Club,Spin,Launch\nWren,"6,543",17.5\n' });
  expect(values(known.table, "spin_rate")).toEqual([6543]);
  expect(places(known.problems)).toEqual([]);
  const unknown = load(spin, { "a.csv": 'Club,Spin\nWren,"6,543"\n' });
  expect(places(unknown.problems)).toEqual(["value.thousands-separator a.csv 2:6"]);
  const found = unknown.problems.find((p) => p.code === "value.thousands-separator")!;
  expect([found.code === "value.thousands-separator" && found.facts.instead, found.fix, found.mends]).toEqual(["6543", undefined, undefined]);
});

test("V-03 in a file of semicolons a lone point before three digits may group thousands", () => {
  const spin = (source: string): string => `session: s\nsources: { file: a.csv, order: file${source} }\ncolumns: { head: Club, spin_rate: { from: Spin, unit: rpm } }\n${heads}`;
  const file = { "a.csv": "Club;Spin;Other\nWren;6.543;1.150\nWren;6500;1.151\n" };
  const { table, problems } = load(spin(""), file);
  expect(values(table, "spin_rate")).toEqual([null, 6500]);
  expect(values(table, "Other")).toEqual(["1.150", "1.151"]);
  expect(places(problems)).toEqual(["value.thousands-separator a.csv 2:6"]);
  expect(values(load(spin(', decimal: ","'), file).table, "spin_rate")).toEqual([6543, 6500]);
  expect(values(load(spin(', decimal: "."'), file).table, "spin_rate")).toEqual([6.543, 6500]);
  expect(values(load(spin(""), { "a.csv": "Club,Spin\nWren,6.543\n" }).table, "spin_rate")).toEqual([6.543]);
});

test("no hint deletes a value: missing is proposed only for texts without digits", () => {
  const side = plain.replace("heads:", "  offline: { from: Side, unit: yd }\nheads:");
  const hint = (column: "carry" | "offline", text: string): string | undefined => {
    const { problems } = load(side, { "a.csv": `No,Club,Carry,Side\n1,Wren,${column === "carry" ? `"${text}",1` : `150,"${text}"`}\n2,Wren,150.5,1\n` });
    return problems.find((p) => p.code === "value.not-a-number")?.hint;
  };
  expect(hint("offline", "L 7")).toContain("sides: L/R");
  expect(hint("offline", "7 L")).toContain("sides: L/R");
  expect(hint("carry", "115,5")).toContain('decimal: ","');
  for (const text of ["(115)", "11 5", "L 7", "115,5"]) expect(hint("carry", text)).not.toContain("missing:");
  for (const text of ["--", "n/a", "-", "ERR"]) expect(hint("carry", text)).toContain(`missing: ["${text}"]`);
  expect(hint("carry", "mph")).toContain("units_row");
});

test("V-02 long names made of digits are kept as text, and a long number is not rounded", () => {
  const { table, problems } = load(plain, { "a.csv": "No,Club,Carry,id\n1,Wren,150,9007199254740993\n2,Wren,9007199254740993,9007199254740994\n" });
  expect(values(table, "id")).toEqual(["9007199254740993", "9007199254740994"]);
  expect(values(table, "carry")).toEqual([150, null]);
  expect(places(problems)).toEqual(["value.precision-loss a.csv 2:12", "value.precision-loss a.csv 3:8"]);
});

test("V-01 what an export has besides is a number only when all of it prints as it stands", () => {
  const { table } = load(plain, { "a.csv": "No,Club,Carry,id,hex,exp,plus,n\n1,Wren,150,007,0x10,1e3,+5,1\n2,Wren,150,008,0x11,2e3,+6,2.5\n" });
  expect(values(table, "id")).toEqual(["007", "008"]);
  expect(values(table, "hex")).toEqual(["0x10", "0x11"]);
  expect(values(table, "exp")).toEqual(["1e3", "2e3"]);
  expect(values(table, "plus")).toEqual(["+5", "+6"]);
  expect(values(table, "n")).toEqual([1, 2.5]);
});

test("V-10 a column that is text because of a few values says which", () => {
  const { table, problems } = load(plain, { "a.csv": "No,Club,Carry,x\n1,Wren,150,1\n2,Wren,150,2\n3,Wren,150,lost\n" });
  expect(values(table, "x")).toEqual(["1", "2", "lost"]);
  expect(places(problems, true)).toContain("value.kept-as-text a.csv 4:12");
});

test("V-06 a unit that contradicts the session is an error, wherever it stands", () => {
  const session = (unit: string): string => `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, ball_speed: { from: "Ball (m/s)"${unit} } }\n${heads}`;
  const at = (unit: string, text: string): string[] => places(load(session(unit), { "a.csv": text }).problems);
  expect(at(", unit: mph", "Club,Ball (m/s)\nWren,54\n")).toEqual(["schema.unit a.csv 1:6"]);
  expect(at(", unit: m/s", "Club,Ball (m/s)\nWren,54\n")).toEqual([]);
  expect(at("", "Club,Ball (m/s)\nWren,54\n")).toEqual([]);
  expect(at("", "Club,Ball (m/s)\n,mph\nWren,54\n")).toEqual(["schema.unit a.csv 2:2"]);
  expect(at("", "Club,Ball (m/s)\nWren,54 mph\n")).toEqual(["schema.unit a.csv 2:6"]);
});

test("a row with too many values keeps its shot and head, and none of its readings enters a mean", () => {
  const session = plain.replace("sources: a.csv", "sources: a.csv\nmissing: [x]").replace("heads:", "  offline: { from: Side, unit: yd, sides: L/R }\nheads:");
  const rows = "1,Wren,150.5,4.5 R,20\n2,Wren,115,5,7.7 L,21\n3,Wren,151.5,1.5 L,22\n";
  const { table, problems } = load(session, { "a.csv": `No,Club,Carry,Side,Other\n${rows}` });
  expect(places(problems)).toEqual(["csv.long-row a.csv 3:20"]);
  expect(values(table, "shot")).toEqual([1, 2, 3]);
  expect(values(table, "head")).toEqual(["Wren", "Wren", "Wren"]);
  expect(values(table, "carry")).toEqual([150.5, null, 151.5]);
  expect(values(table, "offline")).toEqual([4.5, null, -1.5]);
  expect(values(table, "Other")).toEqual([20, null, 22]);
  expect(values(table, "stint")).toEqual([1, 1, 1]);
});

test("where nearly all rows are too long, decimal commas without quotes are named, once", () => {
  const { table, problems } = load(plain, { "a.csv": "No,Club,Carry\n1,Wren,150,5\n2,Wren,151,5\n3,Heron,152,25\n" });
  expect(places(problems)).toEqual(["csv.bare-decimal-commas a.csv 2:12"]);
  expect(values(table, "carry")).toEqual([null, null, null]);
});

test("C-26 a field that is too long is missing, and no message shows all of it", () => {
  const long = "W".repeat(70_000);
  const { table, problems } = load(plain, { "a.csv": `No,Club,Carry,Note\n1,${long},150,x\n2,Wren,${"1".repeat(70_000)},"${long}"\n3,${"V".repeat(60_000)},151,y\n` });
  expect(values(table, "head")).toEqual([null, "Wren", "V".repeat(60_000)]);
  expect(values(table, "carry")).toEqual([150, null, 151]);
  expect(values(table, "Note")).toEqual(["x", null, "y"]);
  expect(places(problems)).toEqual(["csv.limit a.csv 2:3", "csv.limit a.csv 3:8", "csv.limit a.csv 3:70009", "session.unknown-head a.csv 4:3", "session.head-not-named session 1:1"]);
  for (const { message, hint } of problems) expect(message.length + hint.length).toBeLessThan(400);
});

test("V-06 a column whose unit the export contradicts is missing as a whole, with one error", () => {
  const carryFrom = (header: string, unit: string, text: string) => {
    const { table, problems } = load(`session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, carry: { from: "${header}"${unit} } }\n${heads}`, { "a.csv": text });
    return [values(table, "carry"), ...places(problems)];
  };
  expect(carryFrom("Launch (deg)", ", unit: yd", "Club,Launch (deg)\nWren,15\nWren,16\n")).toEqual([[null, null], "schema.unit a.csv 1:6"]);
  expect(carryFrom("Carry", ", unit: yd", "Club,Carry\n,degrees\nWren,150\nWren,151\n")).toEqual([[null, null], "schema.unit a.csv 2:2"]);
  expect(carryFrom("Carry", ", unit: yd", "Club,Carry\n,m\nWren,150\nWren,x\n")).toEqual([[null, null], "schema.unit a.csv 2:2"]);
  expect(carryFrom("Carry (C)", ", unit: yd", "Club,Carry (C)\nWren,150\n")).toEqual([[150]]);
  const ratio = load(`session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, speed_ratio: "Launch (deg)" }\n${heads}`, { "a.csv": "Club,Launch (deg)\nWren,1.4\n" });
  expect(values(ratio.table, "speed_ratio")).toEqual([null]);
  expect(ratio.problems.find((p) => p.code === "schema.unit")!.message).toBe('the header "Launch (deg)" says deg, but speed_ratio is a number without unit; all of its values are missing');
});

test("a unit may come from the session, the header, a row of units or the values", () => {
  const unitOf = (header: string, rows: string): unknown => {
    const { table, problems } = load(`session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, carry: "${header}" }\n${heads}`, { "a.csv": `Club,${header}\n${rows}` });
    const carry = findColumn(table, "carry");
    return carry?.kind === "number" ? [carry.unit, ...carry.values] : places(problems);
  };
  expect(unitOf("Carry [m]", "Wren,140\n")).toEqual(["m", 140]);
  expect(unitOf("Carry", ",[yd]\nWren,140\n")).toEqual(["yd", 140]);
  expect(unitOf("Carry", "Wren,140 yd\nWren,141yd\n")).toEqual(["yd", 140, 141]);
  expect(unitOf("Carry", "Wren,140\n")).toEqual(["session.no-unit session 3:31"]);
});

test("usual units of angles and spins are assumed, and that is said", () => {
  const { table, problems } = load(`session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, launch_angle: Launch }\n${heads}`, { "a.csv": "Club,Launch\nWren,17\n" });
  expect(findColumn(table, "launch_angle")).toMatchObject({ unit: "deg" });
  expect(places(problems, true)).toContain("session.unit-assumed session 3:38");
});

test("V-07 implausible values are kept, with a warning", () => {
  check("1,Wren,-5\n2,Wren,2000\n", { carry: [-5, 2000] }, "", ["value.out-of-range a.csv 2:8", "value.out-of-range a.csv 3:8"]);
  check("1,Wren,150\n", { carry: [150] }, "plausible: { carry: [160 m, 200 m] }\n", ["value.out-of-range a.csv 2:8"]);
  const { problems } = load(plain, { "a.csv": "No,Club,Carry\n1,Wren,2000\n" });
  expect(problems.find((p) => p.code === "value.out-of-range")!.message).toBe("2000 yd is not a plausible carry (1 yd to 440 yd); it is kept");
});

test("a carry or a spin of 0 is not plausible, and the hint says what 0 often stands for", () => {
  const session = `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, carry: { from: Carry, unit: yd }, spin_rate: { from: Spin, unit: rpm }, offline: { from: Side, unit: yd, positive: right } }\n${heads}`;
  const file = { "a.csv": "Club,Carry,Spin,Side\nWren,0,0.0,0\nWren,150,6000,0\n" };
  const { problems } = load(session, file);
  expect(places(problems)).toEqual(["value.out-of-range a.csv 2:6", "value.out-of-range a.csv 2:8"]);
  expect(problems.filter((p) => p.code === "value.out-of-range").map((p) => p.hint.slice(-17))).toEqual(['missing: ["0"]', 'missing: ["0.0"]'].map((end) => expect.stringContaining(end)));
  expect(values(load(`${session}missing: ["0.0"]\n`, file).table, "spin_rate")).toEqual([null, 6000]);
});

test("V-15 the list of implausible values is cut, the total is not", () => {
  const rows = Array.from({ length: 1000 }, (_, i) => `${i + 1},Wren,-1\n`).join("");
  const { problems } = load(plain, { "a.csv": `No,Club,Carry\n${rows}` });
  expect(problems.filter((p) => p.code === "value.out-of-range")).toHaveLength(100);
  expect(problems.find((p) => p.code === "csv.more-problems")!.facts).toEqual({ of: "value.out-of-range", total: 1000, listed: 100 });
});

test("rows that are no shots are left out, each said", () => {
  const { table, problems } = load(plain, { "a.csv": "No,Club,Carry\n,,yd\n1,Wren,150\n,,\n2,Wren,151\nAverage,,150.5\nStd. Dev.,,0.7\nMax (2):,,151\n" });
  expect(values(table, "carry")).toEqual([150, 151]);
  expect(places(problems, true)).toEqual([
    "csv.units-row a.csv 2:1",
    "csv.blank-rows a.csv 4:1",
    "csv.summary-row a.csv 6:1",
    "csv.summary-row a.csv 7:1",
    "csv.summary-row a.csv 8:1",
    "session.head-not-hit session 9:3",
  ]);
});

test("a head or a note is not taken for a summary", () => {
  const session = `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, note: Note }\nheads: { Max: { kind: iron } }\n`;
  const { table } = load(session, { "a.csv": "Club,Note,x\nMax,a,1\n,average,2\n" });
  expect(table.rowCount).toBe(2);
  expect(load(plain, { "a.csv": "Club,No,Carry\nTotal,1,150\n" }).table.rowCount).toBe(1);
});

test("a shot that an unmapped column calls average is a shot", () => {
  const session = `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, carry: { from: Carry, unit: yd } }\n${heads}`;
  const rated = load(session, { "a.csv": "Rating,Club,Carry\nAverage,Wren,150\nGood,Wren,152\nAverage,Wren,151\nAverage,,151\n" });
  expect(values(rated.table, "carry")).toEqual([150, 152, 151]);
  expect(places(rated.problems, true).filter((place) => place.startsWith("csv"))).toEqual(["csv.summary-row a.csv 5:1"]);
  const unsure = load(session, { "a.csv": "Row,Club,Carry\n1,Wren,150\nAverage,Wren,150\n" });
  expect(values(unsure.table, "carry")).toEqual([150]);
  expect(places(unsure.problems)).toEqual(["csv.summary-or-shot a.csv 3:1"]);
});

test("rows of averages in other languages do not cost the order", () => {
  for (const word of ["Mittelwert", "Moyenne", "Media", "Durchschnitt", "Écart-type", "Gemiddelde", "Standard deviation", "平均", "Średnia:"]) {
    const { table, problems } = load(plain, { "a.csv": `No,Club,Carry\n2,Wren,150\n1,Wren,151\n${word},,150.5\n` });
    expect(values(table, "carry"), word).toEqual([151, 150]);
    expect(places(problems, true), word).toContain("csv.summary-row a.csv 4:1");
  }
  check("2,Wren,150\n1,Wren,151\nMoyennage,,150.5\n", { carry: [151, 150] }, "", ["csv.no-shot-number a.csv 4:1"]);
});

test("a row of units with a cell that is no unit is still a row of units", () => {
  for (const carry of ["yd.", "yd L/R", "[yd]"]) {
    const { table, problems } = load(plain.replace(", unit: yd", ""), { "a.csv": `No,Club,Carry,x\n#,,${carry},mph\n2,Wren,150,1\n1,Wren,151,2\n` });
    expect(values(table, "carry"), carry).toEqual([151, 150]);
    expect(problems.find((p) => p.code === "csv.units-row")!.message, carry).toContain('"#" is no unit');
  }
  check(",Wren,yd\n", { carry: [null] }, "", ["session.order session 2:10", "value.not-a-number a.csv 2:7"]);
});

test("the session may say whether the row under the header holds units", () => {
  const session = (answer: string): string => plain.replace("sources: a.csv", `sources: { file: a.csv, units_row: ${answer} }`).replace("Carry, unit: yd", "Carry");
  const said = load(session("true"), { "a.csv": "No,Club,Carry\nn°,Club 7,yd\n1,Wren,150\n" });
  expect(values(said.table, "carry")).toEqual([150]);
  const denied = load(`session: s\nsources: { file: a.csv, order: file, units_row: false }\ncolumns: { head: Club, note: Note }\n${heads}`, { "a.csv": "Club,Note\n,yd\nWren,x\n" });
  expect(values(denied.table, "note")).toEqual(["yd", "x"]);
});

test("headers that the session names and the export has not", () => {
  const { table, problems } = load(plain, { "a.csv": "No,Club,carry \n1,Wren,150\n" });
  expect(places(problems)).toEqual(["session.unknown-header session 6:18"]);
  expect(problems[0]!.fix!.edits[0]!.text).toBe('"carry "');
  expect(values(table, "carry ")).toEqual([150]);
});

test("C-22 a header that only looks like a shot column is said to", () => {
  const bare = `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club }\n${heads}`;
  expect(places(load(bare, { "a.csv": "Club,carry\u00a0\nWren,150\n" }).problems)).toEqual(["csv.confusable-header a.csv 1:6"]);
  expect(places(load(bare, { "a.csv": "Club,Ball Speed\nWren,150\n" }).problems, true)).toContain("session.not-mapped a.csv 1:6");
});

test("a header that is exactly a shot column stands for it", () => {
  const bare = `session: s\nsources: a.csv\n${heads}`;
  const { table, problems } = load(bare, { "a.csv": "shot,head,carry (yd),carry,zone\n2,Wren,1,150 yd,x\n1,Heron,2,151 yd,y\n" });
  expect(places(problems)).toEqual(["session.name-taken a.csv 1:28"]);
  expect(values(table, "carry")).toEqual([151, 150]);
  expect(values(table, "zone (export)")).toEqual(["y", "x"]);
  expect(values(table, "head")).toEqual(["Heron", "Wren"]);
});

test("a name that is taken does not hide a shot column", () => {
  const session = `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, carry: { from: Far, unit: yd } }\n${heads}`;
  const { table, problems } = load(session, { "a.csv": "Club,Far,carry\nWren,150,x\n" });
  expect(values(table, "carry")).toEqual([150]);
  expect(values(table, "carry (export)")).toEqual(["x"]);
  expect(places(problems)).toEqual(["session.name-taken a.csv 1:10"]);
});

test("C-20 odd headers are columns like any other", () => {
  const { table } = load(plain, { "a.csv": "No,Club,Carry,__proto__,constructor,length\n1,Wren,150,1,2,x\n" });
  expect(values(table, "__proto__")).toEqual([1]);
  expect(values(table, "constructor")).toEqual([2]);
  expect(values(table, "length")).toEqual(["x"]);
});

test("strikes are from the head's strike reference, and have a zone", () => {
  const session = `session: s
sources: { file: a.csv, order: file }
columns: { head: Club, strike_x: { from: X, unit: mm, positive: heel }, strike_y: { from: Y, unit: in } }
heads:
  Wren: { kind: iron, strike_reference: { x: 1 mm, y: -9 mm } }
  Plover: { kind: wood }
`;
  const { table } = load(session, { "a.csv": "Club,X,Y\nWren,-1,-0.35433070866\nWren,11,0\nPlover,-9,0\nPlover,-9.1,-1\nWren,,0\n" });
  expect(values(table, "strike_x")).toEqual([0, -12, 9, 9.1, null]);
  expect(values(table, "zone")).toEqual(["centre", "high heel", "centre", "low toe", null]);
  expect(values(table, "strike_distance")![1]).toBeCloseTo(15, 6);
});

test("strikes above and below may be called up and down, or high and low", () => {
  const strikes = (form: string, cells: readonly string[]) => {
    const session = `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, strike_y: { from: Y, unit: mm, ${form} } }\nheads: { Wren: { kind: iron, strike_reference: { x: 0 mm, y: 0 mm } } }\n`;
    const { table, problems } = load(session, { "a.csv": `Club,Y\n${cells.map((cell) => `Wren,${cell}\n`).join("")}` });
    expect(problems.map((found) => found.code)).toEqual([]);
    return values(table, "strike_y");
  };
  for (const form of ["sides: U/D", "sides: d/u", "sides: { up: U, down: D }", "sides: { high: U, low: D }"]) expect(strikes(form, ["3 U", "2 D"])).toEqual([3, -2]);
  expect(strikes("sides: H/L", ["3 H", "2 L"])).toEqual([3, -2]);
  for (const form of ["positive: up", "positive: high"]) expect(strikes(form, ["3", "-2"])).toEqual([3, -2]);
  for (const form of ["positive: down", "positive: low"]) expect(strikes(form, ["3", "-2"])).toEqual([-3, 2]);
});

test("a strike reference that nobody stated is said, with the heads and the key to set", () => {
  const session = (wren: string, plover: string): string => `session: s
sources: { file: a.csv, order: file }
columns: { head: Club, strike_y: { from: Y, unit: mm, positive: high } }
heads:
  Wren: { kind: iron${wren} }
  Plover: { kind: ${plover} }
`;
  const said = (text: string, column = "Y"): string[] =>
    load(text, { "a.csv": `Club,${column}\nWren,-9\nPlover,1\n` }).problems.filter((p) => p.code === "session.reference-assumed").map((p) => `${p.range.start.line}: ${p.message} ${p.hint}`);
  const [both] = said(session("", "wedge"));
  expect(both).toContain("5: no strike reference is stated for Wren or Plover");
  expect(both).toContain("at 0 mm across and -9 mm up");
  expect(both).toContain("strike_reference: { x: 0 mm, y: -9 mm }");
  expect(said(session(", strike_reference: { y: 0 mm }", "wood"))).toEqual([]);
  expect(said("session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, carry: { from: Y, unit: yd } }\nheads: { Wren: { kind: iron }, Plover: { kind: wood } }\n")).toEqual([]);
});

test("a direction that nobody stated is said, once for all columns", () => {
  const session = (form: string): string => `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, offline: { from: Side, unit: yd${form} }, launch_angle: { from: Up, unit: deg } }\n${heads}`;
  const said = (form: string, header = "Face"): string[] =>
    load(session(form), { "a.csv": `Club,Side,Up,${header}\nWren,4,17,1\n` }).problems.filter((p) => p.code === "session.direction-assumed").map((p) => p.message);
  expect(said("")).toEqual(["nothing tells which way positive numbers of offline go; they are read as right"]);
  expect(said("", "face_angle")).toEqual(["nothing tells which way positive numbers of offline or face_angle go; they are read as right"]);
  expect(said(", positive: right")).toEqual([]);
});

test("a left-hander's directions are mirrored only on request", () => {
  const session = (mirror: string): string =>
    `session: s\nsources: { file: a.csv, order: file }\nplayer: { name: P1, hand: left${mirror} }\ncolumns: { head: Club, offline: { from: Side, unit: yd }, strike_x: { from: X, unit: mm } }\nheads: { Wren: { kind: wood } }\n`;
  const rows = { "a.csv": "Club,Side,X\nWren,-5,3\nWren,0,3\n" };
  expect(values(load(session(""), rows).table, "offline")).toEqual([-5, 0]);
  const mirrored = load(session(", mirror: true"), rows).table;
  expect(values(mirrored, "offline")).toEqual([5, 0]);
  expect(values(mirrored, "strike_x")).toEqual([3, 3]);
  expect(mirrored.sessions[0]).toMatchObject({ hand: "left", mirrored: true });
});

test("what follows from other columns is derived where it is not there", () => {
  const session = (columns: string): string => `session: s\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, ${columns} }\nheads: { Wren: { kind: iron } }\n`;
  const ratio = load(session("ball_speed: { from: b, unit: mph }, club_speed: { from: c, unit: m/s }"), { "a.csv": "Club,b,c\nWren,120,40\nWren,120,\nWren,120,0\n" }).table;
  expect(values(ratio, "speed_ratio")![0]).toBeCloseTo((120 * 0.44704) / 40, 12);
  expect(values(ratio, "speed_ratio")!.slice(1)).toEqual([null, null]);
  const face = load(session("face_angle: { from: f, unit: deg }, club_path: { from: p, unit: deg }"), { "a.csv": "Club,f,p\nWren,-1,2\n" }).table;
  expect(values(face, "face_to_path")).toEqual([-3]);
  // total 6000 rpm tilted by 30°: back = total · cos 30°, side = total / 2.
  const parts = load(session("spin_rate: { from: t, unit: rpm }, spin_axis: { from: a, unit: deg }"), { "a.csv": "Club,t,a\nWren,6000,-30\n" }).table;
  expect(values(parts, "back_spin")![0]).toBeCloseTo(6000 * Math.sqrt(0.75), 9);
  expect(values(parts, "side_spin")![0]).toBeCloseTo(-3000, 9);
  const whole = load(session("back_spin: { from: b, unit: rpm }, side_spin: { from: s, unit: rpm }"), { "a.csv": "Club,b,s\nWren,3000,-4000\nWren,0,0\n" }).table;
  expect(values(whole, "spin_rate")).toEqual([5000, 0]);
  expect(values(whole, "spin_axis")![0]).toBeCloseTo(-53.13010235415598, 10);
  expect(values(whole, "spin_axis")![1]).toBeNull();
  const there = load(session("ball_speed: { from: b, unit: mph }, club_speed: { from: c, unit: mph }, speed_ratio: r"), { "a.csv": "Club,b,c,r\nWren,120,80,1.4\nWren,120,80,\n" }).table;
  expect(values(there, "speed_ratio")).toEqual([1.4, null]);
});

test("columns know where they come from", () => {
  const { table } = load(`${plain}calculated: [carry]\nplayer: P1\nball: B1\n`, { "a.csv": "No,Club,Carry,Note\n1,Wren,150,x\n" });
  expect(table.columns.map((column) => `${column.name} ${column.origin}`)).toEqual([
    "session stated",
    "shot measured",
    "head measured",
    "set stated",
    "player stated",
    "ball stated",
    "stint derived",
    "pass derived",
    "intent stated",
    "carry calculated",
    "Note measured",
  ]);
});

test("a file that is not there, or is no text, gives no table", () => {
  const session = readSession(plain).value!;
  expect(loadShots(session, new Map(), defaultLimits)).toEqual({ value: null, problems: [], exports: [] });
  const wide = loadShots(session, new Map([["a.csv", Uint8Array.of(0xff, 0xfe, 0x41, 0)]]), defaultLimits);
  expect(wide.value).toBeNull();
  expect(places(wide.problems)).toEqual(["csv.encoding a.csv 1:1"]);
});

test("a header without rows is a table without rows", () => {
  const { table, problems } = load(plain, { "a.csv": "No,Club,Carry\n" });
  expect(table.rowCount).toBe(0);
  expect(values(table, "zone")).toBeUndefined();
  expect(places(problems)).toEqual(["csv.empty a.csv 1:1"]);
});

test("short rows by declared policy", () => {
  const policy = plain.replace("sources: a.csv", "sources: { file: a.csv, short_rows: missing }");
  const { table, problems } = load(policy, { "a.csv": "No,Club,Carry\n1,Wren\n2,Wren,151\n" });
  expect(values(table, "carry")).toEqual([null, 151]);
  expect(places(problems)).toEqual([]);
});

test("loading changes neither the bytes nor the session", () => {
  const session = readSession(plain).value!;
  const bytes = new TextEncoder().encode("No,Club,Carry\n2,Wren,150\n1,Wren,151\n");
  const before = [bytes.slice(), JSON.stringify(session)];
  loadShots(session, new Map([["a.csv", bytes]]), defaultLimits);
  expect([bytes, JSON.stringify(session)]).toEqual(before);
});

test("C-27 the limit of rows holds for all files of a session together", () => {
  const session = readSession("session: s\nsources: [{ file: a.csv, order: file, head: Wren }, { file: b.csv, order: file, head: Wren }]\n").value!;
  const bytes = new TextEncoder().encode("x,y\n1,2\n3,4\n");
  const files = new Map([["a.csv", bytes], ["b.csv", bytes]]);
  const { value, problems } = loadShots(session, files, { ...defaultLimits, rows: 3 });
  expect(value).toBeNull();
  expect(places(problems)).toContain("csv.limit session 2:61");
});
