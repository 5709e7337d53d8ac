import * as fc from "fast-check";
import { expect, test } from "vitest";
import { aggregates } from "../../../core/functions/registry";
import { makeTable, numberColumn, textColumn, truthColumn } from "../../../core/table/table";
import { listsOf, runTable } from "../query/query-support";

const tables = new Map([
  [
    "shots",
    makeTable(
      [
        textColumn("head", ["Wren", "Heron", "Wren", "Wren", "Heron", "Plover", "Wren"]),
        numberColumn("n", [1, 5, 2, null, null, null, 9], "yd"),
        textColumn("note", [null, "b", "a", "c", "b", null, "a"]),
        truthColumn("flag", [null, true, false, true, false, null, true]),
      ],
      7,
    ),
  ],
]);

/** What an aggregate gives for Wren (1, 2, missing, 9), Heron (5, missing) and Plover (missing). */
function groupsOf(aggregate: string): unknown {
  return listsOf(runTable(`shots.groupby("head").rollup({ x: op.${aggregate} })`, { tables }))["x"];
}

/** One list of calls and values for each aggregate, so that none is without a test. */
const cases: Record<string, readonly (readonly [call: string, values: unknown[]])[]> = {
  count: [["count()", [4, 2, 1]]],
  count_present: [['count_present("n")', [3, 1, 0]], ['count_present("note")', [3, 2, 0]], ['count_present("flag")', [3, 2, 0]]],
  count_missing: [['count_missing("n")', [1, 1, 1]]],
  distinct: [['distinct("note")', [2, 1, 0]], ['distinct("n")', [3, 1, 0]], ['distinct("flag")', [2, 2, 0]]],
  first: [['first("n")', [1, 5, null]], ['first("note")', ["a", "b", null]], ['first("flag")', [false, true, null]]],
  mean: [['mean("n")', [4, 5, null]]],
  // The squares of the deviations −3, −2 and 5 sum to 38.
  sd: [['sd("n")', [Math.sqrt(19), null, null]]],
  median: [['median("n")', [2, 5, null]]],
  quantile: [['quantile("n", 0.75)', [5.5, 5, null]], ['quantile("n", 0)', [1, 5, null]]],
  // The deviations from the median 2 are 1, 0 and 7.
  mad: [['mad("n")', [1.4826, null, null]]],
  min: [['min("n")', [1, 5, null]]],
  max: [['max("n")', [9, 5, null]]],
  sum: [['sum("n")', [12, 5, null]]],
};

test.each(Object.entries(cases))("%s", (_, pairs) => {
  for (const [call, values] of pairs) expect(groupsOf(call), call).toEqual(values);
});

test("every aggregate has a test", () => {
  expect(Object.keys(cases).sort()).toEqual(aggregates.map(({ name }) => name).sort());
});

test("aggregates of measures keep their unit, counts have none", () => {
  const table = runTable('shots.rollup({ m: op.mean("n"), s: op.sd("n"), c: op.count(), d: op.distinct("n"), f: op.first("n") })', { tables });
  expect(table.columns.map((column) => (column.kind === "number" ? column.unit : column.kind))).toEqual(["yd", "yd", null, null, "yd"]);
});

test("V-20 a sum of many tenths has the same digits in any order of the rows", () => {
  const count = 1_000_000;
  const mixed = Float64Array.from({ length: count }, (_, row) => (row % 2 === 0 ? 0.1 : row % 3 === 0 ? 1e10 : -1e10));
  const sumOf = (values: Float64Array): number => {
    const table = makeTable([numberColumn("n", values)], values.length);
    return listsOf(runTable('shots.rollup({ x: op.sum("n") })', { tables: new Map([["shots", table]]) }))["x"]![0] as number;
  };
  // The compensated sum of 0.1 taken 10⁶ times is the double nearest to 10⁶ times the double 0.1.
  expect(sumOf(new Float64Array(count).fill(0.1))).toBe(100_000);
  const total = sumOf(mixed);
  expect(sumOf(mixed.toReversed())).toBe(total);
  expect(sumOf(mixed.toSorted())).toBe(total);
});

test("groups are counted as a plain count would", () => {
  const rows = fc.array(fc.tuple(fc.constantFrom(null, "a", "b"), fc.constantFrom(null, 1, 2, 2.5), fc.constantFrom(null, true, false)), { maxLength: 40 });
  fc.assert(
    fc.property(rows, (all) => {
      const table = makeTable(
        [textColumn("a", all.map((row) => row[0])), numberColumn("b", all.map((row) => row[1])), truthColumn("c", all.map((row) => row[2]))],
        all.length,
      );
      const counts = new Map<string, number>();
      for (const row of all) counts.set(JSON.stringify(row), (counts.get(JSON.stringify(row)) ?? 0) + 1);
      const given = listsOf(runTable('shots.groupby("a", "b", "c").count()', { tables: new Map([["shots", table]]) }));
      expect(given["count"]!.map((count, group) => [JSON.stringify([given["a"]![group], given["b"]![group], given["c"]![group]]), count])).toEqual([...counts]);
    }),
    { seed: 4 },
  );
});
