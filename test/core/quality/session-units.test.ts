import { expect, test } from "vitest";
import { threeDrivers, threeIrons, threeWedges } from "../../../scripts/misreads/invent-readings";
import type { Problem } from "../../../core/problem";
import type { ShotColumn } from "../../../core/table/shot-columns";
import type { Unit } from "../../../core/units";
import type { ExportPlan } from "../../support/invented-export";
import { conventionsOf, inventedFiles, loadInvented, withFixes } from "../../support/invented-export";

/** What is said of units, as `code column unit`. */
async function saidOf(plan: ExportPlan): Promise<readonly string[]> {
  const problems = await conventionsOf(inventedFiles(plan));
  return problems.map(sayUnit);
}

function sayUnit({ code, facts }: Problem): string {
  return [code, (facts as { column?: string }).column, (facts as { instead?: string }).instead].join(" ");
}

/** Exactly these columns are said to be in another unit, and when the fixes are made nothing is said any more. */
async function checkUnits(written: Partial<Record<ShotColumn, Unit>>, plan: ExportPlan = {}): Promise<void> {
  const files = inventedFiles({ ...plan, written });
  const problems = await conventionsOf(files);
  expect(problems.map(sayUnit).sort()).toEqual(Object.entries(written).map(([column, unit]) => `session.unit-doubted ${column} ${unit}`).sort());
  for (const { fix, severity } of problems) expect([severity, fix?.edits.length]).toEqual(["warning", 1]);
  expect(await conventionsOf(withFixes(files, problems))).toEqual([]);
}

test("a ball speed in km/h that is stated in mph, and one in m/s", async () => {
  await checkUnits({ ball_speed: "km/h" });
  await checkUnits({ ball_speed: "m/s" });
});

test("both speeds in m/s or km/h", async () => {
  await checkUnits({ ball_speed: "m/s", club_speed: "m/s" });
  await checkUnits({ ball_speed: "km/h", club_speed: "km/h" });
});

test("a club speed in km/h or m/s beside a ball speed that the flight confirms", async () => {
  for (const unit of ["km/h", "m/s"] as const) await checkUnits({ club_speed: unit });
});

test("angles in radians, all of them", () =>
  checkUnits({ launch_angle: "rad", start_direction: "rad", spin_axis: "rad", face_angle: "rad", club_path: "rad", angle_of_attack: "rad", dynamic_loft: "rad", descent_angle: "rad" }));

test("spin in turns a second", () => checkUnits({ spin_rate: "rps" }));
test("a carry in feet", () => checkUnits({ carry: "ft" }));

test("wedges and drivers, either hand", async () => {
  await checkUnits({ ball_speed: "km/h" }, { heads: threeWedges, hand: "left" });
  await checkUnits({ ball_speed: "km/h" }, { heads: threeDrivers });
  await checkUnits({ club_speed: "km/h" }, { heads: threeDrivers });
  await checkUnits({ ball_speed: "m/s", club_speed: "m/s" }, { heads: [threeIrons[0]!, threeWedges[2]!, threeDrivers[1]!] });
});

test("a peak in yards or metres that is stated in feet: both would fit, so both are asked for and neither is offered", async () => {
  for (const unit of ["yd", "m"] as const) {
    const problems = await conventionsOf(inventedFiles({ written: { peak_height: unit } }));
    expect(problems.map(({ code, fix }) => [code, fix])).toEqual([["session.unit-unclear", undefined]]);
    expect(problems[0]!.hint).toMatch(/peak_height in yd, or peak_height in m|peak_height in m, or peak_height in yd/);
    expect(problems[0]!.message).toMatch(/a usual shot with \w+ would peak at \d+ ft by its launch, and \d+ ft are recorded/);
  }
});

test("without carry and peak ball and club speed are held against one another", async () => {
  const without = ["carry", "peak_height"] as const;
  await checkUnits({ ball_speed: "km/h" }, { without });
  await checkUnits({ club_speed: "km/h" }, { without });
  await checkUnits({ ball_speed: "m/s" }, { without, heads: threeDrivers });
});

test("yards are not told from metres, which wind and ball differ by as well", async () => {
  expect(await saidOf({ written: { carry: "m" } })).toEqual([]);
});

test("nothing is said of units that are right: irons, wedges, drivers and all three, thin air, few spins, ten sessions each", async () => {
  const thin = { density: 0.98, viscosity: 1.8e-5 };
  const mixed = [threeIrons[0]!, threeWedges[2]!, threeDrivers[1]!];
  for (const plan of [{}, { heads: threeWedges }, { heads: threeDrivers }, { heads: mixed }, { air: thin }, { strikeScatter: [14, 14] as const }])
    for (let seed = 1; seed <= 10; seed++) expect(await saidOf({ ...plan, seed })).toEqual([]);
});

test("a few shots tell nothing", async () => {
  expect(await saidOf({ written: { ball_speed: "km/h" }, shots: 7 })).toEqual([]);
  expect(await saidOf({ written: { ball_speed: "km/h" }, shots: 12 })).toEqual(["session.unit-doubted ball_speed km/h"]);
});

test("a unit that the export itself states cannot be overruled: no fix, and a hint that says so", async () => {
  const inRow = await conventionsOf(inventedFiles({ written: { ball_speed: "km/h" }, unitsRow: true }));
  const [found] = inRow.filter(({ code }) => code === "session.unit-doubted");
  expect(found?.fix).toBeUndefined();
  expect(found?.hint).toContain("the export itself states mph");
});

test("a unit that was assumed is stated by the fix", async () => {
  const files = inventedFiles({ written: { spin_rate: "rps" }, entries: { spin_rate: "SPIN_RATE # per second?" } });
  const problems = (await conventionsOf(files)).filter(({ code }) => code === "session.unit-doubted");
  const fixed = withFixes(files, problems);
  expect(fixed.session).toContain("  spin_rate: { from: SPIN_RATE, unit: rps } # per second?\n");
  expect(await conventionsOf(fixed)).toEqual([]);
});

test("the message says what the launch gives and what is recorded", async () => {
  const { problems } = await loadInvented(inventedFiles({ written: { ball_speed: "km/h" } }));
  const found = problems.find(({ code }) => code === "session.unit-doubted");
  expect(found?.message).toMatch(/^ball_speed does not fit in mph: a usual shot with Plover would (carry|peak at) \d+ \w+ by its launch, and \d+ \w+ are recorded; with ball_speed in km\/h it would be \d+ \w+ and \d+ \w+$/);
});
