import { expect, test } from "vitest";
import { readSession } from "../../../core/session/read-session";

const least = "session: s1\nsources: s1.csv\n";

function checkProblems(text: string, expected: readonly string[]): void {
  const { problems } = readSession(least + text);
  expect(problems.map((p) => `${p.code} ${p.range.start.line}:${p.range.start.column}`)).toEqual(expected);
}

function read(text: string) {
  const { value, problems } = readSession(least + text);
  expect(problems).toEqual([]);
  return value!;
}

test("the design's example is read whole", () => {
  const { value, problems } = readSession(`session: spring-bay-1
date: 2026-03-14
data: synthetic
sources:
  - { file: spring-bay-1.csv, order: shot }
player: { name: P1, hand: right }
monitor: { kind: camera, place: indoor }
calculated: [carry, total, peak_height, offline]
carry_is: as played
columns:
  shot: "No"
  head: Club
  ball_speed: { from: Ball speed, unit: mph }
  offline:    { from: Side, unit: yd, sides: L/R }
  strike_x:   { from: Face X, unit: mm, positive: toe }
air: { temperature: 21 degC, pressure: 1009 hPa, humidity: 45 % }
turf: firm fairway
ball: { model: B1, count: 6, wear: new }
heads:
  Wren:  { kind: iron, design: blade,  set: Wren,  club: 7, loft: 34 deg, lie: 62 deg, length: 37 in, shaft: S1, strike_reference: { x: 0 mm, y: -9 mm } }
  Heron: { kind: iron, design: cavity, set: Heron, club: 7, loft: 34 deg, lie: 62 deg, length: 37 in, shaft: S1 }
shots:
  - { shots: 1-6, intent: warm-up }
  - { shots: 61-66, intent: draw, note: inside path asked for }
corrections:
  - { shots: 31-33, column: head, value: Heron, because: wrong club selected in the export }
set_aside:
  - { shot: 41, column: club_speed, because: speed ratio 1.58 is beyond what this loft allows }
reading_error: { ball_speed: 0.5 %, club_speed: 1.5 %, face_angle: 1.2 deg }
`);
  expect(problems).toEqual([]);
  expect(value).toMatchObject({
    name: "spring-bay-1",
    date: "2026-03-14",
    synthetic: true,
    sources: [{ file: "spring-bay-1.csv", order: "shot", fileRange: { start: { line: 5, column: 13 } } }],
    player: { name: "P1", hand: "right", mirror: false },
    monitor: { kind: "camera", place: "indoor" },
    calculated: ["carry", "total", "peak_height", "offline"],
    carryIs: "as played",
    air: { temperature: { value: 21, unit: "degC" }, pressure: { value: 1009, unit: "hPa" }, humidity: { value: 45, unit: "%" } },
    turf: "firm fairway",
    ball: { model: "B1", count: 6, wear: "new" },
    heads: [
      { name: "Wren", kind: "iron", design: "blade", club: "7", loft: { value: 34, unit: "deg" }, strikeReference: { x: 0, y: -9 } },
      { name: "Heron", design: "cavity", strikeReference: { x: 0, y: -9 } },
    ],
    shots: [
      { shots: [{ from: 1, to: 6 }], intent: "warm-up", note: null },
      { shots: [{ from: 61, to: 66 }], intent: "draw", note: "inside path asked for" },
    ],
    corrections: [{ shots: [{ from: 31, to: 33 }], column: "head", value: "Heron" }],
    setAside: [{ shots: [{ from: 41, to: 41 }], column: "club_speed" }],
    readingErrors: { ball_speed: { value: 0.5, unit: "%" }, face_angle: { value: 1.2, unit: "deg" } },
  });
  expect(value!.columns.map(({ column, header, unit, sides, flipped }) => [column, header, unit, sides, flipped])).toEqual([
    ["shot", "No", null, null, false],
    ["head", "Club", null, null, false],
    ["ball_speed", "Ball speed", "mph", null, false],
    ["offline", "Side", "yd", { positive: "R", negative: "L" }, false],
    ["strike_x", "Face X", "mm", null, false],
  ]);
});

