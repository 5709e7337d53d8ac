import { expect, test } from "vitest";
import { questionOf } from "../../../core/present/question";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";

/** One row of a comparison, as the verb gives it. */
interface Row {
  readonly against?: string;
  readonly strikes?: string;
  readonly verdict: string;
  readonly more?: number | null;
}

/** Checks the line that a comparison with these rows is told in. */
function checkShort(rows: readonly Row[], short: string): void {
  const text = (name: string, value: (row: Row) => string): ReturnType<typeof textColumn> => textColumn(name, rows.map(value));
  const yards = (name: string, value: number): ReturnType<typeof numberColumn> => numberColumn(name, rows.map(() => value), "yd");
  const columns = [
    text("head", () => "Heron"),
    text("against", (row) => row.against ?? "Wren"),
    text("of", () => "carry"),
    text("strikes", (row) => row.strikes ?? "as struck"),
    ...(["difference", "from", "to", "from90", "to90"] as const).map((name, i) => yards(name, [5.5, 2.5, 8.5, 3, 8][i]!)),
    text("verdict", (row) => row.verdict),
    numberColumn("more_shots", rows.map((row) => row.more ?? null)),
    numberColumn("n", rows.map(() => 24)),
    numberColumn("n_against", rows.map(() => 23)),
  ];
  const report = { method: "Model of shots in stints: head, trend.", confidence: 0.95, sentences: ["An answer.", "A detail."], answer: 1, hidden: [], picture: null };
  const question = questionOf(makeTable(columns, rows.length, { sessions: [] }, report));
  expect(question?.short).toBe(short);
  expect(question?.sentences).toEqual(["An answer."]);
}

test("an undecided pair is told with the shots that would settle it", () => checkShort([{ verdict: "undecided", more: 24 }], "undecided; about 24 more shots each would settle it"));

test("a plan for several sessions says so, and one that nobody hits names no number that could be hit", () => {
  checkShort([{ verdict: "undecided", more: 360 }], "undecided; about 400 more shots each (more than one session) would settle it");
  checkShort([{ verdict: "undecided", more: 12_000 }], "undecided; more than 10 000 more shots each: not to be settled by hitting");
});

test("an undecided pair without a number of shots promises none", () => checkShort([{ verdict: "undecided" }], "undecided; more shots may not settle it, as the cell says"));

test("a verdict stands with its interval, unit, shots and method", () => {
  checkShort([{ verdict: "different" }], "Heron − Wren, carry as struck: 5.5 yd (95 % interval 2.5 to 8.5 yd; 24 and 23 shots; model of shots in stints), different");
});

test("a verdict that rests on the interval inside of the margin shows that one", () => {
  checkShort([{ verdict: "practically equivalent" }], "Heron − Wren, carry as struck: 5.5 yd (90 % interval 3.0 to 8.0 yd; 24 and 23 shots; model of shots in stints), practically equivalent");
});

test("the answer at the same strikes stands where there is one", () => {
  checkShort([{ verdict: "different" }, { strikes: "same", verdict: "undecided", more: 12 }], "undecided; about 12 more shots each would settle it");
  checkShort([{ verdict: "undecided", more: 6 }, { strikes: "same", verdict: "no verdict" }], "undecided; about 6 more shots each would settle it");
});

test("of several pairs the number left is told, with the shots that settle all of them", () => {
  const pairs = [{ verdict: "different" }, { against: "Plover", verdict: "undecided", more: 12 }, { against: "Rail", verdict: "undecided", more: 30 }];
  checkShort(pairs, "1 of 3 pairs settled; about 30 more shots each would settle the others");
});

test("a table that answers no question has none", () => {
  expect(questionOf(makeTable([numberColumn("more_shots", [1])], 1))).toBeNull();
});
