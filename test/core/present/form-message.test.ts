import { expect, test } from "vitest";
import { readFormMessage, readFormState, readPageMessage } from "../../../core/present/form-message";

/** Expects that a page's message is taken as it is, or not at all. */
function checkPage(value: unknown, isTaken: boolean): void {
  expect(readPageMessage(value)).toEqual(isTaken ? value : null);
}

/** Expects that a form of these sections and this field beside the button is taken as it is, or not at all. */
function checkForm(sections: unknown, field: unknown, isTaken: boolean): void {
  const message = { type: "form", of: ["file:///a.csv"], form: { title: "T", sections, finish: { label: "Write", fields: [field], preview: "P" } }, values: { a: "1" } };
  expect(readFormMessage(message)).toEqual(isTaken ? message : null);
}

const line = { id: "path-session", label: "Session file", kind: "line" };

test("a page says that it is there", () => checkPage({ type: "ready" }, true));
test("what is filled in is text by field", () => checkPage({ type: "values", number: 3, values: { name: "spring", note: "" } }, true));
test("a number is no text", () => checkPage({ type: "values", number: 3, values: { name: 4 } }, false));
test("a message without a number is none", () => checkPage({ type: "finish", values: {} }, false));
test("a list of values is none", () => checkPage({ type: "finish", number: 1, values: [] }, false));
test("a text without end is refused", () => checkPage({ type: "values", number: 1, values: { a: "x".repeat(200_001) } }, false));
test("another kind of message is none", () => checkPage({ type: "delete", number: 1, values: {} }, false));

test("words, fields and tables are parts", () => {
  const table = { kind: "table", title: "Rows", headings: ["Line", "Carry"], rows: [[{ text: "2", as: "exact" }, { field: { id: "unit-1", label: "Unit", kind: "choice", choices: [{ value: "yd", label: "yd", group: "Length" }] } }]] };
  checkForm([{ title: "Read", parts: [{ kind: "words", text: "24 shots" }, { kind: "fields", title: "", fields: [line] }, table] }], line, true);
});
test("a part of an unknown kind is refused", () => checkForm([{ title: "Read", parts: [{ kind: "markup", text: "<b>" }] }], line, false));
test("a field whose name could be anything else in a page is refused", () => checkForm([], { ...line, id: 'a" onfocus="x' }, false));
test("a choice without choices is refused", () => checkForm([], { ...line, kind: "choice" }, false));

test("what is open may lead to a field or to none", () => {
  const message = { type: "looked", number: 2, open: [{ text: "Which unit?", field: "unit-1" }, { text: "No shot is left", field: null }], result: null };
  expect(readFormMessage(message)).toEqual(message);
});
test("what the answers lead to is a text, words and a table", () => {
  const result = { text: "fairstrike: 1\n", words: ["24 shots of 2 heads"], table: { headings: ["Head", "Shots"], rows: [["Wren", "12"]] } };
  expect(readFormMessage({ type: "looked", number: 2, open: [], result })).toEqual({ type: "looked", number: 2, open: [], result });
  for (const wrong of [{ ...result, words: "24 shots" }, { ...result, table: { headings: ["Head"], rows: [["Wren", 12]] } }, undefined]) expect(readFormMessage({ type: "looked", number: 2, open: [], result: wrong })).toBeNull();
});
test("a field may be shown only while another has one of some values", () => checkForm([], { ...line, only: { field: "heads-from", values: ["file"] } }, true));
test("values that are no list are refused", () => checkForm([], { ...line, only: { field: "heads-from", values: "file" } }, false));
test("a state that was kept is read again", () => expect(readFormState({ of: ["file:///a.csv"], values: { a: "1" } })).toEqual({ of: ["file:///a.csv"], values: { a: "1" } }));
test("a state of no files is none", () => expect(readFormState({ of: [], values: {} })).toBeNull());
