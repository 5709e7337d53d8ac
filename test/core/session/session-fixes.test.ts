import { expect, test } from "vitest";
import type { Problem } from "../../../core/problem";
import { applyEdits } from "../../../core/session/apply-edits";
import { loadShots } from "../../../core/session/load-shots";
import { readSession } from "../../../core/session/read-session";

const least = "session: s1\nsources: s1.csv\n";

/** The text after the fix of its first problem with one, without the first lines, and what is wrong then. */
function fixed(text: string): { readonly text: string; readonly codes: readonly string[]; readonly fix: NonNullable<Problem["fix"]> } {
  const before = least + text;
  const found = readSession(before).problems.find(({ fix }) => fix !== undefined);
  expect(found, text).toBeDefined();
  expect(found!.range.end.line, text).toBe(found!.range.start.line);
  const after = applyEdits(before, found!.fix!.edits);
  return { text: after.slice(least.length), codes: readSession(after).problems.map(({ code }) => code), fix: found!.fix! };
}

/** L-09: the fix gives this text, and nothing is wrong with it. */
function checkFix(text: string, expected: string): void {
  const after = fixed(`${text}\n`);
  expect(after.text).toBe(`${expected}\n`);
  expect(after.codes).toEqual([]);
}

function checkNoFix(text: string, code: string): void {
  const { problems } = readSession(`${least}${text}\n`);
  expect(problems.map((found) => found.code), text).toContain(code);
  expect(problems.filter(({ fix }) => fix !== undefined)).toEqual([]);
}

test("L-09 names with a slip", () => {
  checkFix("margin: { cary: 3 yd }", "margin: { carry: 3 yd }");
  checkFix("heads: { Wren: { kind: iron, lofft: 34 deg } }", "heads: { Wren: { kind: iron, loft: 34 deg } }");
  checkFix("player: { hand: Right }", "player: { hand: right }");
  checkFix("columns: { caryr: Carry }", "columns: { carry: Carry }");
  checkFix("set_aside:\n  - { shot: 4, column: cary, because: a bird }", "set_aside:\n  - { shot: 4, column: carry, because: a bird }");
  checkFix("columns: { carry: { from: Carry, unit: yrd } }", "columns: { carry: { from: Carry, unit: yd } }");
  checkFix("zones: { widht: 14 mm }", "zones: { width: 14 mm }");
});

test("L-09 brackets that are never closed, and values with a colon in them: one problem each", () => {
  checkFix("set_aside:\n  - { shot: 4, column: carry, because: a bird\nnote: x", "set_aside:\n  - { shot: 4, column: carry, because: a bird }\nnote: x");
  checkFix("set_aside: [{ shot: 4, column: carry, because: a bird", "set_aside: [{ shot: 4, column: carry, because: a bird }]");
  checkFix("note: a: b\nturf: firm", 'note: "a: b"\nturf: firm');
  checkFix("set_aside: { shot: 4, column: carry, because: a: b }", 'set_aside: { shot: 4, column: carry, because: "a: b" }');
  for (const text of ["note: a: b", "player: { name: a: b }", "set_aside:\n  - { shot: 4, column: carry because: x }", "set_aside: [{ shot: 4"]) expect(readSession(`${least}${text}\n`).problems, text).toHaveLength(1);
});

test("L-09 a near name that is there already is no fix", () => {
  checkNoFix("heads: { Wren: { kind: iron, lofft: 3 deg, loft: 34 deg } }", "session.unknown-key");
  checkNoFix("columns: { cary: A, carry: B }", "session.wrong-choice");
});

