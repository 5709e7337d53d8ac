import { expect, test } from "vitest";
import { readJson } from "../../core/chart/json-tree";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { parseQuery } from "../../core/query/parse-query";
import { rememberTexts } from "../../core/remember-texts";
import { readYaml } from "../../core/yaml-text";

/** How often texts are read, of those asked for in turn with room for 6 units. */
function readOf(asked: readonly string[]): readonly string[] {
  const read: string[] = [];
  const once = rememberTexts((text: string) => void read.push(text), 6);
  for (const text of asked) once(text);
  return read;
}

test("a text is read once, until others were asked for since then and the room is full", () => {
  expect(readOf(["aa", "aa", "bb", "aa"])).toEqual(["aa", "bb"]);
  expect(readOf(["aa", "bb", "aa", "cccc", "aa", "bb"])).toEqual(["aa", "bb", "cccc", "bb"]);
  expect(readOf(["aa", "longer than that", "longer than that", "aa"])).toEqual(["aa", "longer than that", "longer than that"]);
});

test("a text that is read in another way is read again", () => {
  let count = 0;
  const once = rememberTexts((text: string, from: number) => [text.slice(from), ++count], 99);
  expect([once("abc", 1), once("abc", 1), once("abc", 2), once("abc", 1)]).toEqual([["bc", 1], ["bc", 1], ["c", 2], ["bc", 3]]);
});

test("one parse a version: whoever asks for the syntax of a text gets the same one", () => {
  expect(parseQuery("query=a\nshots.count()", 8, defaultLimits)).toBe(parseQuery("query=a\nshots.count()", 8, defaultLimits));
  expect(readYaml("session: a")).toBe(readYaml("session: a"));
  expect(readJson("{}", 0, 9)).toBe(readJson("{}", 0, 9));
  expect(parseNotebook("# A")).toBe(parseNotebook("# A"));
});
