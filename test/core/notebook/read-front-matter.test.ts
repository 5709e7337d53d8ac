import { expect, test } from "vitest";
import { frontMatterKeyHelp, frontMatterKeys } from "../../../core/notebook/front-matter-keys";
import { readFrontMatter } from "../../../core/notebook/read-front-matter";
import { lineTable } from "../../../core/text-position";
import type { ProblemCode } from "../../../core/problem";

const defaults = { title: null, shots: [], units: "yd-mph", margins: {}, marginsUnread: false, seed: 1, choices: [] };

function checkValue(text: string, expected: object): void {
  const { value, problems } = readFrontMatter(text);
  expect(problems).toEqual([]);
  expect({ ...value, shots: value.shots.map(({ path }) => path) }).toEqual({ ...defaults, ...expected });
}

/** The codes of the problems, each with the text that it is about; what cannot be read has its default. */
function checkProblems(text: string, ...expected: readonly (readonly [ProblemCode, string])[]): void {
  const { problems } = readFrontMatter(text);
  const lines = lineTable(text);
  expect(problems.map(({ code, range }) => [code, text.slice(lines.offsetAt(range.start), lines.offsetAt(range.end))])).toEqual(expected);
}

test("nothing has every default", () => {
  checkValue("", {});
  checkValue("# a comment\n", {});
  checkValue("title:\nshots:\nmargin:\n", {});
});
test("everything that can be said", () =>
  checkValue(
    "fairstrike: 1\ntitle: Three irons, one tester\nshots: sessions/spring.session.yaml  # the first\nunits: m-ms\nmargin: { carry: 3 yd, ball_speed: 0.5 m/s }\nseed: 7\n",
    {
      title: "Three irons, one tester",
      shots: ["sessions/spring.session.yaml"],
      units: "m-ms",
      margins: { carry: { value: 3, unit: "yd" }, ball_speed: { value: 0.5, unit: "m/s" } },
      seed: 7,
    },
  ));
