import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { checkQuery } from "../../../core/query/check-query";
import { shotColumnNames, shotColumns, type ShotColumnFacts } from "../../../core/table/shot-columns";
import type { ColumnSchema, Schema } from "../../../core/table/schema";
import { unitFor } from "../../../core/units";
import { resultColumnMeaning } from "../../../core/verbs/result-columns";
import { verbs } from "../../../core/verbs/registry";
import { vocabulary } from "../../../core/vocabulary";

const trade = verbs.filter((verb) => verb.family === "trade");

/** All shot columns, as a session that records everything has them. */
const shots: Schema = {
  columns: shotColumnNames.map((name): ColumnSchema => {
    const { kind, quantity }: ShotColumnFacts = shotColumns[name];
    return { name, kind, unit: quantity === null ? null : unitFor(quantity, "yd-mph"), origin: "measured" };
  }),
  open: false,
  groupedBy: [],
  fromShots: true,
};

/** Columns of the result of `body` that it has not from the shots. */
function columnsOf(body: string): readonly ColumnSchema[] {
  const { value } = checkQuery(body, 0, {
    vocabulary,
    tables: new Map([["shots", shots]]),
    cells: new Set(["shots"]),
    tableNames: () => ["shots"],
    sessions: () => null,
    units: "yd-mph",
    limits: defaultLimits,
  });
  if (value?.result.type !== "table") throw new Error(`no table: ${body}`);
  return value.result.schema.columns.filter((column) => column.origin === "computed");
}

const calls: Readonly<Record<string, string>> = {
  putBack: "shots.putBack()",
  flight: 'shots.flight({ turf: "natural turf" })',
  describe: 'shots.describe({ of: ["carry", "spin_rate"] })',
  drift: 'shots.drift({ of: ["carry", "club_speed"] })',
};

test.each(trade.map((verb) => [verb.name, verb] as const))("every column that %s computes has a meaning", (name, verb) => {
  const computed = columnsOf(calls[name] ?? verb.help.example);
  expect(computed.length > 0 || name === "putBack").toBe(true);
  expect(computed.filter((column) => resultColumnMeaning(name, column.name) === null).map((column) => column.name)).toEqual([]);
});

test.each(trade.map((verb) => [verb.name, verb.help.method] as const))("%s says how it is computed, and by whose method", (_, method = "") => {
  expect(method).toMatch(/\b1[89]\d\d\b|\b20\d\d\b|no source/u);
  expect(method.split(/(?<=\.) (?=[A-Z])/u).length).toBeLessThanOrEqual(3);
  expect(method).not.toMatch(/significant/iu);
});

test("a verb that gives the shots again leaves their columns what they mean", () => {
  expect(resultColumnMeaning("flight", "head")).toBeNull();
  expect(resultColumnMeaning("flight", "model_carry")).toBe("carry of the modelled flight");
});

test("what is not of a verb of the trade has no meaning here", () => {
  expect(resultColumnMeaning("filter", "n")).toBeNull();
  expect(resultColumnMeaning("constructor", "n")).toBeNull();
  expect(resultColumnMeaning("compare", "constructor")).toBeNull();
});
