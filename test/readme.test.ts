import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { referenceMarks, referenceText } from "../scripts/reference-text";

const readme = readFileSync(path.join(import.meta.dirname, "../README.md"), "utf8");

test("the README's reference is what the tables in core say: run `npm run reference`", () => {
  const [begin, end] = referenceMarks;
  expect(readme.slice(readme.indexOf(begin) + begin.length, readme.indexOf(end)).trim()).toBe(referenceText());
});

test("every picture of the README is there", () => {
  for (const [, file] of readme.matchAll(/!\[[^\]]*\]\(([^)]+)\)/gu)) expect(() => readFileSync(path.join(import.meta.dirname, "..", file!))).not.toThrow();
  expect(readme).toMatch(/!\[/u);
});
