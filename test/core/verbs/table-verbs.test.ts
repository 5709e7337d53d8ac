import * as fc from "fast-check";
import { expect, test } from "vitest";
import { makeTable, numberColumn, textColumn, truthColumn, type Table } from "../../../core/table/table";
import { vocabulary } from "../../../core/vocabulary";
import { listsOf, placed, run, runTable } from "../query/query-support";

const tables: ReadonlyMap<string, Table> = new Map([
  [
    "shots",
    makeTable(
      [
        textColumn("head", ["Wren", "Heron", null, "Wren", "heron", "Heron"]),
        numberColumn("carry", [150, null, 149, 161, 155, 150], "yd"),
        numberColumn("total", [156, 158, null, 170, 160, 155], "yd"),
        truthColumn("indoor", [true, false, null, true, false, true]),
      ],
      6,
    ),
  ],
  ["lofts", makeTable([textColumn("head", ["Heron", "Wren", "Heron", null]), numberColumn("loft", [31, 34, 32, 99], "deg"), numberColumn("carry", [1, 2, 3, 4], "yd")], 4)],
]);

/** Expects the chain behind `shots` to give exactly these columns. */
function checkVerb(chain: string, expected: Record<string, unknown[]>): void {
  const table = runTable(`shots${chain}`, { tables });
  expect(listsOf(table), chain).toEqual(expected);
  expect(Object.keys(expected), chain).toEqual(table.columns.map(({ name }) => name));
}

/** Expects running the chain to end in this error, placed on this text. */
function checkFails(chain: string, expected: string): void {
  const { value, problems } = run(`shots${chain}`, { tables });
  expect(value).toBeNull();
  expect(placed(`shots${chain}`, problems.filter((found) => found.severity === "error"))).toEqual([expected]);
}

/** Expects running the chain to say this beside its result. */
function checkSays(chain: string, code: string, facts: Record<string, unknown>): void {
  expect(run(`shots${chain}`, { tables }).problems).toEqual(expect.arrayContaining([expect.objectContaining({ code, facts })]));
}

