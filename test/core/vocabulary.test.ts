import { expect, test } from "vitest";
import { whyNotAName } from "../../core/query/names";
import { vocabulary } from "../../core/vocabulary";
import { check, run } from "./query/query-support";

const entries = [
  ...vocabulary.verbs.values(),
  ...vocabulary.rowFunctions.values(),
  ...vocabulary.aggregates.values(),
];

test.each(entries.map((entry) => [entry.name, entry] as const))("%s has a summary, and an example that runs", (_, { help }) => {
  expect(help.summary).toMatch(/^[A-Z−1].*\.$/);
  expect(check(help.example).problems).toEqual([]);
  expect(run(help.example).value).not.toBeNull();
});

test("every parameter and option of a verb has a help line", () => {
  for (const verb of vocabulary.verbs.values()) {
    for (const parameter of verb.parameters) {
      expect(parameter.help, verb.name).toMatch(/\.$/);
      if (parameter.kind === "options") for (const option of Object.values(parameter.options)) expect(option.help, verb.name).not.toBe("");
    }
  }
});

test("no entry has a name that a cell could not write", () => {
  for (const { name } of [...entries, ...vocabulary.charts.values()]) expect(whyNotAName(name), name).toBeNull();
});

test("entries are found under their own names and cannot be changed", () => {
  for (const map of [vocabulary.verbs, vocabulary.rowFunctions, vocabulary.aggregates, vocabulary.charts]) {
    for (const [name, entry] of map) {
      expect(entry.name).toBe(name);
      expect(Object.isFrozen(entry)).toBe(true);
    }
  }
});
