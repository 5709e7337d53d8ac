import { expect, test } from "vitest";
import { readTableAnswer, readTableQuestion } from "../../../core/present/table-messages";

const page = { kind: "page", order: { column: 1, direction: "descending" }, from: 200, count: 100 };
const question = { type: "table", question: 1, handle: "h", wish: page };

test.each([page, { ...page, order: null }, { kind: "summary" }, { kind: "save", order: null }, { kind: "line", file: "s/a.session.yaml", shot: 3 }])("%j is a wish", (wish) => {
  expect(readTableQuestion({ ...question, wish, more: 1 })).toEqual({ ...question, wish });
});

test.each([
  null,
  { ...question, type: "set-aside" },
  { ...question, handle: 3 },
  { ...question, handle: "h".repeat(101) },
  { ...question, wish: { ...page, from: -1 } },
  { ...question, wish: { ...page, from: 0.5 } },
  { ...question, wish: { ...page, count: 1e9 } },
  { ...question, wish: { ...page, order: { column: 1, direction: "up" } } },
  { ...question, wish: { ...page, order: undefined } },
  { ...question, wish: { kind: "line", file: "/a/secret.txt", shot: 3 } },
  { ...question, wish: { kind: "csv", order: null, from: 0, count: 1 } },
])("%j is no question", (value) => {
  expect(readTableQuestion(value)).toBeNull();
});

const rows = { kind: "rows", rows: [[1, "a", null, true]] };
const summary = { missing: 0, empty: 0, least: 1, most: 2, distinct: null, counts: [1], names: [] };

test.each([rows, { kind: "expired" }, { kind: "said", text: "x" }, { kind: "summary", columns: [summary] }])("%j is a reply", (reply) => {
  expect(readTableAnswer({ type: "table-answer", question: 1, reply })?.reply).toEqual(reply);
});

test.each([
  { kind: "rows", rows: [[Number.NaN]] },
  { kind: "rows", rows: [{}] },
  { kind: "summary", columns: [{ ...summary, counts: [-1] }] },
  { kind: "said" },
  { kind: "other" },
])("%j is no reply", (reply) => {
  expect(readTableAnswer({ type: "table-answer", question: 1, reply })).toBeNull();
});
