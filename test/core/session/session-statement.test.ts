import { expect, test } from "vitest";
import { applyEdits } from "../../../core/session/apply-edits";
import { statementEdit, type SessionStatement } from "../../../core/session/session-statement";

const short: SessionStatement = { of: "source", file: "a.csv", key: "short_rows", value: "missing" };

/** The session with the statement made, or `null` where it cannot be; made twice it is the same as made once. */
function said(text: string, statement: SessionStatement): string | null {
  const edit = statementEdit(text, statement);
  if (edit === null) return null;
  const after = applyEdits(text, [edit]);
  expect(statementEdit(after, statement)).toBeNull();
  return after;
}

function checkSaid(text: string, statement: SessionStatement, after: string | null): void {
  expect(said(text, statement)).toBe(after);
}

test("what is said of an export stands beside its file, however that is written", () => {
  checkSaid("sources: a.csv # spring\n", short, "sources: { file: a.csv, short_rows: missing } # spring\n");
  checkSaid("sources: [a.csv, b.csv]\n", short, "sources: [{ file: a.csv, short_rows: missing }, b.csv]\n");
  checkSaid("sources:\n  - b.csv\n  - a.csv\n", short, "sources:\n  - b.csv\n  - { file: a.csv, short_rows: missing }\n");
  checkSaid("sources:\n  - { file: a.csv, order: file }\n", short, "sources:\n  - { file: a.csv, order: file, short_rows: missing }\n");
  checkSaid("sources:\r\n  - file: a.csv # spring\r\n    order: file\r\n", short, "sources:\r\n  - file: a.csv # spring\r\n    short_rows: missing\r\n    order: file\r\n");
  checkSaid("\ufeffsources: 'a.csv'\n", short, "\ufeffsources: { file: 'a.csv', short_rows: missing }\n");
  checkSaid("sources: b.csv\n", short, null);
});

test("what is stated otherwise is changed in its place", () => {
  const decimal: SessionStatement = { of: "source", file: "a.csv", key: "decimal", value: '","' };
  checkSaid('sources: { file: a.csv, decimal: "." }\n', decimal, 'sources: { file: a.csv, decimal: "," }\n');
  checkSaid("sources: a.csv\n", { of: "source", file: "a.csv", key: "skip_lines", value: "2" }, "sources: { file: a.csv, skip_lines: 2 }\n");
  checkSaid("sources: a.csv\n", { of: "source", file: "a.csv", key: "delimiter", value: "bar" }, "sources: { file: a.csv, delimiter: bar }\n");
});

test("a text that means missing is listed, everywhere or in one column", () => {
  const everywhere: SessionStatement = { of: "missing", column: null, text: "n/a" };
  checkSaid("sources: a.csv\nheads: { Wren: { kind: iron } }\n", everywhere, 'sources: a.csv\nmissing: ["n/a"]\nheads: { Wren: { kind: iron } }\n');
  checkSaid("sources: a.csv", everywhere, 'sources: a.csv\nmissing: ["n/a"]\n');
  checkSaid('sources: a.csv\nmissing: ["-"]\n', everywhere, 'sources: a.csv\nmissing: ["-", "n/a"]\n');
  checkSaid("sources: a.csv\nmissing:\n  - none\n", everywhere, 'sources: a.csv\nmissing:\n  - none\n  - "n/a"\n');
  checkSaid("sources: a.csv\nmissing: none\n", everywhere, 'sources: a.csv\nmissing: [none, "n/a"]\n');
  const zero: SessionStatement = { of: "missing", column: "carry", text: "0" };
  checkSaid("sources: a.csv\ncolumns:\n  carry: Carry, yd\n", zero, 'sources: a.csv\ncolumns:\n  carry: { from: "Carry, yd", missing: ["0"] }\n');
  checkSaid("sources: a.csv\ncolumns:\n  carry:\n    from: Carry\n    unit: yd\n", zero, 'sources: a.csv\ncolumns:\n  carry:\n    from: Carry\n    missing: ["0"]\n    unit: yd\n');
  checkSaid("sources: a.csv\n", zero, null);
});

test("a column is mapped, and the letters for its sides are stated", () => {
  const carry: SessionStatement = { of: "column", column: "carry", header: "carry " };
  checkSaid("sources: a.csv\ncolumns: { shot: No }\n", carry, 'sources: a.csv\ncolumns: { shot: No, carry: "carry " }\n');
  checkSaid("sources: a.csv\ncolumns:\n  shot: No\nheads: { Wren: { kind: iron } }\n", carry, 'sources: a.csv\ncolumns:\n  shot: No\n  carry: "carry "\nheads: { Wren: { kind: iron } }\n');
  checkSaid("sources: a.csv\n", carry, 'sources: a.csv\ncolumns: { carry: "carry " }\n');
  checkSaid("sources: a.csv\ncolumns: { carry: Carry }\n", carry, null);
  const sides: SessionStatement = { of: "sides", column: "offline", value: "L/R" };
  checkSaid("sources: a.csv\ncolumns: { offline: Side }\n", sides, "sources: a.csv\ncolumns: { offline: { from: Side, sides: L/R } }\n");
  checkSaid("sources: a.csv\ncolumns: { offline: { from: Side, positive: left } }\n", sides, null);
});

test("a head gets another name", () => {
  const wren: SessionStatement = { of: "head", head: "Wren", called: "WREN 7" };
  checkSaid("sources: a.csv\nheads: { Wren: { kind: iron } }\n", wren, 'sources: a.csv\nheads: { Wren: { kind: iron, called: ["WREN 7"] } }\n');
  checkSaid("sources: a.csv\nheads:\n  Wren:\n    kind: iron\n    called: [W]\n", wren, 'sources: a.csv\nheads:\n  Wren:\n    kind: iron\n    called: [W, "WREN 7"]\n');
  checkSaid("sources: a.csv\nheads: {}\n", wren, null);
});

test("what cannot be changed safely is not changed", () => {
  checkSaid("sources: [a.csv", short, null);
  checkSaid("- a.csv\n", short, null);
  checkSaid("sources: { file: a.csv, short_rows: { a: b } }\n", short, null);
});