test("what is not stated has its default", () => {
  expect(read("")).toMatchObject({
    date: null,
    synthetic: false,
    player: { name: null, hand: "right", mirror: false },
    carryIs: "unknown",
    heads: [],
    centreZones: { iron: { halfWidth: 7, halfHeight: 2.5 } },
    standardMisses: { wood: { x: 12, y: 8 } },
    margins: {},
    marginsUnread: false,
  });
});

test("V-12 a text that is no session", () => {
  const check = (text: string, code: string): void => {
    const { value, problems } = readSession(text);
    expect(value).toBeNull();
    expect(problems.map((p) => p.code)).toEqual([code]);
  };
  check("", "session.not-a-session");
  check("- a\n- b", "session.not-a-session");
  check("just words", "session.not-a-session");
});

test("V-12 name and sources must be there", () => {
  const { value, problems } = readSession("date: 2026-03-14");
  expect(problems.map((p) => p.message)).toEqual(["the file has no session", "the session has no sources"]);
  expect(value!.sources).toEqual([]);
});

test("V-12 unknown keys, with what was meant", () => {
  checkProblems("colums: {}\n", ["session.unknown-key 3:1"]);
  const [found] = readSession(`${least}colums: {}\n`).problems;
  expect(found!.hint).toContain("did you mean columns?");
  expect(found!.fix!.edits[0]!.text).toBe("columns");
  checkProblems("player: { nmae: P1 }\n", ["session.unknown-key 3:11"]);
  checkProblems("heads: { Wren: { kind: iron, lofft: 34 deg } }\n", ["session.unknown-key 3:30"]);
  checkProblems("air: { temprature: 3 degC }\n", ["session.unknown-key 3:8"]);
});

test("V-12 wrong shapes", () => {
  checkProblems("heads: Wren\n", ["session.wrong-shape 3:8"]);
  checkProblems("columns: [a]\n", ["session.wrong-shape 3:10"]);
  checkProblems("date: [2026]\n", ["session.wrong-shape 3:7"]);
  checkProblems("corrections:\n  - 5\n", ["session.wrong-shape 4:5"]);
});

test("V-08 dates are days of the calendar, year first", () => {
  for (const date of ["2024-13-45", "01/02/2024", "2024-02-30", "2023-02-29", "2024-3-1", "24-03-01", "20240301"])
    checkProblems(`date: ${date}\n`, ["value.date 3:7"]);
  for (const date of ["2024-02-29", "2000-02-29", "1999-12-31"]) expect(read(`date: ${date}\n`).date).toBe(date);
});

test("measures need a number and a unit that fits", () => {
  checkProblems("air: { temperature: 21 }\n", ["session.wrong-measure 3:21"]);
  checkProblems("air: { temperature: 21 yd }\n", ["session.wrong-measure 3:21"]);
  checkProblems("air: { temperature: 21 K }\n", ["session.implausible 3:21"]);
  checkProblems("heads: { Wren: { kind: iron, loft: 34 mm } }\n", ["session.wrong-measure 3:36"]);
  checkProblems("heads: { Wren: { kind: iron, loft: 340 deg } }\n", ["session.implausible 3:36"]);
  checkProblems("margin: { carry: 3 }\n", ["session.wrong-measure 3:18"]);
  checkProblems("margin: { carry: 3 deg }\n", ["session.wrong-measure 3:18"]);
  checkProblems("margin: { cary: 3 yd }\n", ["session.unknown-key 3:11"]);
  checkProblems("reading_error: { ball_speed: fast }\n", ["session.wrong-measure 3:30"]);
});

