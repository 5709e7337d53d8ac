import { expect, test } from "vitest";
import { schemaOf } from "../../../core/table/schema";
import { check, placed } from "../query/query-support";
import { facts, rotation, shotTable } from "./trade-verbs";

const tables = new Map([["shots", shotTable(rotation({ heads: ["Wren", "Heron"], passes: 6 }).map((shot) => ({ ...shot, session: "spring" })), [facts({ name: "spring" })])]]);

/** Expects these problems, and no others, of a cell over the shots of one session, before anything runs. */
function checkBefore(body: string, ...expected: readonly string[]): void {
  expect(placed(body, check(body, { tables }).problems), body).toEqual(expected);
}

test("a summary is not taken for shots, and that is known before a run", () => {
  for (const summary of ['groupby("head").rollup({ n: op.count() })', 'groupby("head").count().derive({ n: d => d.count })', 'select("head", "carry").rename({ carry: "n" }).fold("n").rename({ value: "n" })']) {
    checkBefore(`shots.${summary}.compare({ of: "n" })`, "trade.not-shots compare");
    checkBefore(`shots.${summary}.flight()`, "trade.not-shots flight");
    checkBefore(`shots.${summary}.standardAir()`, "trade.not-shots standardAir");
    checkBefore(`shots.${summary}.suspects()`, "trade.not-shots suspects");
    checkBefore(`shots.${summary}.putBack()`, "trade.not-shots putBack");
  }
  checkBefore('shots.groupby("head").count().join(shots.groupby("head").count(), "head").describe({ of: "count_1" })', "trade.not-shots describe");
  checkBefore('shots.join(shots.groupby("head").count(), "head").describe({ of: "carry" })');
  checkBefore('shots.compare({ of: "carry" })');
});

test("the airs that there are are known before a run", () => {
  checkBefore('shots.standardAir({ air: "Wren" })', "trade.no-such-air \"Wren\"", "trade.no-launch standardAir");
  checkBefore('shots.filter(d => d.session === "other").concat(shots).flight({ air: "sprng" })', 'query.unknown-value "other"', 'trade.no-such-air "sprng"', "trade.no-flight flight");
  for (const air of ["spring", "sea level", "ball test"]) checkBefore(`shots.standardAir({ air: "${air}" })`, "trade.no-launch standardAir");
  expect(check('missing.standardAir({ air: "Wren" })', { tables, cells: ["shots", "missing"] }).problems).toEqual([]);
});

test("a column that can have no margin but that of the option is known before a run", () => {
  for (const verb of ["compare", "enough"]) {
    checkBefore(`shots.rename({ carry: "c2" }).${verb}({ of: "c2" })`, 'trade.no-margin "c2"');
    checkBefore(`shots.rename({ carry: "c2" }).${verb}({ of: "c2", margin: "3 yd" })`);
    checkBefore(`shots.rename({ carry: "peak_height" }).${verb}({ of: "peak_height" })`);
  }
});

test("what is known of a table's sessions follows it through verbs", () => {
  const { value } = check('shots.filter(d => d.head === "Wren").derive({ a: d => 1 })', { tables });
  expect(value?.result).toMatchObject({ schema: { sessions: ["spring"], fromShots: true } });
  expect(schemaOf(tables.get("shots")!).isSummary).toBeUndefined();
});
