import { expect, test } from "vitest";
import { toCompletionItems } from "../../../server/language/answer-protocol";

const nowhere = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };
const carry = { label: "carry", kind: "column", replace: { from: 0, to: 0 }, insert: "carry", detail: "number, yd" } as const;

test("what tells columns apart stands in every row of the list, unless it is too long for one", () => {
  const long = { ...carry, label: "margin", detail: "the smallest difference that matters, chosen before looking" };
  const [short, none] = toCompletionItems([carry, long], () => nowhere);
  expect(short).toMatchObject({ detail: "number, yd", labelDetails: { description: "number, yd" } });
  expect(none!.detail).toBe(long.detail);
  expect(none!.labelDetails).toBeUndefined();
});

test("suggestions keep their order by rank, and then as they were given", () => {
  const items = toCompletionItems([{ ...carry, label: "b", rank: 1 }, { ...carry, label: "a" }, { ...carry, label: "c" }], () => nowhere);
  expect(items.map(({ label }) => label)).toEqual(["a", "c", "b"]);
  const order = items.map(({ sortText }) => sortText!);
  expect(order).toEqual(order.toSorted());
});