test("V-14 limits that are crossed, and margins by column", () => {
  checkProblems("plausible: { carry: [250 yd, 50 yd] }\n", ["session.limits-crossed 3:21"]);
  checkProblems("plausible: { carry: 250 yd }\n", ["session.wrong-shape 3:21"]);
  expect(read("plausible: { carry: [50 yd, 228.6 m], speed_ratio: [1, 1.5] }\n").plausible).toEqual({
    carry: { low: 50, high: 250, unit: "yd" },
    speed_ratio: { low: 1, high: 1.5, unit: null },
  });
  expect(read("margin: { carry: 3 m }\n").margins).toEqual({ carry: { value: 3, unit: "m" } });
});

test("the column map: unknown columns, wrong units, sides and directions", () => {
  checkProblems("columns: { ballspeed: Ball }\n", ["session.wrong-choice 3:12"]);
  expect(readSession(`${least}columns: { ballspeed: Ball }\n`).problems[0]!.fix!.edits[0]!.text).toBe("ball_speed");
  checkProblems("columns: { zone: Zone }\n", ["session.counted-column 3:12"]);
  checkProblems("columns: { carry: { from: C, unit: mph } }\n", ["session.wrong-unit 3:36"]);
  checkProblems("columns: { carry: { from: C, unit: parsec } }\n", ["session.wrong-unit 3:36"]);
  checkProblems("columns: { carry: { unit: yd } }\n", ["session.missing-key 3:19"]);
  checkProblems("columns: { carry: { from: C, unit: yd, sides: L/R } }\n", ["session.no-direction 3:40"]);
  checkProblems("columns: { offline: { from: C, unit: yd, sides: L/X } }\n", ["session.sides 3:49"]);
  checkProblems("columns: { offline: { from: C, unit: yd, positive: toe } }\n", ["session.wrong-choice 3:52"]);
  checkProblems("columns: { carry: C, total: C }\n", ["session.stated-twice 3:29"]);
});

test("sides in either order, for every direction, or as words", () => {
  const sides = (column: string, text: string) => read(`columns: { ${column}: { from: C, sides: ${text} } }\n`).columns[0]!.sides;
  expect(sides("offline", "L/R")).toEqual({ positive: "R", negative: "L" });
  expect(sides("offline", "r/l")).toEqual({ positive: "R", negative: "L" });
  expect(sides("strike_x", "H/T")).toEqual({ positive: "T", negative: "H" });
  expect(sides("strike_y", "H/L")).toEqual({ positive: "H", negative: "L" });
  expect(sides("angle_of_attack", "U/D")).toEqual({ positive: "U", negative: "D" });
  expect(sides("offline", "{ left: G, right: D }")).toEqual({ positive: "D", negative: "G" });
  checkProblems("columns: { offline: { from: C, sides: { left: G, right: G } } }\n", ["session.sides 3:39"]);
});

test("shots by number, range and list", () => {
  expect(read("shots:\n  - { shots: [1-3, 7], note: x }\n  - { shots: 9\u201311, intent: draw }\n").shots.map((remark) => remark.shots.map(({ from, to }) => [from, to]))).toEqual([
    [[1, 3], [7, 7]],
    [[9, 11]],
  ]);
  expect(read("breaks: [31, 61]\n").breaks.map(({ from }) => from)).toEqual([31, 61]);
  checkProblems("shots:\n  - { shots: 6-1, intent: x }\n", ["session.shots 4:14"]);
  checkProblems("shots:\n  - { shots: all, intent: x }\n", ["session.shots 4:14"]);
  checkProblems("shots:\n  - { shots: 0, intent: x }\n", ["session.shots 4:14"]);
  checkProblems("shots:\n  - { intent: x }\n", ["session.missing-key 4:5"]);
});

test("shots whose intent or value is stated twice", () => {
  checkProblems("shots:\n  - { shots: 1-6, intent: a }\n  - { shots: 6-9, intent: b }\n", ["session.overlap 5:14"]);
  expect(readSession(`${least}shots:\n  - { shots: 1-6, intent: a }\n  - { shots: 6-9, intent: b }\n`).problems[0]!.message).toBe(
    "shot 6 has its intent stated already, on line 4",
  );
  checkProblems("shots:\n  - { shots: 1-6, intent: a }\n  - { shots: 6-9, note: b }\n", []);
});

