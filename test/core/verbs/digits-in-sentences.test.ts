import { expect, test } from "vitest";
import type { Measure } from "../../../core/units";
import { digitsFor } from "../../../core/present/format-number";
import { presentTable } from "../../../core/present/present-table";
import type { Verb } from "../../../core/query/vocabulary";
import type { Table } from "../../../core/table/table";
import { numberColumn } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { enough } from "../../../core/verbs/enough";
import { forgiveness } from "../../../core/verbs/forgiveness";
import { normals } from "../stats/check-values";
import { facts, rotation, runVerb, shotTable } from "./trade-verbs";

/** Shots of two heads struck in places so far apart that differences at the same strikes are known less well than as struck. */
function struck(seed: number): Table {
  const normal = normals(seed);
  const shots = rotation({ heads: ["Wren", "Heron"], passes: 8, stintSd: 0.2, shotSd: 2.4, seed });
  const x = shots.map(({ head }) => (head === "Wren" ? -5 : 5) + 8 * normal());
  const y = shots.map(() => 5 * normal());
  const speed = shots.map((shot) => shot.carry! / 1.4);
  return shotTable(shots, [facts()], [numberColumn("strike_x", x, "mm"), numberColumn("strike_y", y, "mm"), numberColumn("ball_speed", speed, "mph")]);
}

const decimals = (number: string): number => number.split(".")[1]?.length ?? 0;

test("the sentence on both kinds of strikes gives all its numbers the same decimals", () => {
  let wouldDiffer = 0;
  for (let seed = 1; seed <= 12; seed++) {
    const { rows, report } = runVerb(compare, struck(seed), { of: "carry" });
    const said = report.sentences.find((sentence) => sentence.startsWith("Heron − Wren as struck is"))!;
    const [difference, from, to, same] = /is −?([\d.]+) yd \(−?([\d.]+) to −?([\d.]+); .*at the same strikes −?([\d.]+) yd/.exec(said)!.slice(1);
    expect(new Set([difference, from, to, same].map((number) => decimals(number!))).size, said).toBe(1);
    const [own, other] = rows.map((row) => digitsFor(((row["to"] as number) - (row["from"] as number)) / 4.2));
    if (own !== other) wouldDiffer++;
  }
  expect(wouldDiffer).toBeGreaterThan(0);
});

test.each<readonly [string, Verb, Measure, string]>([
  ["compare", compare, { value: 3, unit: "m" }, "3.28 yd"],
  ["enough", enough, { value: 3, unit: "m" }, "3.28 yd"],
  ["forgiveness", forgiveness, { value: 1, unit: "km/h" }, "0.62 mph"],
])("%s shows a margin in the table as its sentences do", (_, verb, margin, wanted) => {
  const { table, report } = runVerb(verb, struck(1), { of: verb === forgiveness ? "ball_speed" : "carry", margin });
  expect(report.sentences.join("\n")).toContain(wanted);
  const shown = presentTable(table, 20).columns.find(({ name }) => name === "margin")!;
  expect(shown.digits).toBe(decimals(wanted.split(" ")[0]!));
});
