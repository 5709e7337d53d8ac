import { expect, test } from "vitest";
import type { SessionFacts } from "../../../core/session/session-facts";
import { numberColumn } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { describe } from "../../../core/verbs/describe";
import { drift } from "../../../core/verbs/drift";
import { scorecard } from "../../../core/verbs/scorecard";
import { facts, rotation, runVerb, shotTable } from "./trade-verbs";

const both = [...rotation({ heads: ["Wren", "Heron"], passes: 6 }), ...rotation({ heads: ["Wren", "Heron"], passes: 6, seed: 2 }).map((shot) => ({ ...shot, session: "s2" }))];
const one = both.filter((shot) => shot.session === undefined);

/** What a description of total says of the turf, over sessions called s1 and s2 that state these. */
function checkSaid(sessions: readonly Partial<SessionFacts>[], expected: string): void {
  const shots = sessions.length === 1 ? one : both;
  const table = shotTable(shots, sessions.map((each, i) => facts({ name: `s${i + 1}`, ...each })), [numberColumn("total", shots.map((shot) => shot.carry! + 6), "yd", "measured")]);
  const { report } = runVerb(describe, table, { of: ["carry", "total"] });
  expect(report.sentences.filter((sentence) => sentence.includes("turf"))).toEqual([expected]);
}

test("a total is told with the turf that the session states, or that it states none", () => {
  checkSaid([{}], "Total depends on the turf, which the session does not state.");
  checkSaid([{ turf: null }], "Total depends on the turf, which the session does not state.");
  checkSaid([{ turf: "firm fairway" }], "Total depends on the turf: firm fairway, as stated.");
});

test("over sessions a total is told with the turf of each, unless it is one", () => {
  checkSaid([{}, {}], "Total depends on the turf, which the sessions do not state.");
  checkSaid([{ turf: "mat" }, { turf: "mat" }], "Total depends on the turf: mat, as stated.");
  checkSaid([{ turf: "mat" }, { turf: "green" }], "Total depends on the turf, which is not the same in all sessions: mat in s1; green in s2.");
  checkSaid([{ turf: "mat" }, {}], "Total depends on the turf, which is not known to be the same: mat in s1; not stated in s2.");
});

test("every verb that tells of total says so, and none that does not", () => {
  const table = shotTable(one, [facts()], [numberColumn("total", one.map((shot) => shot.carry! + 6), "yd", "measured")]);
  const said = "Total depends on the turf, which the session does not state.";
  expect(runVerb(compare, table, { of: "total", margin: { value: 3, unit: "yd" } }).report.sentences.join(" ")).toContain(said);
  expect(runVerb(drift, table, { of: ["total"] }).report.sentences.join(" ")).toContain(said);
  expect(runVerb(scorecard, table, {}).report.sentences.join(" ")).toContain(said);
  expect(runVerb(compare, table, { of: "carry", margin: { value: 3, unit: "yd" } }).report.sentences.join(" ")).not.toContain("turf");
});
