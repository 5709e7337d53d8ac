import * as fc from "fast-check";
import { expect, test } from "vitest";
import { applyEdits } from "../../../core/session/apply-edits";
import { readSession } from "../../../core/session/read-session";
import type { SetAsideRequest } from "../../../core/session/set-aside-edit";
import { setAsideEdits } from "../../../core/session/set-aside-edit";

const carry4: SetAsideRequest = { shots: [4], columns: ["carry"], because: "a bird" };
const head = "session: s\nsources: s.csv\n";

function checkText(text: string, requests: readonly SetAsideRequest[], expected: string): void {
  const { value, problems } = setAsideEdits(text, requests);
  expect(problems.filter((found) => found.severity === "error")).toEqual([]);
  expect(value!.length).toBeLessThan(2);
  expect(applyEdits(text, value!)).toBe(expected);
}

function checkRefused(text: string, requests: readonly SetAsideRequest[], code: string): void {
  const { value, problems } = setAsideEdits(text, requests);
  expect([value, problems.map((found) => found.code)]).toEqual([null, [code]]);
}

test("a session without set_aside gets one behind what describes its shots", () => {
  checkText(head, [carry4], `${head.trimEnd()}\nset_aside:\n  - { shot: 4, column: carry, because: a bird }\n`);
  checkText("session: s\nsources: s.csv", [carry4], "session: s\nsources: s.csv\nset_aside:\n  - { shot: 4, column: carry, because: a bird }");
  checkText(
    "session: s # one\n\nshots:\n  - { shots: 1-2, intent: warm-up } # stiff\n\n# errors\nreading_error: { carry: 1 yd }\nsources: s.csv\n",
    [carry4],
    "session: s # one\n\nshots:\n  - { shots: 1-2, intent: warm-up } # stiff\n\nset_aside:\n  - { shot: 4, column: carry, because: a bird }\n\n# errors\nreading_error: { carry: 1 yd }\nsources: s.csv\n",
  );
});

test("entries are added in the style of those that are there, comments kept", () => {
  checkText(`${head}set_aside:\n- { shot: 1, column: carry, because: x } # seen\n# end\nnote: n\n`, [carry4], `${head}set_aside:\n- { shot: 1, column: carry, because: x } # seen\n- { shot: 4, column: carry, because: a bird }\n# end\nnote: n\n`);
  checkText(`${head}set_aside: # none yet\nnote: n\n`, [carry4], `${head}set_aside: # none yet\n  - { shot: 4, column: carry, because: a bird }\nnote: n\n`);
  checkText(`${head}set_aside: [] # none yet\n`, [carry4], `${head}set_aside: # none yet\n  - { shot: 4, column: carry, because: a bird }\n`);
  checkText(`${head}set_aside: [\n  # none yet\n]\n`, [carry4], `${head}set_aside: [\n  # none yet\n  { shot: 4, column: carry, because: a bird }\n]\n`);
  checkText(`${head}set_aside: [{ shot: 1, column: carry, because: x },]\n`, [carry4], `${head}set_aside: [{ shot: 1, column: carry, because: x }, { shot: 4, column: carry, because: a bird },]\n`);
  checkText(`${head}set_aside: { shot: 1, column: carry, because: x }\n`, [carry4], `${head}set_aside: [{ shot: 1, column: carry, because: x }, { shot: 4, column: carry, because: a bird }]\n`);
  checkText(
    `${head}set_aside:\n  - shot: 1\n    column: carry\n    because: >\n      two\n      lines\n\nnote: n\n`,
    [carry4],
    `${head}set_aside:\n  - shot: 1\n    column: carry\n    because: >\n      two\n      lines\n  - shot: 4\n    column: carry\n    because: a bird\n\nnote: n\n`,
  );
});

test("a list in brackets over several lines gets a line more, comments kept", () => {
  checkText(
    `${head}set_aside: [\n  { shot: 1, column: carry, because: x }, # first\n  { shot: 2, column: carry, because: x } # second\n]\n`,
    [carry4],
    `${head}set_aside: [\n  { shot: 1, column: carry, because: x }, # first\n  { shot: 2, column: carry, because: x }, # second\n  { shot: 4, column: carry, because: a bird }\n]\n`,
  );
  checkText(
    `${head}set_aside: [\n  { shot: 1, column: carry, because: x },\n]\n`,
    [carry4],
    `${head}set_aside: [\n  { shot: 1, column: carry, because: x },\n  { shot: 4, column: carry, because: a bird },\n]\n`,
  );
});

test("a new list is indented as the other lists are, and stands behind the comments of what comes before it", () => {
  checkText(
    `${head}shots:\n- { shots: 1-2, intent: warm-up }\n  # not shot 3\nreading_error: { carry: 1 yd }\n`,
    [carry4],
    `${head}shots:\n- { shots: 1-2, intent: warm-up }\n  # not shot 3\nset_aside:\n- { shot: 4, column: carry, because: a bird }\nreading_error: { carry: 1 yd }\n`,
  );
  checkText(
    `${head}set_aside:\n  -\n    shot: 1\n    column: carry\n    because: x\n`,
    [carry4],
    `${head}set_aside:\n  -\n    shot: 1\n    column: carry\n    because: x\n  - shot: 4\n    column: carry\n    because: a bird\n`,
  );
});

test("an edit among several is placed by the text before any of them", () => {
  const at = (line: number, from: number, to: number, text: string) => ({ range: { start: { line, column: from }, end: { line, column: to } }, text });
  expect(applyEdits("\ufeffab\ncd\n", [at(1, 1, 2, "xyz"), at(2, 2, 3, ""), at(1, 3, 3, "!")])).toBe("\ufeffxyzb!\nc\n");
});

