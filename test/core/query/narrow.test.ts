import * as fc from "fast-check";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { facetsOf, type Facet } from "../../../core/query/narrow-facets";
import { narrowEdits, whyNotWanted, type Wanted } from "../../../core/query/narrow-edits";
import { narrowPlace, type NarrowPlace } from "../../../core/query/narrow-place";
import { replaceSpans } from "../../../core/replace-spans";
import { makeTable, numberColumn, textColumn, type Table } from "../../../core/table/table";
import { check, header, listsOf, run, runTable, sampleTables, type Setting } from "./query-support";
import { shotTable } from "./sample-shots";

/** The place at which a cell is narrowed, and what it can be narrowed to, counted in the rows there. */
function narrowing(body: string, setting: Setting = {}): { readonly place: NarrowPlace; readonly facets: readonly Facet[] } {
  const place = narrowPlace(check(body, setting).value!, header.length, defaultLimits);
  if ("because" in place) throw new Error(place.because);
  const rows = runTable(place.tableText.slice(header.length), setting);
  return { place, facets: facetsOf(place, rows) };
}

/** The body after narrowing it to what is wanted. */
function narrowed(body: string, wanted: readonly Wanted[], setting: Setting = {}): string {
  const { place, facets } = narrowing(body, setting);
  expect(whyNotWanted(facets, wanted)).toBeNull();
  return replaceSpans(place.text, narrowEdits(place, facets, wanted)).slice(header.length);
}

function checkNarrowed(body: string, wanted: readonly Wanted[], expected: string): void {
  expect(narrowed(body, wanted)).toBe(expected);
  expect(check(expected).problems.filter(({ severity }) => severity === "error")).toEqual([]);
  expect(narrowed(expected, wanted)).toBe(expected);
}

const facetIn = (body: string, column: string): Facet | undefined => narrowing(body).facets.find((facet) => facet.column === column);

/** The values of a column that are ticked, and `no value`. */
function checkTicked(body: string, column: string, expected: readonly (string | number | boolean)[]): void {
  const facet = facetIn(body, column);
  if (facet?.kind !== "choice") throw new Error(`no choice of ${column}`);
  expect([...facet.values.filter(({ isTicked }) => isTicked).map(({ value }) => value), ...(facet.missing?.isTicked ? ["no value"] : [])]).toEqual(expected);
}

const heads = (...values: string[]): Wanted => ({ kind: "choice", column: "head", values, missing: false });
const zones = (missing: boolean, ...values: string[]): Wanted => ({ kind: "choice", column: "zone", values, missing });
const carry = (low: number | null, high: number | null, missing = false): Wanted => ({ kind: "range", column: "carry", low: low === null ? null : { value: low }, high: high === null ? null : { value: high }, missing });
const all = ["centre", "heel", "high", "low toe"];

test("a filter is put after the table that the chain begins with", () => {
  checkNarrowed("shots", [heads("Wren")], 'shots.filter(d => d.head === "Wren")');
  checkNarrowed('shots.groupby("head").count()', [heads("Wren", "Heron")], 'shots.filter(d => op.any_of(d.head, "Heron", "Wren")).groupby("head").count()');
  checkNarrowed("shots.derive({ a: d => d.carry + 1 })", [carry(120, 180)], "shots.filter(d => d.carry >= 120 && d.carry <= 180).derive({ a: d => d.carry + 1 })");
  checkNarrowed("shots // all\n  .orderby(\"carry\")\n  .slice(0, 3)", [heads("Wren")], 'shots // all\n  .filter(d => d.head === "Wren")\n  .orderby("carry")\n  .slice(0, 3)');
  checkNarrowed('chart.landing(shots, { by: "head" })', [heads("Wren")], 'chart.landing(shots.filter(d => d.head === "Wren"), { by: "head" })');
  checkNarrowed("(shots).slice(0, 3)", [heads("Wren")], '(shots).filter(d => d.head === "Wren").slice(0, 3)');
});

test("a constant that nothing else uses is narrowed where its filter stands, and one that two use is left", () => {
  checkNarrowed('const own = shots.filter(d => d.intent === "stock");\nown.groupby("head").count()', [heads("Wren")], 'const own = shots.filter(d => d.intent === "stock" && d.head === "Wren");\nown.groupby("head").count()');
  checkNarrowed("const least = 3;\nconst own = shots.filter(d => d.shot > least);\nown.concat(own)", [heads("Wren")], 'const least = 3;\nconst own = shots.filter(d => d.shot > least);\nown.filter(d => d.head === "Wren").concat(own)');
});

