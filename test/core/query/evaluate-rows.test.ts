import * as fc from "fast-check";
import { expect, test } from "vitest";
import { header, listsOf, run, runTable } from "./query-support";
import { randomExpressions, randomTables } from "./random-rows";

for (const kind of ["number", "text", "truth"] as const) {
  test(`what a row function gives is what its plainest reading gives: ${kind}`, () => {
    fc.assert(
      fc.property(randomTables, randomExpressions[kind], ({ rows, table }, sample) => {
        const given = listsOf(runTable(`shots.derive({ x: d => ${sample.text} })`, { tables: new Map([["shots", table]]) }))["x"];
        expect(given).toEqual(rows.map(sample.value));
      }),
      { seed: 5, numRuns: 400 },
    );
  });
}

test("a filter keeps the rows whose condition is true, and counts those it cannot decide", () => {
  fc.assert(
    fc.property(randomTables, randomExpressions.truth, ({ rows, table }, sample) => {
      const { value, problems } = run(`shots.derive({ row: d => d.n1 }).filter(d => ${sample.text})`, { tables: new Map([["shots", table]]) });
      if (value?.type !== "table") throw new Error("no table");
      const decided = rows.map(sample.value);
      expect(listsOf(value)["row"]).toEqual(rows.filter((_, index) => decided[index] === true).map((row) => row["n1"]));
      const told = problems.find((found) => found.code === "query.undecided-rows");
      expect(told?.facts ?? { count: 0, of: rows.length }).toEqual({ count: decided.filter((one) => one === null).length, of: rows.length });
    }),
    { seed: 6, numRuns: 400 },
  );
});

test("V-17 divisions by zero and other calculations without a result are missing, and counted once each", () => {
  const body = "shots.derive({ x: d => (d.shot - 1) / (d.shot - 1) + 1, y: d => op.sqrt(3 - d.shot), z: d => 1e300 * (d.shot * 1e300) }).select('x', 'y', 'z').slice(0, 4)";
  const { value, problems } = run(body);
  if (value?.type !== "table") throw new Error("no table");
  expect(listsOf(value)).toEqual({ x: [null, 2, 2, 2], y: [Math.SQRT2, 1, 0, null], z: [null, null, null, null] });
  expect(problems.map((found) => [found.code, found.severity, found.facts])).toEqual([
    ["query.undefined-numbers", "warning", { count: 1 }],
    ["query.undefined-numbers", "warning", { count: 9 }],
    ["query.undefined-numbers", "warning", { count: 12 }],
  ]);
  expect(problems[0]!.range.start).toEqual({ line: 2, column: body.indexOf("(d.shot") + 1 });
  expect(header).toBe("query=result\n");
});

test("a branch that is not taken is not calculated", () => {
  const { problems } = run("shots.derive({ x: d => d.shot === 1 ? null : 1 / (d.shot - 1), y: d => d.shot > 1 && 1 / (d.shot - 1) > 0.5 })");
  expect(problems).toEqual([]);
});

test("a missing value on the way is missing, not a calculation without a result", () => {
  expect(run("shots.derive({ x: d => 1 / d.carry, y: d => op.sqrt(d.carry) })").problems).toEqual([]);
});