test("nothing is corrected or set aside without a reason", () => {
  checkProblems("set_aside:\n  - { shot: 4, column: carry }\n", ["session.no-reason 4:5"]);
  checkProblems("corrections:\n  - { shot: 4, column: head, value: Wren, because: }\n", ["session.no-reason 4:52"]);
  expect(readSession(`${least}set_aside:\n  - { shot: 4, column: carry }\n`).value!.setAside).toEqual([]);
  checkProblems("set_aside:\n  - { shot: 4, column: cary, because: x }\n", ["session.wrong-choice 4:24"]);
  checkProblems("set_aside:\n  - { shot: 4, column: head, because: x }\n", ["session.wrong-choice 4:24"]);
  checkProblems("corrections:\n  - { shot: 4, column: stint, value: 3, because: x }\n", ["session.counted-column 4:24"]);
  expect(read("set_aside:\n  - { shots: 4-5, column: [carry, total], because: x }\n").setAside.map((each) => each.column)).toEqual(["carry", "total"]);
});

test("what is not among the words of a key is said as such, with the words", () => {
  const said = (text: string): readonly string[] => readSession(least + text).problems.map(({ message }) => message);
  expect(said("carry_is: standard\n")).toEqual(['"standard" is not an accepted value of carry_is']);
  expect(said("heads: { Wren: { kind: irn } }\n")).toEqual(['"irn" is not an accepted kind of head']);
  expect(readSession(`${least}carry_is: standard\n`).problems[0]!.hint).toContain("as played");
});

test("heads: kinds, other names, references", () => {
  checkProblems("heads: { Wren: {} }\n", ["session.missing-key 3:16"]);
  checkProblems("heads: { Wren: { kind: irn } }\n", ["session.wrong-choice 3:24"]);
  checkProblems("heads: { Wren: { kind: iron, called: [7i] }, Heron: { kind: iron, called: 7i } }\n", ["session.stated-twice 3:75"]);
  expect(read("heads: { Wren: { kind: wood } }\n").heads[0]!.strikeReference).toEqual({ x: 0, y: 0 });
  expect(read("heads: { Wren: { kind: iron, strike_reference: { y: -0.5 in } } }\n").heads[0]!.strikeReference).toEqual({ x: 0, y: -12.7 });
});

test("zones and misses, for all kinds or by kind", () => {
  expect(read("zones: { width: 20 mm, iron: { height: 8 mm } }\n").centreZones).toEqual({
    iron: { halfWidth: 10, halfHeight: 4 },
    wedge: { halfWidth: 10, halfHeight: 2.5 },
    wood: { halfWidth: 10, halfHeight: 7 },
  });
  expect(read("misses: { wood: { x: 15 mm } }\n").standardMisses).toMatchObject({ iron: { x: 12, y: 8 }, wood: { x: 15, y: 8 } });
  checkProblems("zones: { depth: 3 mm }\n", ["session.unknown-key 3:10"]);
});