test("L-09 measures: unit left out, slip in the unit, decimal comma", () => {
  checkFix("heads: { Wren: { kind: iron, loft: 34 } }", "heads: { Wren: { kind: iron, loft: 34 deg } }");
  checkFix("heads: { Wren: { kind: iron, length: 37 } }", "heads: { Wren: { kind: iron, length: 37 in } }");
  checkFix("air: { temperature: 21, humidity: 45 % }", "air: { temperature: 21 degC, humidity: 45 % }");
  checkFix("margin: { carry: 3 }", "margin: { carry: 3 yd }");
  checkFix("plausible: { carry: [50, 250 yd] }", "plausible: { carry: [50 yd, 250 yd] }");
  checkFix("zones: { width: 14 }", "zones: { width: 14 mm }");
  checkFix("air:\n  temperature: 21,5 degC", "air:\n  temperature: 21.5 degC");
  checkFix("air: { pressure: 1009 hPaa }", "air: { pressure: 1009 hPa }");
  expect(fixed("margin: { carry: 3 }\n").fix.byPerson).toBe(true);
  expect(fixed("air: { pressure: 1009 hPaa }\n").fix.byPerson).toBeUndefined();
});

test("L-09 a number without a unit that is not likely in the usual one has no fix", () => {
  checkNoFix("air: { temperature: 75 }", "session.wrong-measure");
  checkNoFix("air: { altitude: 300 }", "session.wrong-measure");
  checkNoFix("reading_error: { ball_speed: 1 }", "session.wrong-measure");
  checkNoFix("heads: { Wren: { kind: iron, length: 94 } }", "session.wrong-measure");
});

test("L-09 dates written in another way, unless they could be two", () => {
  checkFix("date: 2026/03/14", "date: 2026-03-14");
  checkFix("date: 14.3.2026", "date: 2026-03-14");
  checkFix("date: 3/14/2026", "date: 2026-03-14");
  checkNoFix("date: 3/4/2026", "value.date");
  checkNoFix("date: 2026-02-30", "value.date");
});

test("L-09 a unit of what has none is left out", () => {
  for (const unit of ["yd", "{ a: b }", "[yd]", '""']) {
    checkFix(`columns: { head: { from: Club, unit: ${unit} } }`, "columns: { head: { from: Club } }");
    const [found] = readSession(`${least}columns: { head: { from: Club, unit: ${unit} } }\n`).problems;
    expect(found!.message, unit).toMatch(/^head has no unit/u);
    expect(found!.hint, unit).toBe("leave it out");
  }
  checkFix("columns:\n  head:\n    from: Club\n    unit: yd\n  carry: Carry", "columns:\n  head:\n    from: Club\n  carry: Carry");
});

test("a map in place of a date is told what a day looks like", () => {
  expect(readSession(`${least}date: { a: b }\n`).problems[0]!.message).toContain("a day, such as 2026-03-14");
});

test("L-09 other small slips", () => {
  checkFix("player: { name: P1, mirror: yes }", "player: { name: P1, mirror: true }");
  checkFix("plausible: { carry: [250 yd, 50 yd] }", "plausible: { carry: [50 yd, 250 yd] }");
  checkFix("breaks: [41, 78-52]", "breaks: [41, 52-78]");
  checkFix("columns: { offline: { from: Side, sides: LR } }", "columns: { offline: { from: Side, sides: L/R } }");
  checkFix("player:\n \tname: P1", "player:\n  name: P1");
});

test("L-09 what means nothing is left out, with its line", () => {
  checkFix("columns: { head: Club, zone: Zone, carry: Carry }", "columns: { head: Club, carry: Carry }");
  checkFix("columns: { zone: Zone, carry: Carry }", "columns: { carry: Carry }");
  checkFix("columns:\n  head: Club # the club\n  zone: Zone # not read\n  carry: Carry", "columns:\n  head: Club # the club\n  carry: Carry");
  checkFix("columns: { carry: { from: Carry, unit: yd, sides: L/R } }", "columns: { carry: { from: Carry, unit: yd } }");
  checkFix("columns: { speed_ratio: { unit: mph, from: Ratio } }", "columns: { speed_ratio: { from: Ratio } }");
  checkNoFix("columns:\n  zone: Zone\n  carry: Carry", "session.counted-column");
});