test("line ends of another system and a byte order mark are kept", () => {
  const text = "\ufeffsession: s\r\nsources: s.csv\r\nset_aside:\r\n  - { shot: 1, column: carry, because: x }\r\n";
  checkText(text, [carry4], `${text}  - { shot: 4, column: carry, because: a bird }\r\n`);
});

test("shots become ranges, columns a list, and a reason is quoted where YAML needs it", () => {
  const aside = (request: SetAsideRequest, line: string): void => checkText(`${head}set_aside:\n`, [request], `${head}set_aside:\n  - ${line}\n`);
  aside({ shots: [54, 52, 53, 60, 52], columns: ["carry"], because: "x" }, "{ shots: [52-54, 60], column: carry, because: x }");
  aside({ shots: [7], columns: ["carry", "total"], because: "x" }, "{ shot: 7, column: [carry, total], because: x }");
  aside({ shots: [7], columns: "all", because: "no swing" }, "{ shot: 7, column: all, because: no swing }");
  aside({ shots: [7], columns: ["carry"], because: ' wind: "gust" # 3\n, then {calm} ' }, '{ shot: 7, column: carry, because: "wind: \\"gust\\" # 3 , then {calm}" }');
});

test("what is set aside already is not written twice", () => {
  const text = `${head}set_aside:\n  - { shots: 1-4, column: carry, because: x }\n  - { shot: 9, column: all, because: y }\n`;
  const again = setAsideEdits(text, [carry4, { shots: [9], columns: ["total"], because: "z" }]);
  expect([again.value, again.problems.map((found) => found.code)]).toEqual([[], ["session.set-aside-already"]]);
  checkText(text, [{ ...carry4, shots: [4, 5] }, { ...carry4, shots: [5] }], `${text}  - { shot: 5, column: carry, because: a bird }\n`);
});

test("what cannot be kept is refused, and so is a text that cannot be read or safely edited", () => {
  checkRefused(head, [{ ...carry4, because: " \n" }], "session.no-reason");
  checkRefused(head, [{ ...carry4, shots: [1.5] }], "session.shots");
  checkRefused(head, [{ ...carry4, shots: [] }], "session.shots");
  checkRefused(head, [{ ...carry4, columns: [] }], "session.wrong-choice");
  checkRefused(head, [{ ...carry4, columns: ["zone"] }], "session.wrong-choice");
  checkRefused(`${head}set_aside: &a []\n`, [carry4], "yaml.anchor");
  checkRefused(`${head}\tset_aside: []\n`, [carry4], "yaml.tab");
  checkRefused("{ session: s, sources: s.csv }", [carry4], "session.cannot-edit");
  checkRefused(`${head}set_aside:\n  shot: 1\n  column: carry\n  because: x\n`, [carry4], "session.cannot-edit");
  checkRefused("just words", [carry4], "session.not-a-session");
});

const layouts = [
  "",
  "set_aside:\n",
  "set_aside: []\n",
  "set_aside: [ { shot: 1, column: carry, because: x } ] # seen\n",
  "set_aside:\n  - { shot: 1, column: carry, because: x }\n",
  "set_aside:\n-   shot: 1\n    column: [carry,\n      total]\n    because: 'it''s'\n",
  "set_aside:\n  - shot: 1\n    because: |\n      a\n      b\n    column: carry\n",
];
const tails = ["", "# the end\n", "note: n\n", "\n\nheads:\n  Wren: { kind: iron }\n  # as built\n", "note: |\n  some\n  text\n"];
const fronts = ["", "# about\n\n", "shots: [{ shots: 1-3, intent: warm-up }]\n\n"];

test("in any layout the session is read as before with just these entries more, and every other line is as it was", () => {
  const shots = fc.uniqueArray(fc.integer({ min: 2, max: 30 }), { minLength: 1, maxLength: 6 });
  const request = fc.record({
    shots,
    columns: fc.oneof(fc.constant("all" as const), fc.uniqueArray(fc.constantFrom("carry" as const, "total" as const, "face_angle" as const), { minLength: 1 })),
    because: fc.oneof(fc.string({ unit: "grapheme", minLength: 1 }), fc.constantFrom("a: b", "- x", "#1", "'", '"', "[", "null", "~", "é")).filter((text) => text.trim() !== ""),
  });
  const eol = fc.constantFrom("\n", "\r\n");
  fc.assert(
    fc.property(fc.constantFrom(...fronts), fc.constantFrom(...layouts), fc.constantFrom(...tails), eol, fc.boolean(), request, (front, layout, tail, end, isCut, asked) => {
      const whole = `${front}${head}${layout}${tail}`.replaceAll("\n", end);
      const text = isCut ? whole.trimEnd() : whole;
      const { value, problems } = setAsideEdits(text, [asked]);
      expect(problems.filter((found) => found.severity === "error")).toEqual([]);
      const edited = applyEdits(text, value!);
      const read = readSession(edited);
      expect(read.problems.filter((found) => found.code.startsWith("yaml."))).toEqual([]);
      const added = read.value!.setAside.slice(readSession(text).value!.setAside.length);
      const shotsOf = (each: (typeof added)[number]): number[] => each.shots.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, i) => from + i));
      expect(added.map((each) => each.column)).toEqual(asked.columns === "all" ? ["all"] : asked.columns);
      for (const each of added) expect(shotsOf(each)).toEqual([...asked.shots].sort((a, b) => a - b));
      const lines = edited.split(end);
      for (const line of text.split(end)) if (!line.startsWith("set_aside: [")) expect(lines).toContain(line);
    }),
    { seed: 41, numRuns: 300 },
  );
});
