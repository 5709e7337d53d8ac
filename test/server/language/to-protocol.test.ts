import { expect, test } from "vitest";
import { problem } from "../../../core/problem";
import { toDiagnostic, toWholeRange } from "../../../server/language/to-protocol";

const over = { start: { line: 2, column: 3 }, end: { line: 9, column: 4 } };
const within = { start: { line: 2, column: 3 }, end: { line: 2, column: 8 } };

test("a problem marks no more than one line, however far it reaches", () => {
  const { range } = toDiagnostic(problem("query.empty", {}, over));
  expect(range.start).toEqual({ line: 1, character: 2 });
  expect(range.end.line).toBe(1);
  expect(range.end.character).toBeGreaterThan(1e6);
  expect(toDiagnostic(problem("query.empty", {}, within)).range).toEqual({ start: { line: 1, character: 2 }, end: { line: 1, character: 7 } });
});

test("a problem in an export says by which session the export was read", () => {
  const found = problem("csv.blank-lines", { count: 1 }, within, { file: "s/small.csv" });
  expect([toDiagnostic(found).source, toDiagnostic({ ...found, session: "s/one.session.yaml" }).source]).toEqual(["fairstrike", "fairstrike: s/one.session.yaml"]);
});

test("an edit changes the whole stretch", () => {
  expect(toWholeRange(over)).toEqual({ start: { line: 1, character: 2 }, end: { line: 8, character: 3 } });
});

test("a diagnostic has its code, how grave it is, and what would be accepted", () => {
  const { code, source, severity, message } = toDiagnostic(problem("query.loose-equality", { found: "==", use: "===" }, within));
  expect([code, source, severity]).toEqual(["query.loose-equality", "fairstrike", 1]);
  expect(message).toBe('"==" cannot be used in a cell\nuse ===, which compares values of one kind only');
});