test("L-09 a key that is there twice is left out where it says the same", () => {
  checkFix("turf: firm\nnote: a day\nturf: firm", "turf: firm\nnote: a day");
  checkFix("player: { hand: left, name: P1, hand: left }", "player: { hand: left, name: P1 }");
  checkNoFix("turf: firm\nturf: soft", "yaml.duplicate-key");
  checkNoFix("turf: firm\nturf:", "yaml.duplicate-key");
});

test("a reason is never made up", () => {
  checkNoFix("set_aside:\n  - { shot: 4, column: carry }", "session.no-reason");
});

test("L-09 the unit that nothing tells: that of the others of its quantity, else the usual one, if the person says so", () => {
  const check = (columns: string, expected: string, code: string): void => {
    const text = `${least}columns:\n  head: Club\n${columns}heads: { Wren: { kind: iron } }\n`;
    const bytes = new TextEncoder().encode("Club,Carry,Total,Up\nWren,150,160,17\n");
    const problemsOf = (session: string): readonly Problem[] => loadShots(readSession(session).value!, new Map([["s1.csv", bytes]])).problems;
    const found = problemsOf(text).find((each) => each.code === code);
    expect(found?.fix?.byPerson, columns).toBe(true);
    const after = applyEdits(text, found!.fix!.edits);
    expect(after).toBe(text.replace(columns, expected));
    expect(problemsOf(after).map((each) => each.code)).not.toContain(code);
  };
  check("  carry: Carry\n", "  carry: { from: Carry, unit: yd }\n", "session.no-unit");
  check("  carry: { from: Carry }\n", "  carry: { from: Carry, unit: yd }\n", "session.no-unit");
  check("  total: { from: Total, unit: m }\n  carry: Carry\n", "  total: { from: Total, unit: m }\n  carry: { from: Carry, unit: m }\n", "session.no-unit");
  check("  carry:\n    from: Carry # as flown\n", "  carry:\n    unit: yd\n    from: Carry # as flown\n", "session.no-unit");
  check("  launch_angle: Up\n", "  launch_angle: { from: Up, unit: deg }\n", "session.unit-assumed");
});

test("a head that the session misspells is marked where the session names it", () => {
  const bytes = new TextEncoder().encode("Club,Carry\nWren,150\nHeron,160\n");
  const check = (text: string, place: string, after: string): void => {
    const found = loadShots(readSession(text).value!, new Map([["s1.csv", bytes]])).problems.find(({ code }) => code === "session.unknown-head")!;
    expect(found.file).toBeUndefined();
    expect(text.split("\n")[found.range.start.line - 1]!.slice(found.range.start.column - 1, found.range.end.column - 1)).toBe(place);
    expect(applyEdits(text, found.fix!.edits)).toContain(after);
  };
  const rest = "columns: { carry: { from: Carry, unit: yd }, head: Club }\nheads: { Wren: { kind: iron }, Heron: { kind: iron } }\n";
  check(`session: s\nsources: s1.csv\n${rest}corrections:\n  - { shot: 2, column: head, value: Hreon, because: x }\n`, "Hreon", "value: Heron");
  check(`session: s\nsources: [{ file: s1.csv, head: Wern }]\n${rest}`, "Wern", "head: Wren");
});

test("problems of values over several lines are marked on one", () => {
  for (const text of ["heads: [\n  a,\n  b ]", "date:\n  - 2026\n  - 3", "sources:\n  - { fiel: a.csv,\n      x: y }", "breaks: \"a\n  b\"", "columns: { carry: {\n  unit: yd } }", "- a\n- b"]) {
    const { problems } = readSession(text);
    expect(problems.length, text).toBeGreaterThan(0);
    for (const { range, code } of problems) expect(range.end.line, `${text} ${code}`).toBe(range.start.line);
  }
});

