import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import type { OptionValues } from "../core/query/vocabulary";
import { bcaInterval, usualResamples } from "../core/stats/bca";
import { sampleSd } from "../core/stats/moments";
import { seededRandom } from "../core/stats/random";
import { compareAtSameStrikes } from "../core/stats/same-strikes-model";
import type { ShotData } from "../core/stats/shot-data";
import { compareAsStruck } from "../core/stats/stint-model";
import type { Column, Table } from "../core/table/table";
import { findColumn, makeTable, numberColumn, valueAt } from "../core/table/table";
import { verbs } from "../core/verbs/registry";
import { shotData } from "../core/verbs/shot-data";
import { usedShots } from "../core/verbs/used-shots";
import type { Truth } from "./calibration/invent-session";
import { inventSession } from "./calibration/invent-session";
import { race, report } from "./race";
import { quietContext } from "./quiet-context";

const context = quietContext(7);

/** A synthetic session of three heads, `stints` in all, each of `shots` shots. */
function session(stints: number, shots: number): Table {
  const truth: Truth = {
    heads: ["Wren", "Heron", "Plover"].map((name, i) => ({ name, adds: i, strike: [i - 1, 1 - i], fallOff: 1, scatter: 1 })),
    passes: Math.round(stints / 3),
    shotsInStint: [shots, shots, shots],
    stintSd: 2,
    shotSd: 4,
    drift: (time) => -4 * time,
    order: "random in each pass",
  };
  return withChannels(inventSession(truth, 7).table);
}

/** The table with the columns that the other verbs look at. */
function withChannels(table: Table): Table {
  const random = seededRandom(3);
  const carry = numbers(table, "carry");
  const about = (name: string, unit: "mph" | "deg" | "yd", centre: number, spread: number, ofCarry = 0): Column =>
    numberColumn(name, carry.map((value) => centre + ofCarry * (value - 220) + spread * (random() + random() + random() - 1.5)), unit, "measured");
  const columns = [about("ball_speed", "mph", 140, 1.5, 0.2), about("club_speed", "mph", 95, 2), about("offline", "yd", 0, 15), about("face_to_path", "deg", 0, 5), about("spin_axis", "deg", 0, 8)];
  return makeTable([...table.columns, ...columns], table.rowCount, { sessions: table.sessions });
}

function numbers(table: Table, name: string): Float64Array {
  const column = findColumn(table, name);
  if (column?.kind !== "number") throw new Error(`there is no number column ${name}`);
  return column.values;
}

function dataOf(table: Table, withStrikes: boolean): ShotData {
  const by = findColumn(table, "head");
  const column = findColumn(table, "carry");
  if (by?.kind !== "text" || column?.kind !== "number") throw new Error("a column is not there");
  const used = usedShots(table, by, "compare", context);
  if ("type" in used) throw new Error("the session of the benchmark is refused");
  return shotData(table, column, used, withStrikes);
}

const asked: Readonly<Record<string, OptionValues>> = {
  describe: { of: ["carry", "ball_speed"] },
  scorecard: {},
  compare: { of: "carry" },
  spread: {},
  forgiveness: { of: "ball_speed" },
  workability: {},
  drift: { of: ["carry", "ball_speed"] },
  enough: { of: "carry" },
};

/** What the verbs of the trade cost, beside the same fits in R where it is installed. */
export function benchStatistics(): void {
  const usual = session(48, 3);
  const large = session(60, 33);
  const [struck, same] = [dataOf(usual, false), dataOf(usual, true)];
  const fits = race(15, { "as struck: all pairs": () => compareAsStruck(struck), "same strikes: all pairs": () => compareAtSameStrikes(same) });
  const verb = race(15, { compare: () => run("compare", usual) });
  report(`compare, 3 heads, ${usual.rowCount} shots, both answers with check, verdicts and picture (goal: below 50 ms)`, { ...verb, ...fits }, "compare");
  besideR(usual, fits);

  const stints = [...stintsOf(usual).values()];
  const estimate = (units: readonly (readonly number[])[]): number => sampleSd(units.flat());
  const bootstrap = race(3, { "10 000 resamples of stints": () => bcaInterval(stints, estimate, 0.95, seededRandom(1), usualResamples) });
  report("BCa interval of one head's SD (goal: below 1000 ms)", bootstrap, "10 000 resamples of stints");

  const all = race(3, Object.fromEntries(Object.keys(asked).map((name) => [name, () => run(name, large)])));
  const total = Object.values(all).reduce((sum, time) => sum + time, 0);
  report(`Every verb of the trade on ${large.rowCount} shots in 60 stints (goal: below 1000 ms each; together ${total.toFixed(0)} ms)`, all, "compare");
}

function run(name: string, table: Table): void {
  const verb = verbs.find((each) => each.name === name);
  const values = { by: "head", ...asked[name] };
  const result = verb?.run(table, [{ kind: "options", values }], context);
  if (result === undefined || result.type === "refused") throw new Error(`${name} is refused: ${result?.problems.map((found) => found.make({ start: { line: 1, column: 1 }, end: { line: 1, column: 1 } }).message).join("; ") ?? "no such verb"}`);
}

/** Carry of the first head's shots, stint by stint. */
function stintsOf(table: Table): ReadonlyMap<number, readonly number[]> {
  const head = findColumn(table, "head")!;
  const first = valueAt(head, 0);
  const stint = numbers(table, "stint");
  const found = new Map<number, number[]>();
  numbers(table, "carry").forEach((value, row) => {
    if (valueAt(head, row) === first) found.set(stint[row]!, [...(found.get(stint[row]!) ?? []), value]);
  });
  return found;
}

/** The same fits by lme4 and pbkrtest, as ratios. */
function besideR(table: Table, ours: Readonly<Record<string, number>>): void {
  const folder = mkdtempSync(path.join(os.tmpdir(), "fairstrike-bench-"));
  try {
    const file = path.join(folder, "shots.csv");
    const columns = ["head", "stint", "shot", "strike_x", "strike_y", "carry"].map((name) => findColumn(table, name)!);
    const rows = Array.from({ length: table.rowCount }, (_, row) => columns.map((column) => valueAt(column, row)).join(","));
    writeFileSync(file, `head,stint,shot,x,y,carry\n${rows.join("\n")}\n`);
    const result = spawnSync("Rscript", ["--vanilla", path.join(import.meta.dirname, "../scripts/calibration/same-fits.R"), file], { encoding: "utf8" });
    if (result.status !== 0) return console.log("\nR with lme4 and pbkrtest is not installed: no fits beside ours (Debian: r-base-core r-cran-lme4 r-cran-pbkrtest).");
    console.log("\nThe same fits in R (lme4, pbkrtest; Kenward-Roger contrasts of all pairs; without check and forms of the surface)");
    for (const line of result.stdout.trim().split("\n")) {
      const [name, time] = line.split("\t");
      const own = ours[`${name}: all pairs`];
      console.log(`  ${name!.padEnd(34)}${Number(time).toFixed(0).padStart(10)} ms${own === undefined ? "" : `${(Number(time) / own).toFixed(0).padStart(9)} × ours`}`);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
