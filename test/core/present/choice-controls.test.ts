import { expect, test } from "vitest";
import { readFrontMatter } from "../../../core/notebook/read-front-matter";
import { choicesText, controlsOf, mostBoxes, readChoicesPayload, type FoundForChoice } from "../../../core/present/choice-controls";

const nothing: FoundForChoice = { name: "c", values: null, range: null, unit: null };

function checkControl(choice: string, found: Partial<FoundForChoice> | null, control: object): void {
  const { choices } = readFrontMatter(`choose:\n  c: ${choice}`).value;
  const payload = controlsOf(choices, found === null ? [] : [{ ...nothing, ...found }]);
  expect(payload.choices[0]).toMatchObject({ name: "c", ...control });
  expect(readChoicesPayload(JSON.parse(JSON.stringify(payload)))).toEqual(payload);
}

test("values that are known and few are boxes; of others one is chosen from a list", () => {
  checkControl("{ of: head, is: any }", { values: ["Heron", "Wren"] }, { kind: "values", values: ["Heron", "Wren"], chosen: null, absent: [] });
  checkControl("{ of: head, is: Wren }", { values: ["Heron", "Wren"] }, { values: ["Heron", "Wren"], chosen: ["Wren"] });
  checkControl("{ of: head, is: [Wren, Plover] }", { values: ["Wren"] }, { values: ["Wren", "Plover"], absent: ["Plover"] });
  checkControl("{ of: head, is: Wren }", null, { values: null, chosen: ["Wren"], absent: [] });
  checkControl("{ of: head, is: any }", { values: [] }, { values: null });
  checkControl("{ of: note, is: any }", { values: Array.from({ length: mostBoxes + 1 }, (_, index) => `note ${index}`) }, { values: null });
});

test("bounds are shown in the unit that they are written in, or else in the column's", () => {
  checkControl("{ of: carry, from: 120 yd }", { unit: "m" }, { kind: "range", from: "120", to: "", unit: "yd", found: null });
  checkControl("{ of: carry, from: 120 yd, to: 150 m }", null, { from: "120", to: "150 m", unit: "yd" });
  checkControl("{ of: carry, from: }", { unit: "yd", range: { low: 132.46, high: 171.23 } }, { from: "", unit: "yd", found: "132.4 to 171.3 yd" });
  checkControl("{ of: shot, to: 40 }", { range: { low: 1, high: 90 } }, { from: "", to: "40", unit: null, found: "1 to 90" });
});

test("a word is chosen among its words", () => {
  checkControl("{ among: [carry, offline], is: offline }", null, { kind: "word", among: ["carry", "offline"], word: "offline" });
});

test("choices read as text, a line each", () => {
  const { choices } = readFrontMatter("choose:\n  head: { of: head, is: [Wren, Heron] }\n  far: { of: carry, from: 120 yd }\n  what: { among: [carry, offline], is: carry }").value;
  expect(choicesText(choices)).toBe("head = Wren, Heron (head)\nfar = from 120 yd (carry)\nwhat = carry (one of carry, offline)");
});

function checkRefused(control: object): void {
  expect(readChoicesPayload({ type: "choices", choices: [control] }), JSON.stringify(control)).toBeNull();
}

test("an output of choices with anything of the wrong sort in it is none", () => {
  const values = { kind: "values", name: "head", column: "head", values: ["Wren"], chosen: null, absent: [] };
  const range = { kind: "range", name: "far", column: "carry", from: "", to: "", unit: "yd", found: null };
  expect(readChoicesPayload({ type: "choices", choices: [values, range] })).not.toBeNull();
  checkRefused({ ...values, values: [1] });
  checkRefused({ ...values, chosen: "Wren" });
  checkRefused({ ...values, name: null });
  checkRefused({ ...range, unit: "toString" });
  checkRefused({ ...range, from: 120 });
  checkRefused({ kind: "word", name: "what", among: null, word: "carry" });
  checkRefused({ kind: "other", name: "what", column: "carry" });
  expect(readChoicesPayload({ type: "table", choices: [] })).toBeNull();
});
