import { expect, test } from "vitest";
import { readBack, writeNewSession } from "../../../core/session/new-session";
import { answered, exportOf, proposedFrom } from "../../support/new-session";

// Two stints of Wren around one of Heron, and a line whose carry is no number; synthetic.
const lines = ["Nr;Head;Carry", "1;Wren;141.5", "2;Wren;143", "3;Heron;139", "4;Heron;138.5", "5;Wren;142", ""];

/** Brings an export in, with every question answered, and reads it back by the session file that this gives. */
function bringIn(text: string): ReturnType<typeof readBack> {
  const proposal = proposedFrom(text);
  const written = writeNewSession(proposal, answered(proposal)).value;
  if (written === null) throw new Error("no session file");
  return readBack(written.session, [exportOf(text)]);
}

test("what a session file gives is counted by head, in the order in which they were first hit", () => {
  const { value, problems } = bringIn(lines.join("\n"));
  expect([value, problems.filter(({ severity }) => severity !== "info")]).toEqual([[{ head: "Wren", shots: 3, stints: 2 }, { head: "Heron", shots: 2, stints: 1 }], []]);
});
test("a value that is no number is a problem at its place in the export", () => {
  const { value, problems } = bringIn(lines.join("\n").replace("142", "14x2"));
  expect(value).toMatchObject([{ head: "Wren", shots: 3 }, { head: "Heron", shots: 2 }]);
  expect(problems).toContainEqual(expect.objectContaining({ file: "odd.csv", range: expect.objectContaining({ start: expect.objectContaining({ line: 6 }) }) }));
});
test("a text that is no session file gives nothing, and says why", () => {
  const { value, problems } = readBack("heads: [", [exportOf("Carry\n140\n")]);
  expect([value, problems.length > 0]).toEqual([null, true]);
});
