import { expect, test } from "vitest";
import type { Option } from "../../../core/query/vocabulary";
import { vocabulary } from "../../../core/vocabulary";
import { optionSnippet, verbArguments, type Likely } from "../../../server/language/call-snippets";

const likely: Likely = { columns: { columns: [{ name: "carry", kind: "number", unit: "yd", origin: "measured" }], open: false, groupedBy: [], fromShots: true }, table: "stock" };

const options = [...vocabulary.verbs.values()].flatMap(({ name, parameters }) =>
  parameters.flatMap((parameter) => (parameter.kind === "options" ? Object.entries(parameter.options).map(([key, option]): [string, Option] => [`${name} ${key}`, option]) : [])),
);
const numbers = options.flatMap(([name, option]) => (option.kind === "number" ? [[name, option] as const] : []));

test.each(numbers)("the number that is written for %s is what counts when nothing is told, and is accepted", (_, option) => {
  const written = Number(/^\$\{1:([\d.]+)\}$/u.exec(optionSnippet(option, likely))![1]);
  const told = /([\d.]+\d) unless told/u.exec(option.help)?.[1];
  expect(written).toBe(told === undefined ? option.usual : Number(told));
  expect(written > option.above && written < option.below && (!option.whole || Number.isInteger(written))).toBe(true);
});

test("rows are taken from the first on", () => {
  expect(verbArguments(vocabulary.verbs.get("slice")!, likely)).toBe("${1:0}, ${2:10}");
  expect(verbArguments(vocabulary.verbs.get("sample")!, likely)).toBe("${1:10}");
});
