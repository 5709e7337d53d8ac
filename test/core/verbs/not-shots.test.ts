import { expect, test } from "vitest";
import { makeTable, numberColumn, summaryOf } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { describe } from "../../../core/verbs/describe";
import { facts, refusal, rotation, runVerb, shotTable } from "./trade-verbs";

const shots = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 8 }));

test("summaries of shots are not taken for shots", () => {
  const summary = makeTable(shots.columns, shots.rowCount, summaryOf(shots));
  expect(refusal(compare, summary, { of: "carry" })).toEqual(["trade.not-shots"]);
  expect(refusal(describe, summary, { of: "carry" })).toEqual(["trade.not-shots"]);
});

test("a column called stint that the notebook computed does not count as stints", () => {
  const own = numberColumn("stint", Array.from({ length: shots.rowCount }, (_, i) => i + 1));
  const table = { ...shots, columns: shots.columns.map((column) => (column.name === "stint" ? own : column)) };
  expect(refusal(compare, table, { of: "carry" })).toEqual(["trade.computed-stint"]);
});

test("shots of several sessions are described without an interval, and it is said why", () => {
  const day = (session: string, add: number) => rotation({ heads: ["Wren", "Heron"], passes: 6, add: [add, add] }).map((shot) => ({ ...shot, session }));
  const days = [day("s1", 0), day("s2", -20)];
  const both = runVerb(describe, shotTable(days.flat(), [facts({ name: "s1" }), facts({ name: "s2" })]), { of: "carry" });
  expect([both.rows[0]!["from"], both.rows[0]!["to"], both.rows[0]!["n"]]).toEqual([null, null, 36]);
  expect(both.report.sentences[0]).toContain("no interval, since its shots are of several sessions");
  const one = runVerb(describe, shotTable(days[0]!, [facts({ name: "s1" })]), { of: "carry" });
  expect(one.rows[0]!["from"]).not.toBeNull();
});
