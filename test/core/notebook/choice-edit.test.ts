import { expect, test } from "vitest";
import { editChoice, type Choosing } from "../../../core/notebook/choice-edit";
import { readFrontMatter } from "../../../core/notebook/read-front-matter";
import { applyEdits } from "../../../core/session/apply-edits";

const values = (...of: string[]): Choosing => ({ kind: "values", values: of.length === 0 ? null : of });
const range = (from: string | null, to: string | null): Choosing => ({ kind: "range", from, to });
const word = (one: string): Choosing => ({ kind: "word", word: one });

/** The lines of a choice called `c`, changed. */
function checkEdit(before: string, choosing: Choosing, after: string): void {
  const text = (lines: string): string => `seed: 1 # kept\nchoose:\n${lines}\n  other: { of: zone, is: any }\n`;
  const edits = editChoice(text(before), "c", choosing);
  const made = applyEdits(text(before), edits ?? []);
  expect(made).toBe(text(after));
  expect(readFrontMatter(made).problems).toEqual([]);
  expect(editChoice(made, "c", choosing)).toEqual([]);
}

test("values on one line stay on that line", () => {
  checkEdit("  c:   { of: head, is: any }  # which", values("Wren"), "  c:   { of: head, is: Wren }  # which");
  checkEdit("  c: { of: head, is: any }", values("Wren", "Heron"), "  c: { of: head, is: [Wren, Heron] }");
  checkEdit("  c: { of: head, is: [Wren, Heron] }", values("Wren"), "  c: { of: head, is: [Wren] }");
  checkEdit("  c: { of: head, is: [Wren] }", values(), "  c: { of: head, is: any }");
  checkEdit("  c: { of: head, is: Wren }", values("A, B"), '  c: { of: head, is: "A, B" }');
  checkEdit("  c: { of: head, is: Wren }", values("any"), '  c: { of: head, is: "any" }');
  checkEdit("  c: { of: head, is: [Wren] }", values("Wren", "any"), '  c: { of: head, is: [Wren, "any"] }');
  checkEdit("  c: { of: head }", values("Wren"), "  c: { of: head, is: Wren }");
});

test("values over several lines change their own line alone", () => {
  checkEdit("  c:\n    of: head # column\n    is: any # chosen", values("Wren"), "  c:\n    of: head # column\n    is: Wren # chosen");
  checkEdit("  c:\n    of: head\n    is:\n      - Wren\n      - Heron", values("Heron"), "  c:\n    of: head\n    is: [Heron]");
});

test("bounds are set, added and left out", () => {
  checkEdit("  c: { of: carry, from: 120 yd, to: 180 yd }", range("125 yd", "180 yd"), "  c: { of: carry, from: 125 yd, to: 180 yd }");
  checkEdit("  c: { of: carry, from: 120 yd }", range("120 yd", "180 yd"), "  c: { of: carry, from: 120 yd, to: 180 yd }");
  checkEdit("  c: { of: carry, to: 180 yd }", range("120 yd", "180 yd"), "  c: { of: carry, from: 120 yd, to: 180 yd }");
  checkEdit("  c: { of: carry, from: 120 yd, to: 180 yd }", range(null, "180 yd"), "  c: { of: carry, from:, to: 180 yd }");
  checkEdit("  c: { of: carry, from:, to: 180 yd }", range("99.5 yd", null), "  c: { of: carry, from: 99.5 yd, to: }");
  checkEdit("  c:\n    of: carry\n    from: 1 yd # low", range(null, "9 yd"), "  c:\n    of: carry\n    from: # low\n    to: 9 yd");
});

test("a word is set", () => {
  checkEdit("  c: { among: [carry, offline], is: carry }", word("offline"), "  c: { among: [carry, offline], is: offline }");
});

test("what cannot be edited without loss is left alone", () => {
  expect(editChoice("choose:\n  c:\n    of: head\n    is:\n      - Wren # the blade\n      - Heron\n", "c", values("Wren"))).toBeNull();
  expect(editChoice("choose: { c: 1 }", "c", values("Wren"))).toBeNull();
  expect(editChoice("seed: 1", "c", values("Wren"))).toBeNull();
});
