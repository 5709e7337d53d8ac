import { expect, test } from "vitest";
import type { SessionFacts } from "../../../core/session/session-facts";
import type { Table } from "../../../core/table/table";
import { makeTable } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { countValues } from "../../../core/verbs/session-sentences";
import { filter } from "../../../core/verbs/filter";
import { putBack } from "../../../core/verbs/put-back";
import { textStart } from "../../../core/text-position";
import { usedShots } from "../../../core/verbs/used-shots";
import { context, facts, numbers, rotation, runVerb, shotTable } from "./trade-verbs";

const two = rotation({ heads: ["Wren", "Heron"], passes: 8 });

/** Shots of two heads, with the carry of these shots set aside. */
function withAside(shots: readonly number[], given: Partial<SessionFacts> = {}): Table {
  const value = { column: "carry", unit: "yd" } as const;
  const setAsideValues = shots.map((shot) => ({ ...value, shot, head: two[shot - 1]!.head, recorded: two[shot - 1]!.carry, because: "misread" }));
  const back = shots.map((shot) => ({ ...value, shot, value: two[shot - 1]!.carry! }));
  const session = facts({ setAsideValues, putBack: back, setAside: [{ head: "Wren", column: "carry", count: shots.length }], ...given });
  return shotTable(two.map((shot, i) => (shots.includes(i + 1) ? { ...shot, carry: null } : shot)), [session]);
}

function sentencesOf(table: Table): readonly string[] {
  return runVerb(putBack, table, {}).report.sentences;
}

test("the values set aside are there again, and how many of how many shots is said", () => {
  const { table, report } = runVerb(putBack, withAside([3, 20, 21]), {});
  expect(numbers(table, "carry")).toEqual(two.map((shot) => shot.carry));
  expect(report.sentences).toEqual(["3 values of 3 shots that were set aside are put back.", "By column, with what is derived: carry 3.", "With values that were set aside put back."]);
  expect(sentencesOf(withAside([3]))[0]).toBe("1 value of 1 shot that was set aside is put back.");
});

test("with nothing set aside the table is the same, and that is said", () => {
  const { table, report } = runVerb(putBack, shotTable(two), {});
  expect(table.columns).toEqual(shotTable(two).columns);
  expect(report.sentences).toEqual(["No value of these shots was set aside: nothing is put back."]);
});

test("later verbs say that values are put back, and no longer count them as set aside", () => {
  const { table } = runVerb(putBack, withAside([3, 20]), {});
  const { sentences } = runVerb(compare, table, { of: "carry" }).report;
  expect(sentences).toContain("With values that were set aside put back.");
  expect(sentences.join(" ")).toMatch(/No value of carry is missing\./);
  expect(sentences.join(" ")).not.toMatch(/\d set aside/);
  expect(runVerb(compare, table, { of: "carry" }).rows).toEqual(runVerb(compare, shotTable(two), { of: "carry" }).rows);
});

test("rows that were filtered out stay out, which is said", () => {
  const table = withAside([3, 20]);
  const holds = Int8Array.from(two, (_, i) => (i === 2 ? 0 : 1));
  const kept = filter.run(table, [{ kind: "condition", holds }], context());
  expect(sentencesOf(kept as Table)).toContain("1 value more is of a shot that has no row here: put back before filtering.");
});

test("values set aside whose shot numbers were left out of the table are asked for by name", () => {
  const table = withAside([3]);
  const lost = makeTable(table.columns.filter(({ name }) => name !== "shot"), table.rowCount, table);
  const refused = putBack.run(lost, [], context());
  expect(refused.type === "refused" ? refused.problems.map((each) => each.make(textStart).code) : refused.type).toEqual(["trade.no-shot-column"]);
});

test("a value that is derived from one set aside counts as set aside too", () => {
  const table = withAside([3, 23], { setAsideValues: [{ shot: 3, head: "Wren", column: "ball_speed", recorded: 1, unit: "mph", because: "x" }] });
  const [by, carry] = [table.columns.find(({ name }) => name === "head")!, table.columns.find(({ name }) => name === "carry")!];
  if (by.kind !== "text" || carry.kind !== "number") throw new Error("no such columns");
  const used = usedShots(table, by, "compare", context());
  if ("type" in used) throw new Error("refused");
  expect(countValues(table, carry, used).map(({ name, setAside }) => [name, setAside])).toEqual([["Wren", 1], ["Heron", 1]]);
});