test("exactly the shots that mean nothing are marked", () => {
  const text = `${least}breaks: 1-6, x7, 9\n`;
  const [found] = readSession(text).problems;
  expect(text.split("\n")[2]!.slice(found!.range.start.column - 1, found!.range.end.column - 1)).toBe("x7");
});

/** One slip is one problem, with its fix if there is one, in the session and its export together. */
function checkOneProblem(columns: string, code: string, after: string | null): void {
  const rest = "heads: { Wren: { kind: iron } }\n";
  const text = `session: s1\nsources: { file: s1.csv, order: shot }\n${columns}\n${rest}`;
  const bytes = new TextEncoder().encode("No,Club,Carry,Path\n1,Wren,150,3 L\n2,Wren,151,2 R\n");
  const { value, problems } = readSession(text);
  const found = [...problems, ...loadShots(value!, new Map([["s1.csv", bytes]])).problems].filter(({ severity }) => severity !== "info");
  expect(found.map((each) => each.code), columns).toEqual([code]);
  expect(found[0]!.fix === undefined ? null : applyEdits(text, found[0]!.fix.edits).slice(0, -rest.length - 1).split("\n").slice(2).join("\n")).toBe(after);
}

test.each([
  ['colums: { shot: "No", head: Club }', "session.unknown-key", 'columns: { shot: "No", head: Club }'],
  ['columns: { shot: "No", head: Club, carry: { from: Carry, unit: mp/h } }', "session.wrong-unit", null],
  ['columns: { shot: "No", head: Club, carry: { form: Carry, unit: yd } }', "session.unknown-key", 'columns: { shot: "No", head: Club, carry: { from: Carry, unit: yd } }'],
  ['columns: { shot: "No", head: Club, club_path: { from: Path, unit: deg, sides: left/right } }', "session.sides", 'columns: { shot: "No", head: Club, club_path: { from: Path, unit: deg, sides: L/R } }'],
  ["columns: { shot: “No”, head: Club }", "session.unknown-header", 'columns: { shot: "No", head: Club }'],
])("one slip is one problem: %s", checkOneProblem);
test("a slip in the first key, and a choice by its first letter", () => {
  expect(readSession("sesion: s1\nsources: s1.csv\n").problems.map(({ code }) => code)).toEqual(["session.unknown-key"]);
  checkFix("player: { hand: R }", "player: { hand: right }");
});

test("a head that the session misspells in its heads is warned of there, with the export's name as the one that may be meant", () => {
  const problemsOf = (name: string): readonly Problem[] => loadShots(readSession(`${least}columns: { carry: { from: Carry, unit: yd }, head: Club }\nheads:\n  ${name}: { kind: iron }\n  Wren: { kind: iron }\n`).value!, new Map([["s1.csv", new TextEncoder().encode("Club,Carry\nHeron,150\nWren,160\n")]])).problems;
  const found = problemsOf("Herron").find(({ code }) => code === "session.head-misspelt");
  expect(found).toMatchObject({ severity: "warning", range: { start: { line: 5, column: 3 } }, fix: { edits: [{ text: "Heron" }], byPerson: true } });
  expect(found!.hint).toContain("did you mean Heron?");
  expect(problemsOf("Heron").filter(({ code }) => /head/u.test(code))).toEqual([]);
  expect(problemsOf("Plover").map(({ code }) => code)).toContain("session.head-not-hit");
});

test.each(['"Wren', '"Wren"x'])("a head behind a broken quote, %s, is one problem and no other name", (field) => {
  const { value } = readSession(`${least}columns: { carry: { from: Carry, unit: yd }, head: Club }\nheads: { Wren: { kind: iron } }\n`);
  const { problems } = loadShots(value!, new Map([["s1.csv", new TextEncoder().encode(`Carry,Club\n150,${field}\n151,Wren\n`)]]));
  expect(problems.filter(({ severity }) => severity === "error").map(({ code }) => code)).toEqual([field === '"Wren' ? "csv.unclosed-quote" : "csv.text-after-quote"]);
});
