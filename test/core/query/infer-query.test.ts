import * as fc from "fast-check";
import { expect, test } from "vitest";
import { schemaOf, type Schema } from "../../../core/table/schema";
import { check, run, sampleTables } from "./query-support";

/** Columns that a verb can be tried on, chosen by numbers. */
type Pick = (index: number, kind?: "number" | "text") => string;

/** One verb to put behind a chain, its columns chosen from those that are known by then. */
const links: ((pick: Pick, a: number, b: number) => string)[] = [
  (pick, a) => `.filter(d => d[${pick(a, "number")}] > 3)`,
  (pick, a) => `.filter(d => d[${pick(a, "text")}] === "Wren" || op.any_of(d[${pick(a, "text")}], "Heron", "stock"))`,
  (pick, a, b) => `.filter(d => d[${pick(a, "text")}] !== "Wren" && d[${pick(b, "number")}] !== null)`,
  (pick, a, b) => `.derive({ x: d => d[${pick(a, "number")}] * 2, y: d => d[${pick(b)}] === null ? "none" : "some" })`,
  (pick, a) => `.derive({ ${pick(a)}: d => d[${pick(a)}] !== null })`,
  (pick, a, b) => `.derive({ z: d => d[${pick(a, "number")}] / d[${pick(b, "number")}], w: d => op.upper(d[${pick(a, "text")}]) })`,
  (pick, a, b) => `.select(${[...new Set([pick(a), pick(b), pick(a + b), pick(a + 2)])].join(", ")})`,
  (pick, a) => `.rename({ ${pick(a)}: "renamed" })`,
  (pick, a) => `.groupby(${pick(a)})`,
  (pick, a, b) => `.groupby(${[...new Set([pick(a, "text"), pick(b)])].join(", ")})`,
  () => ".ungroup()",
  (pick, a, b) => `.rollup({ n: op.count(), m: op.mean(${pick(a, "number")}), f: op.first(${pick(b)}), q: op.quantile(${pick(b, "number")}, 0.2) })`,
  () => ".count()",
  (pick, a, b) => `.orderby(${pick(a)}, op.desc(${pick(b)}))`,
  (_, a, b) => `.slice(${a % 3}, ${b + 3})`,
  (_, a) => `.sample(${a})`,
  (pick, a) => `.dedupe(${pick(a)})`,
  () => ".dedupe()",
  () => '.join(heads, "head")',
  () => '.join_left(heads, "head")',
  () => '.semijoin(heads, "head")',
  () => '.antijoin(heads, "head")',
  () => ".concat(heads)",
  (_, a) => `.concat(shots.filter(d => d.head === "Wren").slice(0, ${a}))`,
  (pick, a) => `.fold(${pick(a)})`,
  (pick, a) => `.fold(${pick(a, "number")}, ${pick(a + 1, "number")})`,
  (pick, a, b) => `.pivot(${pick(a, "text")}, ${pick(b)})`,
];

function grow(body: string, [link, a, b]: readonly [number, number, number]): string {
  const schema = schemaIn(body);
  const pick: Pick = (index, kind) => {
    const columns = schema.columns.filter((column) => kind === undefined || column.kind === kind);
    return JSON.stringify(columns[index % Math.max(1, columns.length)]?.name ?? "none");
  };
  const longer = body + links[link]!(pick, a, b);
  // A link that does not fit its chain (a name twice, no column of a kind) is left out.
  return check(longer).problems.some((found) => found.severity === "error") ? body : longer;
}

function schemaIn(body: string): Schema {
  const result = check(body).value!.result;
  if (result.type !== "table") throw new Error("no table");
  return result.schema;
}

const chains = fc
  .array(fc.tuple(fc.nat(links.length - 1), fc.nat(20), fc.nat(20)), { minLength: 1, maxLength: 7 })
  .map((steps) => steps.reduce(grow, "shots"));

