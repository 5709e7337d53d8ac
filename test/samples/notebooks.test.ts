import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { printNotebook } from "../../core/notebook/print-notebook";
import type { CellOutcome, RunOutcome } from "../../core/run-notebook";
import { createEngine } from "../../core/run-notebook";
import type { Table } from "../../core/table/table";
import { findColumn, valueAt } from "../../core/table/table";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../../server/node-files";

const folder = path.resolve(import.meta.dirname, "..", "..", "sample-notebooks");

function textOf(name: string): string {
  return readFileSync(path.join(folder, `${name}.shots.md`), "utf8");
}

async function run(name: string): Promise<RunOutcome> {
  const files = nodeFiles(folder, defaultLimits.fileBytes);
  const engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: () => 0 });
  return engine.run(parseNotebook(textOf(name)).value, `${name}.shots.md`);
}

const irons = await run("three-irons");
const sessions = await run("two-sessions");

/** The table that a cell gave. */
function table(outcome: RunOutcome, name: string): Table {
  const value = outcome.cells.find((cell) => cell.name === name)?.value;
  if (value?.type !== "table") throw new Error(`${name} gave no table`);
  return value;
}

/** The value of a column in the row whose other columns are as said. */
function look(found: Table, column: string, where: Record<string, string | number>): unknown {
  const rows = Array.from({ length: found.rowCount }, (_, row) => row);
  const row = rows.find((each) => Object.entries(where).every(([name, value]) => valueAt(findColumn(found, name)!, each) === value));
  return row === undefined ? undefined : valueAt(findColumn(found, column)!, row);
}

test("both notebooks are read without a problem and printed as they stand", () => {
  for (const name of ["three-irons", "two-sessions"]) {
    const { value, problems } = parseNotebook(textOf(name));
    expect(problems, name).toEqual([]);
    expect(printNotebook(value)).toBe(textOf(name));
  }
});

test("every cell runs, and nothing worse than a remark is said", () => {
  const worse = ({ problems }: Pick<CellOutcome, "problems">): string[] => problems.filter(({ severity }) => severity !== "info").map(({ message }) => message);
  for (const outcome of [irons, sessions]) {
    expect(worse(outcome)).toEqual([]);
    for (const cell of outcome.cells) {
      expect(worse(cell), cell.name).toEqual([]);
      expect(cell.status, cell.name).toBe("ok");
    }
  }
  expect(irons.cells).toHaveLength(15);
  expect(sessions.cells).toHaveLength(14);
});

test("the prose of three-irons says what its cells say", () => {
  const averages = table(irons, "averages");
  const order = Array.from({ length: 3 }, (_, row) => valueAt(findColumn(averages, "head")!, row));
  expect(order, "Plover first, Wren second, Heron last").toEqual(["Plover", "Wren", "Heron"]);
  const centred = table(irons, "centred");
  expect(look(centred, "carry", { head: "Heron" }), "Heron and Wren have changed places").toBeGreaterThan(look(centred, "carry", { head: "Wren" }) as number);
  const zones = table(irons, "zones");
  expect(["Wren", "Heron", "Plover"].map((head) => look(zones, head, { zone: "centre" })), "three quarters, fewer than half, about a third").toEqual([24, 14, 10]);
  const verdicts = (cell: string): unknown[] =>
    [["Heron", "Wren"], ["Plover", "Wren"], ["Plover", "Heron"]].map(([head, against]) => look(table(irons, cell), "verdict", { head: head!, against: against! }));
  const said = ["undecided", "different", "different by more than the margin"];
  expect(verdicts("carry_gap")).toEqual(said);
  expect(verdicts("speed_gap")).toEqual(said);
  const passes = [2, 3, 4, 5, 6, 7, 8, 9].map((pass) => look(table(irons, "by_pass"), "club_speed", { pass }) as number);
  const half = (from: number): number => passes.slice(from, from + 4).reduce((sum, speed) => sum + speed, 0) / 4;
  expect(half(0) - half(4), "about 1 mph lower in the second half").toBeCloseTo(1, 0);
  const sd = ["Wren", "Heron", "Plover"].map((head) => Math.round(look(table(irons, "each_head"), "sd", { head }) as number));
  expect(sd, "single shots lie 5 to 7 yards apart").toEqual([5, 6, 7]);
});

test("the prose of two-sessions says what its cells say", () => {
  const both = table(sessions, "both_heads");
  const lost = ["Heron", "Plover"].map(
    (head) => (look(both, "carry", { head, session: "spring-bay-1" }) as number) - (look(both, "carry", { head, session: "autumn-range-1" }) as number),
  );
  expect(lost.map(Math.round), "Heron lost much the same").toEqual([6, 5]);
  for (const [cell, difference] of [["spring_gap", 7], ["autumn_gap", 8]] as const) {
    const gap = table(sessions, cell);
    expect(Math.round(look(gap, "difference", { head: "Plover" }) as number)).toBe(difference);
    expect(look(gap, "verdict", { head: "Plover" }), "both beyond the margin of 3").toBe("different by more than the margin");
  }
  const doubtful = table(sessions, "doubtful");
  expect([look(doubtful, "spin_rate", { shot: 26 }), look(doubtful, "speed_ratio", { shot: 41 })]).toEqual([null, expect.closeTo(1.6, 2)]);
});
