import { expect, test } from "vitest";
import { defaultLimits } from "../../core/limits";
import type { FormValues } from "../../core/present/form-message";
import { readFormMessage } from "../../core/present/form-message";
import { firstAnswers, openQuestions, proposeSession, writeNewSession, type SessionProposal } from "../../core/session/new-session";
import { encodeUtf8 } from "../../core/table/utf8";
import { answersOf } from "../../extension/host/new-session-answers";
import { refusalOf } from "../../extension/host/new-session-result";
import { fieldOfQuestion, newSessionForm, valuesOf } from "../../extension/host/new-session-form";

const rows = Array.from({ length: 24 }, (_, index) => `${index + 1};${index % 2 === 0 ? "Wren" : "Heron"};${140 + (index % 7)},5;${50 + (index % 5)},1`);
const text = ["Nr;Head;Carry;Ball speed", ...rows, ""].join("\n");
const proposal: SessionProposal = proposeSession([{ file: "odd.csv", bytes: encodeUtf8(text) }], defaultLimits).value;
const first = valuesOf(proposal, firstAnswers(proposal));

/** The field of the form by the header it is about. */
const fieldOf = (what: string, header: string): string => `${what}-${proposal.columns.findIndex((each) => each.header === header)}`;

/** Expects that the form filled in so holds these things that cannot be read. */
function checkOpen(filled: FormValues, ...fields: readonly string[]): void {
  expect(answersOf(proposal, { ...first, ...filled }).open.map(({ field }) => field)).toEqual(fields);
}

test("the form is one that a page takes", () => {
  const message = { type: "form", of: ["file:///odd.csv"], form: newSessionForm(proposal, []), values: first };
  expect(readFormMessage(message)).toEqual(message);
});
test("what is proposed comes back from the form as it went in", () => {
  expect(answersOf(proposal, first).value).toEqual(firstAnswers(proposal));
});
test("every question leads to a field of the form", () => {
  const ids = JSON.stringify(newSessionForm(proposal, []));
  const fields = openQuestions(proposal, firstAnswers(proposal)).map((question) => fieldOfQuestion(proposal, question, first));
  expect(fields.filter((field) => field === null || !ids.includes(`"id":"${field}"`))).toEqual([]);
});
test("what is in no list of the form is no answer", () => {
  const { value } = answersOf(proposal, { ...first, hand: "both", [fieldOf("unit", "Carry")]: "constructor", [fieldOf("column", "Carry")]: "toString" });
  expect([value.hand, value.columns.find(({ header }) => header === "Carry")]).toMatchObject([null, { column: null, unit: null }]);
});
test("shots that were shaped are lines of shots and a word", () => {
  expect(answersOf(proposal, { ...first, shaped: "3-4: draw\n\n 9 : low" }).value.shaped).toEqual([{ shots: "3-4", value: "draw" }, { shots: "9", value: "low" }]);
});
test("sides beside numbers can be told otherwise, and only as words that are known", () => {
  const wide = ["Shot;Head;Side", ...rows.map((_, index) => `${index + 1};Wren;${index} ${index % 2 === 0 ? "L" : "R"}`), ""].join("\n");
  const sided = proposeSession([{ file: "odd.csv", bytes: encodeUtf8(wide) }], defaultLimits).value;
  const index = sided.columns.findIndex(({ header }) => header === "Side");
  const told = (text: string): string | null | undefined => answersOf(sided, { ...valuesOf(sided, firstAnswers(sided)), [`sides-${index}`]: text }).value.columns[index]?.sides;
  expect([sided.columns[index]?.sides, told("left/right"), told("constructor")]).toEqual(["L/R", "left/right", "L/R"]);
});
test("a unit is asked of columns that have one, and the head of a file where the file tells it", () => {
  const shown = JSON.stringify(newSessionForm(proposal, []));
  expect(shown).toMatch(new RegExp(`"only":\\{"field":"${fieldOf("column", "Carry")}","values":\\[[^\\]]*"carry"`, "u"));
  expect(shown).toContain('"only":{"field":"heads-from","values":["file"]}');
});
test("a line without shots is said at its field", () => checkOpen({ "wrong-heads": "Wren" }, "wrong-heads"));
test("a calculated column that is none is said at its field", () => checkOpen({ calculated: "carry, wind" }, "calculated"));
test("the form filled in leads to a session and a notebook", () => {
  const heads = { "head-0-kind": "iron", "head-1-kind": "iron" };
  const units = { [fieldOf("column", "Carry")]: "carry", [fieldOf("unit", "Carry")]: "m", [fieldOf("column", "Ball speed")]: "ball_speed", [fieldOf("unit", "Ball speed")]: "m/s" };
  const rest = { [fieldOf("column", "Nr")]: "shot", [fieldOf("column", "Head")]: "head", "heads-from": "column", session: "odd", hand: "right", place: "outdoor", order: "shot", "warm-up": "none", carry: "as played" };
  const { value } = answersOf(proposal, { ...first, ...heads, ...units, ...rest });
  expect(openQuestions(proposal, value)).toEqual([]);
  expect(writeNewSession(proposal, value).value?.session).toContain("unit: m/s");
});

test("a column said to tell the heads leads to that column, then to the kinds of its heads", () => {
  const odd = proposeSession([{ file: "odd.csv", bytes: encodeUtf8(text.replace("Head", "Kopf - Blatt")) }], defaultLimits).value;
  const filled = (more: FormValues): readonly (string | null)[] => {
    const values = { ...valuesOf(odd, firstAnswers(odd)), "heads-from": "column", ...more };
    return openQuestions(odd, answersOf(odd, values).value).filter(({ code }) => code === "no heads" || code === "head kind").map((question) => fieldOfQuestion(odd, question, values));
  };
  expect([filled({}), filled({ "column-1": "head" }), filled({ "column-1": "head", "head-0-name": "Plover" })]).toEqual([["column-1"], ["head-0-kind", "head-1-kind"], ["head-2-name", "head-1-kind"]]);
});

test("an export in Latin-1 is refused with what helps, one in UTF-8 is not", () => {
  const refusal = (bytes: Uint8Array): string | null => refusalOf(proposeSession([{ file: "odd.csv", bytes }], defaultLimits).problems);
  const latin = Uint8Array.from(text.replace("Head", "Schläger"), (letter) => letter.charCodeAt(0));
  expect([refusal(latin), refusal(encodeUtf8(text))]).toEqual(["odd.csv, line 1, column 8: this file is not UTF-8 (at byte 7), which cannot be read; save it as UTF-8, with or without a byte order mark.", null]);
});