test("what is inferred is what running gives", () => {
  let compared = 0;
  fc.assert(
    fc.property(chains, (body) => {
      const { value } = run(body);
      // Only pivot can fail on what the rows hold.
      if (value === null) {
        expect(body).toContain(".pivot(");
        return;
      }
      if (value.type !== "table") throw new Error("no table");
      compared++;
      const inferred = schemaIn(body);
      const actual = schemaOf(value);
      const facts = (schema: Schema) => schema.columns.map(({ name, kind, unit, origin }) => ({ name, kind, unit, origin }));
      if (inferred.open) expect(facts(actual)).toEqual(expect.arrayContaining(facts(inferred)));
      else expect(facts(actual)).toEqual(facts(inferred));
      expect(actual.groupedBy).toEqual(inferred.groupedBy);
      expect(actual.fromShots).toBe(inferred.fromShots);
      if (inferred.rowCount !== undefined) expect(actual.rowCount).toBe(inferred.rowCount);
      for (const column of inferred.columns) {
        const real = actual.columns.find(({ name }) => name === column.name)!;
        if (column.values !== undefined) expect(column.values).toEqual(expect.arrayContaining([...(real.values ?? [])]));
        if (column.missing !== undefined) expect(real.missing).toBe(column.missing);
      }
    }),
    { seed: 8, numRuns: 600 },
  );
  expect(compared).toBeGreaterThan(400);
});

test("Q-32 no chain changes a table that it reads", () => {
  const before = JSON.stringify([...sampleTables].map(([name, table]) => [name, schemaOf(table), table.columns]));
  fc.assert(
    fc.property(chains, (body) => {
      run(body);
    }),
    { seed: 9, numRuns: 200 },
  );
  expect(JSON.stringify([...sampleTables].map(([name, table]) => [name, schemaOf(table), table.columns]))).toBe(before);
});

test("a filter on text narrows the values that are known", () => {
  const values = (body: string, name: string) => schemaIn(body).columns.find((column) => column.name === name)?.values;
  expect(values('shots.filter(d => d.head === "Wren")', "head")).toEqual(["Wren"]);
  expect(values('shots.filter(d => d.head !== "Wren")', "head")).toEqual(["Heron", "Plover"]);
  expect(values('shots.filter(d => op.any_of(d.head, "Wren", "Plover") && d.head !== "Wren")', "head")).toEqual(["Plover"]);
  expect(values('shots.filter(d => d.head === "Wren" || d.head === "Heron")', "head")).toEqual(["Heron", "Wren"]);
  expect(values('shots.filter(d => d.head === "Wren" || d.carry > 1)', "head")).toEqual(["Heron", "Plover", "Wren"]);
  expect(values('shots.filter(d => d.head === "Wren").rename({ head: "h" }).groupby("h").count()', "h")).toEqual(["Wren"]);
  expect(values('shots.derive({ far: d => d.carry > 150 ? "far" : "near" })', "far")).toEqual(["far", "near"]);
  expect(values('shots.fold("carry", "total")', "key")).toEqual(["carry", "total"]);
});

/** Names of the columns that are known of what a cell with mistakes gives. */
function namesKnown(body: string): readonly string[] {
  const { open, columns } = schemaIn(body);
  // What is wrong may make more columns, which nobody is blamed for naming.
  expect(open).toBe(true);
  return columns.map(({ name }) => name);
}

test("of columns that are made, those that are right are known beside those that are wrong", () => {
  const all = namesKnown("shots.derive({ x: d => d.cary, y: d => d.carry, z: d => nothing })");
  expect(all.slice(-2)).toEqual(["indoor", "y"]);
  expect(schemaIn("shots.derive({ x: d => d.cary, y: d => d.carry })").columns.find(({ name }) => name === "y")).toMatchObject({ kind: "number", unit: "yd" });
  expect(namesKnown('shots.groupby("head").rollup({ a: op.nothing("carry"), n: op.count() })')).toEqual(["head", "n"]);
  expect(namesKnown('shots.select("head", "carry").rename({ head: 3, carry: "c" })')).toEqual(["head", "c"]);
  expect(namesKnown('shots.select("head", "carry").derive({ carry: d => d.nothing })')).toEqual(["head"]);
});

test("a mistake in a new column is said once, whatever uses it", () => {
  const uses = ['.select("x", "y")', ".filter(d => d.x > d.y)", '.groupby("x").rollup({ n: op.mean("x") })', '.describe({ of: "x" })'];
  for (const use of uses) expect(check(`shots.derive({ x: d => d.cary, y: d => d.carry })${use}`).problems.map(({ code }) => code), use).toEqual(["query.unknown-column"]);
  expect(check('shots.derive({ x: d => d.cary, y: d => d.carry }).filter(d => d.y > "150")').problems.map(({ code }) => code)).toEqual(["query.unknown-column", "query.kind"]);
});