test("any in a list, and a range from above to, are said where they stand", () => {
  checkProblems("choose: { c: { of: head, is: [any] } }", ["nb.value", "any"]);
  checkProblems("choose: { c: { of: head, is: [Wren, any] } }", ["nb.value", "any"]);
  checkProblems("choose:\n  c:\n    of: head\n    is:\n      - any\n", ["nb.value", "any"]);
  checkProblems("choose: { c: { of: head, is: ['any', Wren] } }");
  checkProblems("choose: { c: { among: [any, carry], is: any } }");
  checkProblems("choose: { c: { of: carry, from: 3 yd, to: 2 yd } }", ["nb.value", "3 yd"]);
  checkProblems("choose: { c: { of: carry, from: 3 yd, to: } }");
});
test("a list of sessions, and the sessions of a folder", () => {
  checkValue("shots: [a.session.yaml, ../b.session.yaml]", { shots: ["a.session.yaml", "../b.session.yaml"] });
  checkValue("shots:\n  - sessions/*.session.yaml\n  - '*.session.yaml'\n", { shots: ["sessions/*.session.yaml", "*.session.yaml"] });
});
test("paths have their place", () => {
  const text = "shots:\n  - a.session.yaml\n  - \"b.session.yaml\"\n";
  const ranges = readFrontMatter(text).value.shots.map(({ range }) => [range.start.line, range.start.column]);
  expect(ranges).toEqual([
    [2, 5],
    [3, 5],
  ]);
});
test("Y-05 values are read by what their key asks for", () => {
  checkValue("title: 012", { title: "012" });
  checkValue("title: no", { title: "no" });
  checkProblems("seed: 1.0", ["nb.value", "1.0"]);
  checkProblems("seed: 0x10", ["nb.value", "0x10"]);
});
test("an unknown key is a warning, with a fix where one is near", () => {
  checkProblems("ballpark: { a: 1 }", ["nb.unknown-key", "ballpark"]);
  checkProblems("titel: x", ["nb.unknown-key", "titel"]);
  const [found] = readFrontMatter("titel: x").problems;
  expect([found!.severity, found!.fix!.edits[0]!.text]).toEqual(["warning", "title"]);
  expect(readFrontMatter("ballpark: 1").problems[0]!.hint).toContain(frontMatterKeys.join(", ").slice(0, 20));
});
test("wrong values are refused with what is accepted", () => {
  checkProblems("fairstrike: soon", ["nb.value", "soon"]);
  checkProblems("fairstrike: 0", ["nb.value", "0"]);
  checkProblems("title: [a]", ["nb.value", "[a]"]);
  checkProblems("units: metric", ["nb.value", "metric"]);
  checkProblems("seed: -1", ["nb.value", "-1"]);
  checkProblems("seed: 4294967296", ["nb.value", "4294967296"]);
  checkProblems("margin: 3 yd", ["nb.value", "3 yd"]);
  checkProblems("shots: { a: b }", ["nb.value", "{ a: b }"]);
  expect(readFrontMatter("units: metric").problems[0]!.hint).toBe("units is yd-mph, m-kmh, m-ms");
});
test("a margin that cannot be read is remembered, so that no default stands in for it", () => {
  for (const margin of ["{ carry: 5 }", "{ carry: -3 yd }", "{ carry: 3 mph }", "{ cary: 3 yd }", "3 yd", "{ carry: 3 yd, ball_speed: fast }"])
    expect(readFrontMatter(`margin: ${margin}`).value.marginsUnread, margin).toBe(true);
  expect(readFrontMatter("margin: { carry: 3 yd }").value.marginsUnread).toBe(false);
});
test("N-19 a newer format is not this function's to report", () => checkProblems("fairstrike: 99"));
test("front matter that is no map is refused", () => {
  checkProblems("- a", ["nb.not-a-map", "- a"]);
  checkProblems("word", ["nb.not-a-map", "word"]);
});
test("what is wrong with the YAML is said", () => checkProblems("title: &a x", ["yaml.anchor", "&a"]));
test("P-01 P-02 malformed paths are refused where they stand, and left out", () => {
  checkProblems("shots: [/etc/passwd, 'a\\b', ok.session.yaml]", ["path.absolute", "/etc/passwd"], ["path.backslash", "'a\\b'"]);
  expect(readFrontMatter("shots: [/etc/passwd, ok.session.yaml]").value.shots.map(({ path }) => path)).toEqual(["ok.session.yaml"]);
  checkProblems("shots: '**/*.session.yaml'", ["path.character", "'**/*.session.yaml'"]);
  checkProblems("shots: ''", ["path.empty", "''"]);
});
test("V-11 a session that is named twice is refused", () => checkProblems("shots: [a.yaml, a.yaml]", ["nb.duplicate-session", "a.yaml"]));
test("margins are for columns with a unit, above 0, in a unit that fits", () => {
  checkProblems("margin: { cary: 3 yd }", ["nb.margin-column", "cary"]);
  checkProblems("margin: { head: 3 yd, feel: 3 yd }", ["nb.margin-column", "head"], ["nb.margin-column", "feel"]);
  checkProblems("margin: { carry: 3 }", ["nb.margin", "3"]);
  checkProblems("margin: { carry: 0 yd }", ["nb.margin", "0 yd"]);
  checkProblems("margin: { carry: -3 yd }", ["nb.margin", "-3 yd"]);
  checkProblems("margin: { carry: 3 mph }", ["nb.margin", "3 mph"]);
  checkProblems("margin: { carry: [3 yd] }", ["nb.margin", "[3 yd]"]);
  expect(readFrontMatter("margin: { cary: 3 yd }").problems[0]!.fix!.edits[0]!.text).toBe("carry");
  checkValue("margin: { offline: 2 m, strike_x: 0.1 in }", { margins: { offline: { value: 2, unit: "m" }, strike_x: { value: 0.1, unit: "in" } } });
});
test("every key has a line of help, and no other is accepted", () => {
  for (const [key, help] of Object.entries(frontMatterKeyHelp)) {
    expect(help, key).toMatch(/^\S.*[^.\s]$/u);
    expect(readFrontMatter(`${key}: `).problems.map(({ code }) => code), key).not.toContain("nb.unknown-key");
  }
});
test("a problem is on one line, however long what is wrong is", () => {
  for (const text of ["title:\n  - a\n  - b\n", "margin:\n  - a\n  - b\n", "- a\n- b\n", "shots:\n  - a: 1\n    b: 2\n"]) {
    const { problems } = readFrontMatter(text);
    expect(problems.length, text).toBeGreaterThan(0);
    for (const { range } of problems) expect(range.end.line, text).toBe(range.start.line);
  }
});
test("a margin without a unit is taken to be in the notebook's, wherever that stands", () => {
  const unitOf = (text: string): string | undefined => readFrontMatter(text).problems[0]!.fix?.edits[0]!.text;
  expect(unitOf("margin: { carry: 3 }")).toBe("3 yd");
  expect(unitOf("margin: { carry: 3 }\nunits: m-ms")).toBe("3 m");
  expect(unitOf("margin: { carry: 0 }")).toBeUndefined();
  expect(unitOf("margin: { carry: fast }")).toBeUndefined();
});
test("a session is left out a second time with what stands between, unless that is a comment", () => {
  const fixOf = (text: string) => readFrontMatter(text).problems.find(({ code }) => code === "nb.duplicate-session")?.fix;
  expect(fixOf("shots: [a.yaml, a.yaml]")).toBeDefined();
  expect(fixOf("shots:\n  - a.yaml # the first\n  - a.yaml\n")).toBeUndefined();
});
