import { expect, test } from "vitest";
import { load, values } from "./load-check";

// Strikes are recorded from the middle of the face. The heads state no strike reference, so that the default holds.
const session = [
  "session: s",
  "sources: shots.csv",
  "columns:",
  "  head: Club",
  "  strike_x: { from: Face X, unit: mm, positive: toe }",
  "  strike_y: { from: Face Y, unit: mm, positive: high }",
  "heads:",
  "  Wren: { kind: iron, club: 7 }",
  "",
].join("\n");

function checkZones(below: readonly number[], zone: string): void {
  const rows = below.map((each) => `Wren,0,${-each}\n`).join("");
  const { table } = load(session, { "shots.csv": `Club,Face X,Face Y\n${rows}` });
  expect(values(table, "zone")).toEqual(below.map(() => zone));
}

test("common practice, no source: a strike 8 to 10 mm below the middle of an iron's face is a centred one", () => {
  checkZones([8, 8.5, 9, 9.5, 10], "centre");
});

test("common practice, no source: a strike 12 mm and more below the middle of an iron's face is thin", () => {
  checkZones([12, 13, 15, 18], "low");
});
