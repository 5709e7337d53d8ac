import { expect, test } from "vitest";
import type { ShotColumn } from "../../../core/table/shot-columns";
import { threeDrivers, threeWedges } from "../../../scripts/misreads/invent-readings";
import type { ExportPlan } from "../../support/invented-export";
import { conventionsOf, inventedFiles, withFixes } from "../../support/invented-export";

const directions = ["offline", "start_direction", "spin_axis", "face_angle", "club_path"] as const;

/** Exactly these columns are said to be turned, and when the fixes are made nothing is said any more. */
async function checkTurned(turned: readonly ShotColumn[], plan: ExportPlan = {}): Promise<void> {
  const files = inventedFiles({ ...plan, turned });
  const problems = await conventionsOf(files);
  const said = problems.map(({ code, severity, facts }) => `${severity} ${code} ${(facts as { column?: string }).column}`);
  expect(said.sort()).toEqual(turned.map((column) => `warning session.sign-doubted ${column}`).sort());
  for (const { file, range, fix } of problems) {
    expect(file).toBe("i.session.yaml");
    expect(range.start.line).toBeGreaterThan(5);
    expect(fix).toBeDefined();
  }
  const fixed = withFixes(files, problems);
  expect(fixed.session).not.toBe(files.session);
  expect(await conventionsOf(fixed)).toEqual([]);
}

for (const column of directions) {
  test(`a turned ${column} is found among irons, by a right-hander and a left-hander`, async () => {
    await checkTurned([column]);
    await checkTurned([column], { hand: "left" });
  });
}

test("a turned column is found among wedges and among drivers", async () => {
  for (const heads of [threeWedges, threeDrivers]) for (const column of ["offline", "spin_axis", "face_angle"] as const) await checkTurned([column], { heads });
});

test("the same where the flight is calculated from the launch", () => checkTurned(["offline"], { calculated: ["carry", "offline", "peak_height", "descent_angle"] }));

test("a club that is turned as a whole is two columns", () => checkTurned(["face_angle", "club_path"]));

test("nothing is said of signs that are right: irons, wedges, drivers, either hand, poor strikes, ten sessions each", async () => {
  for (const plan of [{}, { heads: threeWedges }, { heads: threeDrivers }, { hand: "left" as const }, { strikeScatter: [14, 14] as const }])
    for (let seed = 1; seed <= 10; seed++) expect(await conventionsOf(inventedFiles({ ...plan, seed }))).toEqual([]);
});

test("a player whose every ball starts right and curves far left is not taken for a turned sign", async () => {
  const deg = Math.PI / 180;
  for (const hand of ["right", "left"] as const)
    expect(await conventionsOf(inventedFiles({ hand, deliver: (delivery, shot) => ({ ...delivery, faceAngle: 0.2 * delivery.clubPath + ((shot % 5) - 2) * 0.2 * deg }) }))).toEqual([]);
});

test("a single column misread in a few shots turns nothing", async () => {
  expect(await conventionsOf(inventedFiles({ faults: [{ column: "face_angle", shots: [3, 9, 21, 30], misread: (value) => -4 * value }] }))).toEqual([]);
});

test("seven shots tell nothing, and neither does a start alone beside where the ball landed", async () => {
  expect(await conventionsOf(inventedFiles({ turned: ["offline"], shots: 7 }))).toEqual([]);
  expect(await conventionsOf(inventedFiles({ turned: ["offline"], without: ["spin_axis", "face_angle", "club_path"] }))).toEqual([]);
});

test("where two answers are equally short both columns are named, and none has a fix", async () => {
  const problems = await conventionsOf(inventedFiles({ turned: ["spin_axis", "offline"], without: ["face_angle", "club_path"] }));
  // With the axis and the landing turned, the start alone would explain it as well: the shorter answer is named.
  expect(problems.map(({ facts }) => (facts as { column?: string }).column)).toEqual(["start_direction"]);
  const pair = await conventionsOf(inventedFiles({ turned: ["face_angle", "club_path"], without: ["offline"] }));
  expect(pair.map(({ code, fix }) => [code, fix])).toEqual([["session.signs-contradict", undefined]]);
  expect(pair[0]!.message).toContain("start_direction");
});

test("what is stated is turned back: positive left becomes right", async () => {
  const files = inventedFiles({ entries: { offline: "{ from: OFFLINE, unit: yd, positive: left } # as the manual says" } });
  const problems = await conventionsOf(files);
  expect(problems.map(({ fix }) => fix?.title)).toEqual(["State that positive offline means right"]);
  const fixed = withFixes(files, problems);
  expect(fixed.session).toContain("{ from: OFFLINE, unit: yd, positive: right } # as the manual says");
  expect(await conventionsOf(fixed)).toEqual([]);
});

test("letters for the sides are left to the person, with what to write", async () => {
  const { session, csv } = inventedFiles({ turned: ["offline"], entries: { offline: "{ from: OFFLINE, unit: yd, sides: L/R }" } });
  const lines = csv.split("\n");
  const place = lines[0]!.split(",").indexOf("OFFLINE");
  const lettered = lines.map((line, i) => (i === 0 || line === "" ? line : line.split(",").map((field, at) => (at === place ? `${field.replace("-", "")} ${field.startsWith("-") ? "L" : "R"}` : field)).join(",")));
  const problems = await conventionsOf({ session, csv: lettered.join("\n") });
  expect(problems.map(({ code, fix }) => [code, fix])).toEqual([["session.sign-doubted", undefined]]);
  expect(problems[0]!.hint).toContain("letters for the sides would have to be named the other way round");
});

test("the reasons say what goes against what, over how many shots", async () => {
  const [problem] = await conventionsOf(inventedFiles({ turned: ["spin_axis"] }));
  expect(problem!.message).toMatch(/^positive numbers of spin_axis seem to mean left: over 48 shots offline goes against spin_axis at equal start_direction \(correlation −0\.\d\d\)/);
  expect(problem!.hint).toContain('{ from: "SPIN_AXIS", positive: left }');
});