/** One test for each verb, so that none is without. */
const verbTests: Record<string, () => void> = {
  // The table is of a choice that lets every row through; others are tested in test/core/choices.test.ts.
  choose: () => {
    checkVerb('.choose("head").select("carry")', { carry: [150, null, 149, 161, 155, 150] });
    checkVerb(".choose().count()", { count: [6] });
  },
  filter: () => {
    checkVerb('.filter(d => d.carry >= 150).select("head", "carry")', { head: ["Wren", "Wren", "heron", "Heron"], carry: [150, 161, 155, 150] });
    checkVerb(".filter(d => false).select('head')", { head: [] });
    const kept = runTable('shots.filter(d => d.head === "Wren")', { tables }).columns[0]!;
    expect(kept.kind === "text" && kept.labels).toEqual(["Wren"]);
  },
  derive: () => {
    checkVerb('.derive({ roll: d => d.total - d.carry, head: d => op.upper(d.head) }).select("head", "roll")', {
      head: ["WREN", "HERON", null, "WREN", "HERON", "HERON"],
      roll: [6, null, null, 9, 5, 5],
    });
    // Every new column sees the table as it was before, so that the two change places.
    checkVerb(".slice(0, 1).derive({ carry: d => d.total, total: d => d.carry })", { head: ["Wren"], carry: [156], total: [150], indoor: [true] });
  },
  select: () => checkVerb('.slice(0, 2).select("total", "head")', { total: [156, 158], head: ["Wren", "Heron"] }),
  rename: () => {
    checkVerb('.slice(0, 1).rename({ carry: "total", total: "carry" })', { head: ["Wren"], total: [150], carry: [156], indoor: [true] });
    expect(runTable('shots.groupby("head").rename({ head: "h" })', { tables }).groupedBy).toEqual(["h"]);
  },
  groupby: () => {
    expect(runTable('shots.groupby("head", "indoor")', { tables }).groupedBy).toEqual(["head", "indoor"]);
    checkVerb('.groupby("indoor", "head").count()', {
      indoor: [true, false, null, false, true],
      head: ["Wren", "Heron", null, "heron", "Heron"],
      count: [2, 1, 1, 1, 1],
    });
    checkVerb('.groupby("carry").count()', { carry: [150, null, 149, 161, 155], count: [2, 1, 1, 1, 1] });
  },
  ungroup: () => checkVerb('.groupby("head").ungroup().count()', { count: [6] }),
  rollup: () => {
    checkVerb('.groupby("head").rollup({ mean: op.mean("carry"), any: op.first("indoor") })', {
      head: ["Wren", "Heron", null, "heron"],
      mean: [155.5, 150, 149, 155],
      any: [true, false, null, false],
    });
    checkVerb('.rollup({ far: op.max(d => d.total - d.carry) })', { far: [9] });
    checkSays('.groupby("head").rollup({ spread: op.sd("carry") })', "query.undetermined", { name: "spread", count: 3, of: 4 });
  },
  count: () => {
    checkVerb('.groupby("head").count()', { head: ["Wren", "Heron", null, "heron"], count: [2, 2, 1, 1] });
    checkVerb('.filter(d => false).count()', { count: [0] });
    checkVerb('.filter(d => false).groupby("head").count()', { head: [], count: [] });
  },
  orderby: () => {
    checkVerb('.orderby("head", op.desc("carry")).select("head", "carry")', {
      head: ["Heron", "Heron", "Wren", "Wren", "heron", null],
      carry: [150, null, 161, 150, 155, 149],
    });
    checkVerb('.orderby(op.desc("head")).select("head")', { head: ["heron", "Wren", "Wren", "Heron", "Heron", null] });
    checkVerb('.orderby("indoor").select("indoor")', { indoor: [false, false, true, true, true, null] });
  },
  slice: () => {
    checkVerb('.slice(4).select("total")', { total: [160, 155] });
    checkVerb('.groupby("head").slice(1, 2).select("head", "total")', { head: ["Wren", "Heron"], total: [170, 155] });
  },
  sample: () => {
    const sizes = listsOf(runTable('shots.groupby("head").sample(1).ungroup().groupby("head").count()', { tables }))["count"];
    expect(sizes).toEqual([1, 1, 1, 1]);
    expect(runTable("shots.sample(99)", { tables }).rowCount).toBe(6);
    const drawn = listsOf(runTable('shots.derive({ place: d => d.total }).sample(3).select("place")', { tables }))["place"]!;
    expect(new Set(drawn).size).toBe(3);
  },
  dedupe: () => {
    checkVerb('.dedupe("head").select("head", "total")', { head: ["Wren", "Heron", null, "heron"], total: [156, 158, null, 160] });
    checkVerb('.select("indoor").dedupe()', { indoor: [true, false, null] });
  },
  join: () => {
    checkVerb('.join(lofts, "head").select("head", "carry_1", "loft", "carry_2")', {
      head: ["Wren", "Heron", "Heron", "Wren", "Heron", "Heron"],
      carry_1: [150, null, null, 161, 150, 150],
      loft: [34, 31, 32, 34, 31, 32],
      carry_2: [2, 1, 3, 2, 1, 3],
    });
    checkSays('.join(lofts, "head")', "query.missing-keys", { count: 1, verb: "join" });
    checkVerb('.join(shots.slice(0, 2).select("head", "carry", "indoor"), "head", "carry").select("head", "carry", "indoor_2")', {
      head: ["Wren"],
      carry: [150],
      indoor_2: [true],
    });
    checkVerb('.join(shots.filter(d => false), "head").select("head")', { head: [] });
  },
  join_left: () => {
    checkVerb('.join_left(lofts.filter(d => d.loft > 33), "head").select("head", "carry_1", "loft")', {
      head: ["Wren", "Heron", null, "Wren", "heron", "Heron"],
      carry_1: [150, null, 149, 161, 155, 150],
      loft: [34, null, null, 34, null, null],
    });
    expect(runTable('shots.groupby("carry").join_left(lofts, "head")', { tables }).groupedBy).toEqual(["carry_1"]);
  },
  semijoin: () => {
    checkVerb('.semijoin(lofts, "head").select("head")', { head: ["Wren", "Heron", "Wren", "Heron"] });
    checkSays('.semijoin(lofts, "head")', "query.missing-keys", { count: 1, verb: "semijoin" });
  },
  antijoin: () => checkVerb('.antijoin(lofts, "head").select("head")', { head: [null, "heron"] }),
  concat: () => {
    checkVerb('.slice(0, 2).select("head", "carry").concat(lofts.slice(1, 2)).concat(shots.slice(2, 3).select("head"))', {
      head: ["Wren", "Heron", "Wren", null],
      carry: [150, null, 2, null],
      loft: [null, null, 34, null],
    });
    checkFails('.groupby("head").rollup({ c: op.count() }).groupby("head").pivot("head", "c").concat(lofts.rename({ loft: "Wren" }))', 'query.different-columns lofts.rename({ loft: "Wren" })');
  },
  fold: () => {
    checkVerb('.slice(0, 2).select("head", "carry", "total").fold("total", "carry")', {
      head: ["Wren", "Wren", "Heron", "Heron"],
      key: ["total", "carry", "total", "carry"],
      value: [156, 150, 158, null],
    });
    checkVerb('.filter(d => false).fold("carry", "total").select("key", "value")', { key: [], value: [] });
  },
  pivot: () => {
    checkVerb('.groupby("indoor", "head").count().groupby("indoor").pivot("head", "count")', {
      indoor: [true, false, null],
      Wren: [2, null, null],
      Heron: [1, 1, null],
      heron: [null, 1, null],
    });
    checkSays('.groupby("head").count().pivot("head", "count")', "query.missing-keys", { count: 1, verb: "pivot" });
    checkFails('.pivot("head", "carry")', 'query.several-values "head", "carry"');
    checkFails('.derive({ key: d => "head" }).groupby("head").slice(0, 1).pivot("key", "carry")', 'query.duplicate-column "key", "carry"');
    checkVerb('.groupby("indoor").count().pivot("indoor", "count")', { true: [3], false: [2] });
  },
};