test.each([
  ["sources: { file: a.csv, delimiter: }", "comma, semicolon, tab"],
  ["sources: { file: a.csv, skip_lines: }", "a whole number from 0 to 1000"],
  ["sources: { file: a.csv, units_row: }", "true or false"],
  ["shots: { shots: 1, intent: }", "such as stock or warm-up"],
  ["monitor: { kind: }", "such as camera or radar"],
  ["date:", "2026-03-14"],
  ["margin: { carry: }", "3 m"],
  ["columns: { carry: { from: C, unit: } }", "one of m, yd"],
  ["columns: { strike_x: { from: C, unit: mm, sides: } }", "T/H"],
])("what is accepted is said where a value is empty: %s", (line, accepted) => {
  const { problems } = readSession(line.startsWith("sources") ? `session: s\n${line}\n` : `session: s\nsources: a.csv\n${line}\n`);
  expect(problems.map(({ code }) => code)).toEqual(["session.wrong-shape"]);
  expect(problems[0]!.message).toMatch(/ is empty$/u);
  expect(problems[0]!.hint).toContain(accepted);
});
test.each([["offline", "l-r", "L/R"], ["strike_x", "h-t", "T/H"], ["strike_y", "d-u", "U/D"]] as const)("letters of sides are written in one order everywhere: %s", (column, wrong, right) => {
  const [found] = readSession(`session: s\nsources: a.csv\ncolumns: { ${column}: { from: C, sides: ${wrong} } }\n`).problems;
  expect([found!.hint.slice(0, 3), found!.fix!.edits[0]!.text]).toEqual([right, right]);
});
test.each(["head", "shot", "stint", "zone", "feel"])("%s is read by no monitor: it is neither calculated nor off by a reading error", (column) => {
  checkProblems(`calculated: [carry, ${column}]\n`, ["session.wrong-choice 3:21"]);
  checkProblems(`reading_error: { ${column}: 1 % }\n`, ["session.unknown-key 3:18"]);
  expect(readSession(`session: s\nsources: a.csv\ncalculated: ${column}\n`).problems[0]!.hint).toContain("ball_speed");
});
test("sources: in short, in long, twice", () => {
  const sources = readSession("session: s\nsources:\n  - a.csv\n  - { file: b.csv, head: Wren, order: file, delimiter: semicolon, decimal: ',', skip_lines: 2, short_rows: missing, duplicate_headers: number }\n");
  expect(sources.problems).toEqual([]);
  expect(sources.value!.sources).toMatchObject([
    { file: "a.csv", head: null, order: null },
    { file: "b.csv", head: "Wren", order: "file", delimiter: ";", decimal: ",", skipLines: 2, shortRows: "missing", duplicateHeaders: "number" },
  ]);
  const twice = readSession("session: s\nsources: [a.csv, a.csv]\n");
  expect(twice.problems.map((p) => p.code)).toEqual(["session.stated-twice"]);
  expect(twice.value!.sources).toHaveLength(1);
  expect(readSession("session: s\nsources: { fiel: a.csv }\n").problems.map((p) => p.code)).toEqual(["session.unknown-key"]);
});

test("Y-02 names that every object has change nothing", () => {
  const { problems } = readSession(`${least}columns: { __proto__: x }\nmargin: { constructor: 3 yd }\n`);
  expect(problems.map((p) => p.code)).toEqual(["yaml.forbidden-name", "yaml.forbidden-name"]);
  expect(Object.keys(Object.prototype)).toEqual([]);
});

test("Y-05 texts that look like other types stay texts", () => {
  expect(read("player: no\n").player.name).toBe("no");
  expect(read("ball: { model: 012 }\n").ball.model).toBe("012");
  expect(read("heads: { 1.20: { kind: iron, club: 7 } }\n").heads[0]).toMatchObject({ name: "1.20", club: "7" });
});

test("a byte order mark is no part of the first key", () => {
  expect(readSession(`\ufeff${least}`).problems).toEqual([]);
});

test("a margin that cannot be read is remembered as such, so that no default stands in for it", () => {
  const unread = (text: string) => readSession(`${least}${text}\n`).value!.marginsUnread;
  for (const text of ["margin: { carry: 5 }", "margin: { carry: 3 mph }", "margin: { cary: 3 yd }", "margin: 3 yd"]) expect(unread(text), text).toBe(true);
  for (const text of ["margin: { carry: 3 yd }", "air: { temperature: warm }"]) expect(unread(text), text).toBe(false);
});

test("what was meant is not looked for in the two hundredth mistake", () => {
  const { problems } = readSession(`session: s\nsources: s.csv\nmargin:\n${Array.from({ length: 200 }, (_, i) => `  carry${"_".repeat(i + 1)}: 1 yd\n`).join("")}`);
  expect(problems).toHaveLength(200);
  expect([problems[0]!.fix, problems[199]!.fix].map((fix) => fix?.edits[0]!.text)).toEqual(["carry", undefined]);
});