test("a condition on the same column is replaced where it stands, and all others are kept", () => {
  checkNarrowed('shots.filter(d => d.head === "Heron" && d.carry > d.total - 9)', [heads("Wren")], 'shots.filter(d => d.head === "Wren" && d.carry > d.total - 9)');
  checkNarrowed("shots.filter(shot => 120 <= shot.carry && shot.intent === \"stock\" && shot.carry < 150)", [carry(130, null)], 'shots.filter(shot => shot.carry >= 130 && shot.intent === "stock")');
  checkNarrowed("shots.filter(d => d.carry > 150 || d.total > 160)", [heads("Wren")], 'shots.filter(d => (d.carry > 150 || d.total > 160) && d.head === "Wren")');
  checkNarrowed('shots.filter(d => (d.head === "Heron"))', [heads("Wren")], 'shots.filter(d => d.head === "Wren")');
  checkNarrowed('shots.filter(d => d.head === "Heron").filter(d => d.intent === "stock")', [heads("Wren"), carry(130, null)], 'shots.filter(d => d.head === "Wren").filter(d => d.intent === "stock" && d.carry >= 130)');
});

test("a condition goes when every value is ticked, and a filter that is left empty with it", () => {
  const every = { kind: "choice", column: "head", values: ["Heron", "Plover", "Wren"], missing: true } as const;
  checkNarrowed('shots.filter(d => d.head === "Heron").slice(0, 2)', [every], "shots.slice(0, 2)");
  checkNarrowed('shots\n  // good ones\n  .filter(d => d.head === "Heron") // one head\n  .slice(0, 2)', [every], "shots\n  // good ones\n  // one head\n  .slice(0, 2)");
  checkNarrowed('shots.filter(d => d.head === "Heron" /* why */ && d.shot > 2 && d.carry > 9)', [every], "shots.filter(d =>  /* why */ d.shot > 2 && d.carry > 9)");
  checkNarrowed('shots.filter(d => d.shot > 2 // late\n && d.head === "Heron")', [every], "shots.filter(d => d.shot > 2 // late\n)");
});

test("shots without a value are left out, unless they are ticked", () => {
  checkNarrowed("shots", [zones(true, "high")], 'shots.filter(d => (d.zone === null || d.zone === "high"))');
  checkNarrowed("shots", [zones(true)], "shots.filter(d => d.zone === null)");
  checkNarrowed("shots", [zones(false, ...all)], "shots.filter(d => d.zone !== null)");
  checkNarrowed("shots", [zones(false, "centre", "heel", "high")], 'shots.filter(d => d.zone !== "low toe")');
  checkNarrowed("shots.filter(d => d.zone !== null)", [zones(true, ...all)], "shots");
});

test("values are ticked as the filter has them", () => {
  checkTicked("shots", "zone", [...all, "no value"]);
  checkTicked('shots.filter(d => d.zone !== "low toe")', "zone", ["centre", "heel", "high"]);
  checkTicked('shots.filter(d => d.zone === "high" || op.is_missing(d.zone))', "zone", ["high", "no value"]);
  checkTicked('shots.filter(d => op.any_of(d.zone, "high", "heel") && d.zone !== "heel")', "zone", ["high"]);
  checkTicked('shots.filter(d => d.head === "Egret")', "head", ["Egret"]);
  checkTicked("shots.filter(d => !d.indoor)", "indoor", [false]);
});

test("rows are counted before the filter, and a range has the numbers found there", () => {
  const facet = facetIn('shots.filter(d => d.head === "Wren")', "head");
  const counts = listsOf(shotTable())["head"]!.filter((head) => head === "Heron").length;
  expect(facet).toMatchObject({ kind: "choice", values: [{ value: "Heron", count: counts, isTicked: false }, {}, { value: "Wren", isTicked: true }] });
  expect(facetIn("shots.filter(d => d.spin_rate > 6500)", "spin_rate")).toMatchObject({ kind: "range", unit: "rpm", low: { value: 6500, strict: true }, high: null, missing: { isTicked: false } });
});

function checkNoPlace(body: string, because: RegExp): void {
  const place = narrowPlace(check(body).value!, header.length, defaultLimits);
  expect("because" in place ? place.because : "").toMatch(because);
}

test("a text, and a cell with an error, say why they cannot be narrowed", () => {
  checkNoPlace('text`${shots.rollup({ n: op.count() }).one("n")}`', /text/u);
  checkNoPlace("shots.filter(d => d.cary > 1)", /error/u);
});

/** A table with an odd name in it, and what people write into texts. */
const oddTable: Table = makeTable(
  [
    textColumn('its "name"', ["a\"b", "Ä", null, "line\nend", "a\"b", "//", "Ä", ")"]),
    textColumn("head", ["Wren", "Wren", "Heron", null, "Heron", "Plover", "Egret", "Wren"]),
    numberColumn("carry", [150, null, -2.5, 160.25, 0, 1e7, 150, 3]),
  ],
  8,
);

