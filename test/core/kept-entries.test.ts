import { expect, test } from "vitest";
import { dropUnused, putLast } from "../../core/kept-entries";

function left(keys: string, used: string, spare: number): string {
  const entries = new Map(keys.split("").map((key) => [key, key]));
  dropUnused(entries, (key) => used.includes(key), spare);
  return [...entries.keys()].join("");
}

test("of what is not used the last few are left, and all that is used", () => {
  expect([left("abc", "a", 1), left("abc", "a", 0), left("abc", "", 5), left("abc", "abc", 0), left("", "a", 1)]).toEqual(["ac", "a", "abc", "abc", ""]);
});

test("what is put again stands last, with its new value", () => {
  const entries = new Map([["a", 1], ["b", 2]]);
  putLast(entries, "a", 3);
  expect([...entries]).toEqual([["b", 2], ["a", 3]]);
});