for (const [name, body] of Object.entries(verbTests)) test(name, body);

test("every table verb has a test of its own", () => {
  const names = [...vocabulary.verbs.values()].filter((verb) => verb.family === "table").map((verb) => verb.name);
  expect(Object.keys(verbTests).sort()).toEqual(names.sort());
});

test("V-19 ordering is stable, has missing values last either way, and does not depend on a language", () => {
  const rows = fc.array(fc.record({ a: fc.constantFrom(null, "a", "B", "b", "Ä", "z", ""), b: fc.constantFrom(null, -1, 0, 2) }), { maxLength: 30 });
  fc.assert(
    fc.property(rows, fc.boolean(), (all, descending) => {
      const table = makeTable(
        [textColumn("a", all.map((row) => row.a)), numberColumn("b", all.map((row) => row.b)), numberColumn("row", all.map((_, row) => row))],
        all.length,
      );
      const ordered = listsOf(runTable(`shots.orderby(${descending ? 'op.desc("a")' : '"a"'}, "b")`, { tables: new Map([["shots", table]]) }))["row"];
      const compare = <T extends string | number>(x: T | null, y: T | null, sign: number): number => {
        if (x === y) return 0;
        if (x === null || y === null) return x === null ? 1 : -1;
        return x < y ? -sign : sign;
      };
      const expected = [...all.keys()].sort((i, j) => compare(all[i]!.a, all[j]!.a, descending ? -1 : 1) || compare(all[i]!.b, all[j]!.b, 1) || i - j);
      expect(ordered).toEqual(expected);
    }),
    { seed: 19 },
  );
});

test("joins give what comparing every pair of rows gives", () => {
  const keys = fc.array(fc.record({ k: fc.constantFrom(null, "a", "b", "c"), n: fc.constantFrom(null, 1, 2) }), { maxLength: 12 });
  fc.assert(
    fc.property(keys, keys, (left, right) => {
      const table = (rows: typeof left, id: string): Table =>
        makeTable([textColumn("k", rows.map((row) => row.k)), numberColumn("n", rows.map((row) => row.n)), numberColumn(id, rows.map((_, row) => row))], rows.length);
      const setting = { tables: new Map([["shots", table(left, "l")], ["other", table(right, "r")]]) };
      const matches = left.map(({ k, n }) => right.flatMap((row, index) => (k !== null && n !== null && row.k === k && row.n === n ? [index] : [])));
      const pairs = (unmatched: boolean): (number | null)[][] =>
        matches.flatMap((found, l) => (found.length === 0 && unmatched ? [[l, null]] : found.map((r) => [l, r])));
      const given = (verb: string): (number | null)[][] => {
        const lists = listsOf(runTable(`shots.${verb}(other, "k", "n")`, setting)) as Record<string, (number | null)[]>;
        return lists["l"]!.map((l, row) => (lists["r"] === undefined ? [l] : [l, lists["r"][row]!]));
      };
      expect(given("join")).toEqual(pairs(false));
      expect(given("join_left")).toEqual(pairs(true));
      expect(given("semijoin")).toEqual(matches.flatMap((found, l) => (found.length > 0 ? [[l]] : [])));
      expect(given("antijoin")).toEqual(matches.flatMap((found, l) => (found.length === 0 ? [[l]] : [])));
    }),
    { seed: 20 },
  );
});

test("a header that means something to an engine stays a name like any other", () => {
  const names = ["__proto__", "constructor", "toString"];
  const hostile = new Map([["shots", makeTable([...names.map((name) => textColumn(name, ["b", "a"])), numberColumn("n", [1, 2])], 2)]]);
  const table = runTable('shots.orderby(op.desc("n")).concat(shots).dedupe().join(shots, "n")', { tables: hostile });
  expect(table.columns.map(({ name }) => name)).toEqual([...names.map((name) => `${name}_1`), "n", ...names.map((name) => `${name}_2`)]);
  const wide = runTable('shots.derive({ key: d => d.n > 1 ? "__pro" : "x" }).pivot("key", "n")', { tables: hostile });
  expect(wide.columns.map(({ name }) => name)).toEqual(["x", "__pro"]);
  const byName = new Map([["shots", makeTable([textColumn("key", ["__proto__", "constructor"]), numberColumn("n", [1, 2])], 2)]]);
  expect(runTable('shots.pivot("key", "n")', { tables: byName }).columns.map(({ name }) => name)).toEqual(["__proto__", "constructor"]);
});
