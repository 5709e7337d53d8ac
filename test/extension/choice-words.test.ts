import { expect, test } from "vitest";
import { readFrontMatter } from "../../core/notebook/read-front-matter";
import { controlsOf } from "../../core/present/choice-controls";
import type { WantedChoice } from "../../core/present/choice-message";
import { areInOrder, boundNow, choicesLine, choosingOf, typedBound, unitNow } from "../../extension/host/choice-words";

const { choices } = readFrontMatter("choose:\n  head: { of: head, is: [Wren, Heron] }\n  window: { of: carry, from: 120 yd }\n  what: { among: [carry, offline], is: carry }\n  zone: { of: zone, is: any }").value;

test("what is chosen reads in a line", () => {
  expect(choicesLine(choices)).toBe("Choices: head = Wren, Heron; window = from 120 yd; what = carry; zone = any");
  expect(choicesLine(choices.slice(0, 1))).toBe("Choice: head = Wren, Heron");
});

function checkTyped(text: string, unit: "yd" | null, bound: string | null): void {
  const read = typedBound(text, unit);
  expect(read.ok ? read.bound : "refused").toBe(bound);
}

test("a bound is typed with its unit or without", () => {
  checkTyped("120", "yd", "120 yd");
  checkTyped(" 110.5 m ", "yd", "110.5 m");
  checkTyped("", "yd", null);
  checkTyped("3", null, "3");
  checkTyped("120 mph", "yd", "refused");
  checkTyped("3 yd", null, "refused");
  checkTyped("far", "yd", "refused");
});

test("the bounds that are there fill the fields", () => {
  const window = choices[1]!;
  if (window.kind !== "range") throw new Error("the window is a range");
  expect([boundNow(window, "from"), boundNow(window, "to"), unitNow(window)]).toEqual(["120 yd", "", "yd"]);
});

test("bounds are in order whatever their units", () => {
  expect([areInOrder("120 yd", "115 m"), areInOrder("120 m", "125 yd"), areInOrder("3", "20"), areInOrder("4", "3"), areInOrder(null, "3")]).toEqual([true, false, true, false, true]);
});

/** Asks a control of the choices above; heads found are Wren, Heron and Plover. */
function checkWanted(name: string, wanted: Exclude<WantedChoice, { kind: "list" }>, expected: object): void {
  const found = [{ name: "head", values: ["Heron", "Plover", "Wren"], range: null, unit: null }];
  const control = controlsOf(choices, found).choices.find((each) => each.name === name)!;
  expect(choosingOf(control, wanted)).toEqual(expected);
}

test("what is ticked is chosen, and all of it is any", () => {
  checkWanted("head", { kind: "values", values: ["Wren", "Heron"] }, { choosing: { kind: "values", values: ["Heron", "Wren"] } });
  checkWanted("head", { kind: "values", values: ["Wren", "Heron", "Plover"] }, { choosing: { kind: "values", values: null } });
  checkWanted("head", { kind: "values", values: [] }, { because: "tick at least one value" });
});

test("what a control did not offer is refused", () => {
  checkWanted("head", { kind: "values", values: ["Gannet"] }, { because: "head has other values now" });
  checkWanted("zone", { kind: "values", values: ["high"] }, { because: "zone is another choice now" });
  checkWanted("what", { kind: "word", word: "total" }, { because: "what is another choice now" });
  checkWanted("what", { kind: "values", values: ["carry"] }, { because: "what is another choice now" });
});

test("bounds of a control take its unit, and are refused upside down", () => {
  checkWanted("window", { kind: "range", from: "130", to: "150 m" }, { choosing: { kind: "range", from: "130 yd", to: "150 m" } });
  checkWanted("window", { kind: "range", from: "130", to: "120" }, { because: "the lower bound is above the upper one" });
  checkWanted("window", { kind: "range", from: "far", to: "" }, { because: "write a number in yd with a decimal point, such as 120.5, or nothing for no bound" });
});
