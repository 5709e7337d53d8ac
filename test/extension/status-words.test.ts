import { expect, test } from "vitest";
import { followedInWords } from "../../extension/host/follow-words";
import { changedInWords, rowsInWords, setAsideInWords } from "../../extension/host/status-words";
import { columnInWords, sizeInWords } from "../../extension/host/table-words";

/** Checks what is told of rows and time below a cell. */
function checkRows(rows: readonly number[], rowCount: number | null, milliseconds: number | null, short: string | null): void {
  expect(rowsInWords({ inputs: { rows, setAside: 0 }, rowCount }, milliseconds)?.short ?? null).toBe(short);
}

test("rows in and out stand with the time", () => {
  checkRows([102], 95, 12, "102 → 95 rows · 12 ms");
  checkRows([102, 3], 1, 1449, "102 + 3 → 1 row · 1.4 s");
  checkRows([], 20, 0.2, "20 rows · 1 ms");
});

test("a chart tells what goes in, and a result that was kept no time", () => {
  checkRows([102], null, 12, "102 rows in · 12 ms");
  checkRows([102], 95, null, "102 → 95 rows");
  checkRows([], null, null, "");
});

test("a cell that was not computed tells no rows", () => expect(rowsInWords({ inputs: null, rowCount: null }, 3)).toBeNull());

test("values set aside are counted, and none are not mentioned", () => {
  expect(setAsideInWords({ inputs: { rows: [], setAside: 3 } })?.short).toBe("3 values set aside");
  expect(setAsideInWords({ inputs: { rows: [], setAside: 1 } })?.short).toBe("1 value set aside");
  expect(setAsideInWords({ inputs: { rows: [], setAside: 0 } })).toBeNull();
});

test("what has changed is short below the cell and whole for whoever asks", () => {
  expect(changedInWords(["s/a.csv", "s/b.csv"]).short).toBe("Out of date: s/a.csv, s/b.csv changed");
  const many = changedInWords(["the text of a", "s/a.csv", "s/b.csv"]);
  expect(many.short).toBe("Out of date: the text of a and 2 more changed");
  expect(many.long).toContain("the text of a, s/a.csv, s/b.csv");
});

const question = { short: "undecided; about 24 more shots each would settle it", isSettled: false, sentences: ["Undecided: so far."], method: "A model." };

test("a followed question has its count, how often it was looked at, and the caution for whoever asks", () => {
  expect(followedInWords("gap", question, { looks: 1, isStale: false }).short).toBe("gap: undecided; about 24 more shots each would settle it");
  const third = followedInWords("gap", question, { looks: 3, isStale: true });
  expect(third.short).toBe("gap: undecided; about 24 more shots each would settle it · looked at 3 times · out of date");
  for (const part of ["Undecided: so far.", "A model.", "Looked at 3 times", "Choose the number of shots before"]) expect(third.long).toContain(part);
});

test("a verdict before the planned number of shots is called provisional", () => {
  expect(followedInWords("gap", { ...question, short: "5 yd, different", isSettled: true }, { looks: 1, isStale: false }).short).toBe("gap: 5 yd, different (provisional)");
});

test("a table has its size, and what is not known is said to be so", () => {
  expect(sizeInWords({ rowCount: 1, columns: [], isOpen: true })).toBe("1 row × 0 columns or more");
  expect(sizeInWords({ rowCount: null, columns: [{ name: "a", kind: "text", unit: null, missing: null }], isOpen: false })).toBe("rows not counted × 1 column");
  expect(sizeInWords(null)).toBe("columns not known");
});

test("a column has its unit or kind, and missing values where there are any", () => {
  expect(columnInWords({ name: "carry", kind: "number", unit: "yd", missing: 3 })).toBe("yd, 3 missing");
  expect(columnInWords({ name: "n", kind: "number", unit: null, missing: 0 })).toBe("number");
  expect(columnInWords({ name: "head", kind: "text", unit: null, missing: null })).toBe("text");
});
