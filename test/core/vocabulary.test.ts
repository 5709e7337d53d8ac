import { expect, test } from "vitest";
import { isEngineName, sourceNames, whyNotAName } from "../../core/query/names";
import { vocabulary } from "../../core/vocabulary";
import { check, run } from "./query/query-support";

const entries = [
  ...vocabulary.verbs.values(),
  ...vocabulary.rowFunctions.values(),
  ...vocabulary.aggregates.values(),
  ...vocabulary.sources.values(),
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
  // A verb may be called as a source is: it stands behind a point.
  for (const { name } of [...entries, ...vocabulary.charts.values()]) if (!vocabulary.sources.has(name)) expect(whyNotAName(name), name).toBeNull();
});

test("the name of every source is reserved, and can be written", () => {
  expect([...sourceNames].sort()).toEqual([...vocabulary.sources.keys()].sort());
  for (const name of sourceNames) expect([whyNotAName(name), isEngineName(name)]).toEqual(["it makes a table", false]);
});

test("every option of a source has a help line, and needs no column", () => {
  for (const source of vocabulary.sources.values()) {
    for (const option of Object.values(source.options)) {
      expect(option.help, source.name).toMatch(/\.$/);
      expect(["quantity", "choice", "text", "number", "truth"], source.name).toContain(option.kind);
    }
  }
});

test("entries are found under their own names and cannot be changed", () => {
  for (const map of [vocabulary.verbs, vocabulary.rowFunctions, vocabulary.aggregates, vocabulary.charts, vocabulary.sources]) {
    for (const [name, entry] of map) {
      expect(entry.name).toBe(name);
      expect(Object.isFrozen(entry)).toBe(true);
    }
  }
});
