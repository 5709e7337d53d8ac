import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { openQuestions, proposeSession, type SessionAnswers } from "../../../core/session/new-session";
import { findColumn, valueAt } from "../../../core/table/table";
import { answered, checkLoads, exportOf } from "../../support/new-session";

type Files = Readonly<Record<string, string>>;

const shots = (...numbers: readonly number[]): string => `No,Carry [m]\n${numbers.map((number) => `${number},140\n`).join("")}`;
const one: Files = { "a.csv": shots(1, 2, 3, 4, 5, 6) };
const two: Files = { "a.csv": shots(1, 2, 3), "b.csv": shots(1, 2, 3) };
const through: Files = { "a.csv": shots(11, 12, 13), "b.csv": shots(14, 16, 17) };
const exportsOf = (files: Files): ReturnType<typeof exportOf>[] => Object.entries(files).map(([file, text]) => exportOf(text, file));

/** Expects the heads of the shots in hitting order, by their first letters, that a plan sheet makes; lines are parted by bars. */
function checkHeads(files: Files, plan: string, wanted: string, given: Partial<SessionAnswers> = {}): void {
  const { table } = checkLoads(exportsOf(files), { headsFrom: "plan", plan: plan.replaceAll("|", "\n"), ...given });
  const heads = findColumn(table, "head")!;
  expect(Array.from({ length: table.rowCount }, (_, row) => String(valueAt(heads, row))[0]).join("")).toBe(wanted);
}

/** Expects the only thing that is asked with these answers. */
function checkAsked(files: Files, given: Partial<SessionAnswers>, wanted: string): void {
  const proposal = proposeSession(exportsOf(files), defaultLimits).value;
  const settled = answered(proposal, { headsFrom: "plan", plan: "Wren x 6", ...(given.order === undefined ? {} : { order: "file" }) });
  const heads = ["Wren", "Heron", "Plover"].map((name) => ({ ...settled.heads[0]!, name }));
  expect(openQuestions(proposal, { ...settled, heads, ...given, ...(given.plan === undefined ? {} : { plan: given.plan.replaceAll("|", "\n") }) }).map(({ words }) => words)).toEqual(wanted === "" ? [] : [wanted]);
}

test("a plan of counts and a plan of numbers say the same", () => {
  checkHeads(one, "Wren x 2|Heron x 3|Wren x 1", "WWHHHW");
  checkHeads(one, "Heron: 3-5|Wren: 1-2, 6", "WWHHHW");
});
test("counts go on after numbers", () => checkHeads(one, "Wren: 1-2|Heron x 4", "WWHHHH"));
test("counts follow the shots that are there, whatever their numbers", () => checkHeads(through, "Wren x 4|Heron x 2", "WWWWHH"));
test("numbers are those of the export", () => checkHeads(through, "Wren: 11-14|Heron: 16-17", "WWWWHH"));
test("each export may have a plan of its own, by its own numbers", () => checkHeads(two, "a.csv|Wren: 1-2|Heron: 3|b.csv:|Plover x 1|Wren: 2-3", "WWHPWW", { order: "shot" }));
test("one export of several has its own plan, in the order of the file", () => checkHeads(two, "b.csv|Heron x 3|a.csv|Wren x 3", "WWWHHH", { order: "file" }));
test("a file's plan goes by numbers that count through the session", () => checkHeads(through, "a.csv|Wren: 11-13|b.csv|Heron: 14|Wren: 16-17", "WWWHWW"));

test("a line of no head is said", () => checkAsked(one, { plan: "Wren" }, "The plan sheet has a line that names no head with its shots: Wren"));
test("shots turned round are said", () => checkAsked(one, { plan: "Wren: 6-1" }, "The plan sheet has a line that names no head with its shots: Wren: 6-1"));
test("shots without a head in the plan are said", () => checkAsked(one, { plan: "Wren: 1-2|Heron: 5" }, "The plan sheet names no head for shots 3-4, 6"));
test("shots of the plan that are not there are said", () => checkAsked(one, { plan: "Wren: 1-8" }, "The plan sheet has shots that are not there: Wren: 7-8; there are 1-6"));
test("a number that the export leaves out is not there", () => checkAsked(through, { plan: "Wren: 11-13|Heron: 14-17" }, "The plan sheet has shots that are not there: Heron: 15; there are 11-14, 16-17"));
test("a plan that counts too far is said", () => checkAsked(one, { plan: "Wren x 4|Heron x 4" }, "The plan sheet counts 8 shots, but there are 6"));
test("shots that the plan names twice are said", () => checkAsked(one, { plan: "Wren: 1-4|Heron: 4-6" }, "The plan sheet names shot 4 twice, for Wren and Heron"));
test("shots that a file of the plan does not have are said", () => checkAsked(two, { order: "file", plan: "a.csv|Wren: 1-4|b.csv|Wren x 3" }, "The plan sheet has shots that are not there: Wren: 4; a.csv has 1-3"));

test("warm-up shots that are no shots are said", () => checkAsked(one, { warmUp: "first six" }, '"first six" names no shots; write them as 1-6, 41.'));
test("warm-up shots that are not there are said", () => checkAsked(one, { warmUp: "1-9" }, "No such shots: 7-9; there are 1-6."));
test("a shot that was warm-up and shaped is asked", () => checkAsked(one, { warmUp: "1-3", shaped: [{ shots: "3", value: "draw" }] }, "warm-up and draw are both said of shot 3; which one?"));
test("shaped shots without a word are said", () => checkAsked(one, { shaped: [{ shots: "3", value: " " }] }, "Shaped shots need a word for what was meant."));
test("a wrong head in the export beside a plan is said", () => checkAsked(one, { wrongHeads: [{ shots: "3", value: "Heron" }] }, "The plan sheet says every shot's head; change it there."));
test("an order by times that are nowhere is said", () => checkAsked(one, { order: "time" }, "The order cannot be by time: no header holds times. What tells which shot came first?"));
test("an order by numbers that are there twice is said", () => checkAsked(two, { order: "session shot" }, "The order cannot be by session shot: the numbers under No are there more than once. What tells which shot came first?"));
test("an order by shot numbers that are not mapped is said", () => checkAsked({ "a.csv": "Carry [m]\n140\n141\n142\n143\n144\n145\n" }, { order: "shot" }, "The order cannot be by shot: no header holds shot numbers. What tells which shot came first?"));
