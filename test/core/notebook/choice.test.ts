import { expect, test } from "vitest";
import { chosenInWords, choiceInWords, choiceWithColumn, isUpsideDown } from "../../../core/notebook/choice";
import { readFrontMatter } from "../../../core/notebook/read-front-matter";

/** Expects what a choice `c` says for a reader, alone and with its column. */
function checkWords(written: string, chosen: string, withColumn: string): void {
  const { value, problems } = readFrontMatter(`choose:\n  c: ${written}`);
  const [choice] = value.choices;
  expect(problems).toEqual([]);
  expect([chosenInWords(choice!), choiceInWords(choice!), choiceWithColumn(choice!)]).toEqual([chosen, `c = ${chosen}`, withColumn]);
}

test("what is chosen reads in words, with its column for who does not see the front matter", () => {
  checkWords("{ of: head, is: [Wren, Heron] }", "Wren, Heron", "c (head) = Wren, Heron");
  checkWords("{ of: c, is: Wren }", "Wren", "c = Wren");
  checkWords("{ of: carry, from: 140 m, to: 150 m }", "140 m to 150 m", "c (carry) = 140 m to 150 m");
  checkWords("{ of: carry, to: 150 m }", "to 150 m", "c (carry) = to 150 m");
  checkWords("{ among: [carry, offline], is: carry }", "carry", "c = carry");
});

test("a value that reads as something else stands in quotes", () => {
  checkWords("{ of: head, is: any }", "any", "c (head) = any");
  checkWords("{ of: head, is: \"any\" }", '"any"', 'c (head) = "any"');
  checkWords("{ of: head, is: [\"Wren, long\", Heron] }", '"Wren, long", Heron', 'c (head) = "Wren, long", Heron');
  checkWords("{ of: head, is: [\"\", \" Wren\"] }", '"", " Wren"', 'c (head) = "", " Wren"');
});

test("bounds are held against one another whatever their units, and those of two kinds are not", () => {
  expect(isUpsideDown({ value: 160, unit: "yd" }, { value: 140, unit: "m" })).toBe(true);
  expect(isUpsideDown({ value: 160, unit: "yd" }, { value: 146.304, unit: "m" })).toBe(false);
  expect(isUpsideDown({ value: 146.304, unit: "m" }, { value: 160, unit: "yd" })).toBe(false);
  expect(isUpsideDown({ value: 3, unit: "yd" }, { value: 2, unit: "mph" })).toBe(false);
  expect(isUpsideDown(3, { value: 2, unit: "mph" })).toBe(false);
  expect(isUpsideDown(-1, -2)).toBe(true);
  expect(isUpsideDown(0, -0)).toBe(false);
});