const chains = [
  "shots",
  "(shots)",
  "shots\n  // one\n  .derive({ far: d => d.carry > 9 }) // two\n  .slice(0, 6)",
  'shots.filter(d => d.head === "Wren")',
  'shots.filter(d => (d.head === "Wren" || d.carry > 1) /* ) */ && (d.carry >= 0))',
  'shots\n  // keep\n  .filter(r => r.carry > 1 && r.carry !== null && r.head !== "Egret") // off\n  .filter(r => r.carry < 1000 || r.head === "Wren")\n  .orderby("carry")',
  'const own = shots.filter(d => d["its \\"name\\""] !== "Ä");\nown.select("head", "carry", \'its "name"\')',
  'shots.filter(d => (d.carry === null || d.carry < 5) // low\n  && op.any_of(d.head, "Wren", "Heron"))',
  'shots.filter(d => d.carry > 1 ? true : d.head === "Wren")',
  'shots.filter(d => (d.head === "Wren" && d.carry > 1) && d.carry < 9)',
];

const bound = fc.option(fc.record({ value: fc.constantFrom(-3, 0, 2.5, 150, 1e6), strict: fc.boolean() }).map(({ value, strict }) => (strict ? ({ value, strict } as const) : { value })));
const wishes = fc.record({
  head: fc.option(fc.tuple(fc.subarray(["Wren", "Heron", "Plover", "Egret"]), fc.boolean())),
  odd: fc.option(fc.tuple(fc.subarray(['a"b', "Ä", "line\nend", "//", ")"]), fc.boolean())),
  carry: fc.option(fc.tuple(bound, bound, fc.boolean())),
});

function wantedOf({ head, odd, carry: range }: typeof wishes extends fc.Arbitrary<infer T> ? T : never): readonly Wanted[] {
  return [
    ...(head === null ? [] : [{ kind: "choice", column: "head", values: head[0], missing: head[1] } as const]),
    ...(odd === null ? [] : [{ kind: "choice", column: 'its "name"', values: odd[0], missing: odd[1] } as const]),
    ...(range === null ? [] : [{ kind: "range", column: "carry", low: range[0], high: range[1], missing: range[2] } as const]),
  ];
}

/** The rows of a cell that are wanted, by the plainest reading. */
function isWanted(row: Readonly<Record<string, unknown>>, wanted: readonly Wanted[]): boolean {
  return wanted.every((each) => {
    const value = row[each.column];
    if (value === null) return each.missing;
    if (each.kind === "choice") return each.values.includes(value as string);
    const number = value as number;
    const isLow = each.low !== null && (each.low.strict === true ? number <= each.low.value : number < each.low.value);
    const isHigh = each.high !== null && (each.high.strict === true ? number >= each.high.value : number > each.high.value);
    return !isLow && !isHigh;
  });
}

const rowsOf = (table: Table): readonly Record<string, unknown>[] => {
  const lists = listsOf(table);
  return Array.from({ length: table.rowCount }, (_, row) => Object.fromEntries(Object.entries(lists).map(([name, values]) => [name, values[row]])));
};

test("any chain narrowed to anything passes the checker, keeps the rows that are wanted, and changes no more when asked again", () => {
  const setting: Setting = { tables: new Map([...sampleTables, ["shots", oddTable]]) };
  fc.assert(
    fc.property(fc.constantFrom(...chains), wishes, (chain, wish) => {
      const { place, facets } = narrowing(chain, setting);
      const wanted = wantedOf(wish);
      fc.pre(whyNotWanted(facets, wanted) === null);
      const body = replaceSpans(place.text, narrowEdits(place, facets, wanted)).slice(header.length);
      expect(check(body, setting).problems.filter(({ severity }) => severity === "error")).toEqual([]);
      expect(narrowed(body, wanted, setting)).toBe(body);
      for (const comment of chain.match(/\/\/ \w+|\/\* \) \*\//gu) ?? []) expect(body).toContain(comment);
      // What is not asked for stays as it was, and conditions that no facet shows hold as before.
      const clear = facets.map((facet): Wanted => (facet.kind === "choice" ? { kind: "choice", column: facet.column, values: facet.values.map(({ value }) => value), missing: true } : { kind: "range", column: facet.column, low: null, high: null, missing: true })).filter(({ column }) => wanted.some((each) => each.column === column));
      const others = narrowing(replaceSpans(place.text, narrowEdits(place, facets, clear)).slice(header.length), setting).place;
      const rest = rowsOf(runTable(others.narrowedText.slice(header.length), setting));
      const after = narrowing(body, setting).place;
      expect(rowsOf(runTable(after.narrowedText.slice(header.length), setting))).toEqual(rest.filter((row) => isWanted(row, wanted)));
      run(body, setting);
    }),
    { seed: 5, numRuns: 40 },
  );
});
