import { expect, test } from "vitest";
import { readFrontMatter } from "../../core/notebook/read-front-matter";
import { applyEdits } from "../../core/session/apply-edits";
import { readSession } from "../../core/session/read-session";
import { readYaml } from "../../core/yaml-text";

/** The text has this problem alone; its fix gives `after`, which has none and is read as the text is now. */
function checkMend(text: string, code: "yaml.tab" | "yaml.syntax", after: string): void {
  const { value, problems } = readYaml(text);
  expect(problems.map((found) => found.code), text).toEqual(text.match(/^ *\t/gmu)?.map(() => code) ?? [code]);
  const fixed = applyEdits(text, problems.flatMap(({ fix }) => fix!.edits));
  expect(fixed).toBe(after);
  expect(problems.some(({ fix }) => fix!.byPerson)).toBe(false);
  expect(readYaml(fixed).problems).toEqual([]);
  expect(withoutPlaces(value)).toEqual(withoutPlaces(readYaml(fixed).value));
}

function withoutPlaces(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value, (key, each: unknown) => (/range/iu.test(key) ? undefined : each)));
}

test.each([
  ['columns:\n\tshot: "No"\n  head: x\n', 'columns:\n  shot: "No"\n  head: x\n'],
  ["a:\n\tb: 1\n\tc: 2\n", "a:\n  b: 1\n  c: 2\n"],
  ["a:\r\n\tb: 1\r\n", "a:\r\n  b: 1\r\n"],
  ["a:\n\tb:\n\t\tc: 1\n\td: 2\ne: 3\n", "a:\n  b:\n    c: 1\n  d: 2\ne: 3\n"],
  ["a: # x\n  \tb: 1\n    c: 2\n", "a: # x\n    b: 1\n    c: 2\n"],
  ["shots: x\n\tseed: 3\ntitle: q\n", "shots: x\nseed: 3\ntitle: q\n"],
  ["shots: x\n\tseed: 3\n", "shots: x\nseed: 3\n"],
  ["\tseed: 3\ntitle: q\n", "seed: 3\ntitle: q\n"],
  ["a:\n- { b: 1 }\n\tnote: x\n", "a:\n- { b: 1 }\nnote: x\n"],
  ["a:\n  - b: 1\n\t- b: 2\n", "a:\n  - b: 1\n  - b: 2\n"],
  ["a: { b: 1,\n\tc: 2,\n\td: 3 }\ne: f\n", "a: { b: 1,\n  c: 2,\n  d: 3 }\ne: f\n"],
])("a tab before %j is mended by the lines around it, and confuses no other", (text, after) => checkMend(text, "yaml.tab", after));

test("a tab where the lines around it don't tell which map a key belongs to is for a person to mend", () => {
  const text = "session: s\nsources: a.csv\nreading_error:\n  carry: 1 yd\n\tnote: hello\n";
  const { problems } = readSession(text);
  expect(problems.map(({ code, fix }) => [code, fix?.byPerson])).toEqual([["yaml.tab", true]]);
});

test("one tab in the columns of a session is one problem, and places behind it stay true", () => {
  const { value, problems } = readSession('session: s\nsources: a.csv\ncolumns:\n\tshot: "No"\n  head: Club\n\tcary: Carry\n');
  expect(problems.map(({ code }) => code)).toEqual(["yaml.tab", "yaml.tab"]);
  expect(value!.columns.map(({ column, headerRange }) => [column, headerRange.start])).toEqual([["shot", { line: 4, column: 8 }], ["head", { line: 5, column: 9 }]]);
});

test.each([
  ["a:\n  carry { from: Carry, unit: yd }\n", "a:\n  carry: { from: Carry, unit: yd }\n"],
  ["a: 1\nheads:\n  Wren { kind: iron }\n  Heron: { kind: iron }\n", "a: 1\nheads:\n  Wren: { kind: iron }\n  Heron: { kind: iron }\n"],
  ["title: x\nseed 3\nb: 1\n", "title: x\nseed: 3\nb: 1\n"],
  ["title: x\nseed 3\n", "title: x\nseed: 3\n"],
  ["seed 3\r\ntitle: x\r\n", "seed: 3\r\ntitle: x\r\n"],
  ["a: 1\nheads\n  Wren: {}\n", "a: 1\nheads:\n  Wren: {}\n"],
  ["a: 1\nbreaks [1, 2]\n", "a: 1\nbreaks: [1, 2]\n"],
  ["a:\n  - b 1\n    c: 2\n", "a:\n  - b: 1\n    c: 2\n"],
])("the colon that %j lacks is put in, and nothing is lost", (text, after) => checkMend(text, "yaml.syntax", after));

test("a colon that lacks behind seed is one problem, and the seed is read", () => {
  const { value, problems } = readFrontMatter("title: x\nseed 3");
  expect([value.seed, problems.map(({ code }) => code)]).toEqual([3, ["yaml.syntax"]]);
});

test("one line that is indented wrongly is one problem, whatever stands below it", () => {
  const below = Array.from({ length: 5 }, (_, i) => `  k${i}: ${i}\n`).join("");
  for (const line of [' shot: "No"\n', ' shot: "No"\n  head: Club\n other: x\n', ' shot: No\n']) expect(readYaml(`columns:\n${line}${below}note: x\n`).problems.map(({ code }) => code)).toEqual(["yaml.syntax"]);
  expect(readYaml(`a:\n b: "1"\n${below}c:\n b: "1"\n${below}`).problems).toHaveLength(2);
});
