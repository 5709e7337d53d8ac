import { expect, test } from "vitest";
import { findConflicts, resolveConflict } from "../../../core/notebook/conflicts";

const simple = "before\n<<<<<<< ours\na\n=======\nb\n>>>>>>> theirs\nafter";
const nested = "<<<<<<< ours\na\n<<<<<<< ours\nb\n=======\nc\n>>>>>>> theirs\n||||||| base\nd\n=======\ne\n>>>>>>> theirs";

function checkTaken(text: string, ours: string, theirs: string, both: string): void {
  expect([resolveConflict(text, "ours"), resolveConflict(text, "theirs"), resolveConflict(text, "both")]).toEqual([ours, theirs, both]);
}

test("N-12 exactly the chosen lines remain", () => checkTaken(simple, "before\na\nafter", "before\nb\nafter", "before\na\nb\nafter"));
test("N-12 lines of a common ancestor go", () =>
  checkTaken("<<<<<<< ours\na\n||||||| base\nx\n=======\nb\n>>>>>>> theirs\n", "a\n", "b\n", "a\nb\n"));
test("N-12 nested conflicts are taken on the same side throughout", () => checkTaken(nested, "a\nb", "e", "a\nb\nc\ne"));
test("N-12 one side may be empty", () => checkTaken("<<<<<<< ours\n=======\nb\n>>>>>>> theirs", "", "b", "b"));
test("N-12 several conflicts in one text", () => checkTaken(`${simple}\n${simple}`, "before\na\nafter\nbefore\na\nafter", "before\nb\nafter\nbefore\nb\nafter", "before\na\nb\nafter\nbefore\na\nb\nafter"));
test("N-12 a text without markers stays as it is", () => checkTaken("a\n=======\n>>>>>>> b\n", "a\n=======\n>>>>>>> b\n", "a\n=======\n>>>>>>> b\n", "a\n=======\n>>>>>>> b\n"));
test("the outermost regions are found, and the side before the merge", () => {
  expect(findConflicts(simple.split("\n"))).toEqual({
    regions: [{ from: 1, to: 6 }],
    ours: ["before", "", "a", "", "", "", "after"],
    strays: [],
  });
  expect(findConflicts(nested.split("\n")).regions).toEqual([{ from: 0, to: 12 }]);
});
test("markers that were left over within a whole set", () => {
  const { regions, strays } = findConflicts("<<<<<<< a\n=======\n<<<<<<< stray\n>>>>>>> b".split("\n"));
  expect([regions, strays]).toEqual([[{ from: 0, to: 4 }], [2]]);
});
