import { expect, test } from "vitest";
import { firstAnswers, openQuestions, type SessionAnswers } from "../../../core/session/new-session";
import { findColumn, valueAt } from "../../../core/table/table";
import { answered, checkLoads, exportOf, proposedFrom } from "../../support/new-session";

/** An export of six shots whose first column has these texts. */
const withTexts = (header: string, ...texts: readonly string[]): string => ["No\t".concat(header, "\tCarry [m]"), ...texts.map((text, row) => `${row + 1}\t${text}\t14${row}`), ""].join("\n");
const runs = ["Wren", "Wren", "Heron", "Heron", "Plover", "Plover"] as const;
const odd = "Schlaeger; Kopf";

/** Expects what the column under the header is told to be with these texts, and whether `head` is the likeliest it may be. */
function checkTold(header: string, texts: readonly string[], wanted: string): void {
  const found = proposedFrom(withTexts(header, ...texts)).columns[1];
  expect(`${found?.column ?? "?"} ${found?.certainty ?? ""} ${found?.columns[0] ?? ""}`).toBe(wanted);
}

/** Expects what is asked of the heads with these answers and a role of the column in question: code, header and accepted answers. */
function checkAsked(role: "head" | "keep" | null, given: Partial<SessionAnswers>, ...wanted: readonly string[]): void {
  const proposal = proposedFrom(withTexts(odd, ...runs));
  const first = firstAnswers(proposal);
  const columns = first.columns.map((each) => (each.header === odd ? { ...each, column: role } : each));
  const asked = openQuestions(proposal, { ...first, columns, ...given }).filter(({ code }) => ["heads", "no heads", "head kind"].includes(code));
  expect(asked.map(({ code, about, accepted }) => `${code} ${about ?? "-"}: ${accepted.join(", ")}`)).toEqual(wanted);
}

test("texts that repeat under a header that says no head are asked, the head first", () => checkTold(odd, runs, "? ask head"));
test("texts under a header that says the head are not asked", () => checkTold("Kopf", runs, "head sure head"));
test("one text in all shots is kept", () => checkTold("Platz", ["B", "B", "B", "B", "B", "B"], "keep likely head"));
test("texts that differ from shot to shot are kept", () => checkTold("Mark", ["a", "b", "c", "d", "e", "f"], "keep likely head"));
test("texts at some shots alone are kept", () => checkTold("Mark", ["thin", "", "thin", "fat", "", "fat"], "keep likely head"));
test("times that repeat are kept", () => checkTold("Mark", ["10:01", "10:01", "10:01", "10:02", "10:02", "10:02"], "keep likely head"));

test("a column may tell the head where nothing says so yet", () => checkAsked(null, {}, `heads ${odd}: column, file, plan`));
test("a column may tell the head though it was kept at first", () => checkAsked("keep", {}, `heads ${odd}: column, file, plan`));
test("heads said to be in a column that is not named lead to that column", () => checkAsked(null, { headsFrom: "column" }, `no heads ${odd}: file, plan`));
test("a column said to be head has its heads asked one by one", () => checkAsked("head", { headsFrom: "column" }, ...["Wren", "Heron", "Plover"].map((name) => `head kind ${name}: iron, wedge, wood`)));
test("of two headers that say the head either may hold it", () => {
  const proposal = proposedFrom("No,Club,Head,Carry [m]\n1,Wren,A,140\n2,Heron,A,141\n");
  expect(openQuestions(proposal, firstAnswers(proposal)).find(({ code }) => code === "heads")).toMatchObject({ about: "Club", accepted: ["column", "file", "plan"], words: "What tells which head was hit? If the column Club or Head does, its shot column is head." });
});
test("the only column that may tell the head has its names ready", () => {
  const { heads, headsFrom } = firstAnswers(proposedFrom(withTexts(odd, ...runs)));
  expect([headsFrom, heads.map(({ name, kind }) => [name, kind])]).toEqual([null, [["Wren", null], ["Heron", null], ["Plover", null]]]);
});
test("a session with the heads of such a column loads", () => {
  const { table } = checkLoads([exportOf(withTexts(odd, ...runs))]);
  expect(Array.from({ length: 6 }, (_, row) => valueAt(findColumn(table, "head")!, row))).toEqual([...runs]);
});
test("heads of a column that is kept after all are asked otherwise", () => {
  const proposal = proposedFrom(withTexts(odd, ...runs));
  const columns = firstAnswers(proposal).columns.map((each) => (each.header === odd ? { ...each, column: "keep" as const } : each));
  expect(answered(proposal, { columns }).headsFrom).toBe("file");
});
