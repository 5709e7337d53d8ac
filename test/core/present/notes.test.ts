import { expect, test } from "vitest";
import { notesOf, notesText, readNotesPayload } from "../../../core/present/notes";
import { problem } from "../../../core/problem";

const range = { start: { line: 3, column: 11 }, end: { line: 3, column: 20 } };
const undecided = problem("query.undecided-rows", { count: 1, of: 102 }, range);
const elsewhere = { ...undecided, severity: "warning", file: "spring.session.yaml" } as unknown as typeof undecided;
const failing = { ...undecided, severity: "error" } as unknown as typeof undecided;

test("notes name their place and their code, warnings come first, and errors are none", () => {
  const text = notesText(notesOf([undecided, failing, elsewhere]));
  expect(text.split("\n")).toEqual([
    expect.stringMatching(/^Warning, spring\.session\.yaml, line 3: 1 of 102 rows were left out .*\(query\.undecided-rows\)$/u),
    expect.stringMatching(/^Note, line 3, column 11: 1 of 102 rows were left out .*\(query\.undecided-rows\)$/u),
  ]);
});

test("notes are read as they were written, and nothing else for notes", () => {
  const payload = notesOf([undecided]);
  expect(readNotesPayload(JSON.parse(JSON.stringify(payload)))).toEqual(payload);
  for (const wrong of [null, [], { type: "notes" }, { type: "table", notes: [] }, { type: "notes", notes: [{ ...payload.notes[0], severity: "error" }] }, { type: "notes", notes: ["text"] }]) {
    expect(readNotesPayload(wrong), JSON.stringify(wrong)).toBeNull();
  }
});
