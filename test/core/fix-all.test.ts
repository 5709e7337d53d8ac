import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fixAllEdits, fixesTogether } from "../../core/fix-all";
import type { Fix, TextEdit } from "../../core/problem";

const edit = (from: number, to: number, text = "x"): TextEdit => ({ range: { start: { line: 1, column: from }, end: { line: 1, column: to } }, text });
const fix = (edits: readonly TextEdit[], more: Partial<Fix> = {}): { readonly fix: Fix } => ({ fix: { title: "t", edits, ...more } });

function checkTogether(fixes: readonly (readonly TextEdit[])[], kept: readonly [number, number][]): void {
  expect(fixAllEdits(fixes.map((each) => fix(each))).map(({ range }) => [range.start.column, range.end.column])).toEqual(kept);
}

test("fixes side by side are all made, in the order of the text", () => {
  checkTogether([[edit(9, 9)], [edit(1, 3)], [edit(3, 5)]], [[1, 3], [3, 5], [9, 9]]);
});

test("of fixes that overlap the first wins, and equal ones count once", () => {
  checkTogether([[edit(2, 5)], [edit(4, 6)], [edit(2, 5)], [edit(1, 3)]], [[2, 5]]);
  checkTogether([[edit(4, 4, "a")], [edit(4, 4, "b")]], [[4, 4]]);
});

test("a fix is made whole or not at all", () => {
  checkTogether([[edit(2, 3)], [edit(2, 3), edit(8, 9)], [edit(5, 6)]], [[2, 3], [5, 6]]);
  checkTogether([[edit(2, 5), edit(3, 4)]], []);
});

test("who asks is told which fixes are made, and how many of them differ", () => {
  const fixes = [[edit(2, 5)], [edit(4, 6)], [edit(2, 5)], [edit(8, 9)]].map((edits) => ({ edits }));
  const { made, different } = fixesTogether(fixes);
  expect([made, different]).toEqual([[fixes[0], fixes[2], fixes[3]], 2]);
});

test("fixes that a person has to decide, and those of another file, are left out", () => {
  expect(fixAllEdits([fix([edit(1, 2)], { byPerson: true }), fix([edit(1, 2)], { file: "a" }), {}])).toEqual([]);
});

test("no two edits that are made together overlap", () => {
  const anyEdit = fc.tuple(fc.nat(12), fc.nat(3)).map(([from, length]) => edit(from + 1, from + length + 1));
  fc.assert(
    fc.property(fc.array(fc.array(anyEdit, { maxLength: 3 }), { maxLength: 8 }), (fixes) => {
      const kept = fixesTogether(fixes.map((edits) => ({ edits }))).edits;
      for (let i = 1; i < kept.length; i++) {
        expect(kept[i - 1]!.range.end.column).toBeLessThanOrEqual(kept[i]!.range.start.column);
        expect(kept[i - 1]!.range.start.column).toBeLessThan(kept[i]!.range.start.column);
      }
    }),
    { seed: 5 },
  );
});
