import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { presentTable } from "../../../core/present/present-table";
import { checkQuery } from "../../../core/query/check-query";
import { runQuery } from "../../../core/query/run-query";
import { schemaOf } from "../../../core/table/schema";
import { vocabulary } from "../../../core/vocabulary";
import { facts, rotation, shotTable } from "./trade-verbs";

const shots = shotTable(rotation({ heads: ["Wren", "Heron"], passes: 4 }), [facts({ synthetic: true })]);

function checkLabelled(body: string): void {
  const around = {
    vocabulary,
    tables: new Map([["shots", schemaOf(shots)]]),
    cells: new Set(["shots"]),
    tableNames: () => ["shots"],
    sessions: () => null,
    units: "yd-mph" as const,
    limits: defaultLimits,
  };
  const checked = checkQuery(body, 0, around);
  expect(checked.problems).toEqual([]);
  const context = { limits: defaultLimits, units: "yd-mph" as const, margins: {}, seed: 1, warn: () => undefined, checkpoint: () => undefined };
  const { value } = runQuery(checked.value!, new Map([["shots", shots]]), context, vocabulary);
  if (value?.type !== "table") throw new Error("no table");
  expect(presentTable(value, 5).notes).toEqual(["Synthetic data: no shot behind these numbers was hit."]);
}

test.each([
  'shots.filter(d => d.head === "Wren")',
  'shots.groupby("head").rollup({ carry: op.mean("carry") })',
  'shots.groupby("head").count()',
  'shots.groupby("head").rollup({ carry: op.mean("carry") }).orderby("carry").slice(0, 1)',
  'shots.groupby("head", "stint").rollup({ carry: op.mean("carry") }).groupby("stint").pivot("head", "carry")',
  'shots.derive({ half: d => d.carry / 2 }).select("head", "half", "carry").fold("half", "carry")',
  'shots.join(shots.groupby("head").rollup({ typical: op.mean("carry") }), "head")',
  'shots.groupby("head").count().concat(shots.groupby("head").count())',
])("what comes from invented shots is labelled synthetic: %s", (body) => checkLabelled(body));
