import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../core/limits";
import { loadShots } from "../../core/session/load-shots";
import { readSession } from "../../core/session/read-session";
import type { Table } from "../../core/table/table";
import { findColumn, missingCount, valueAt } from "../../core/table/table";
import { autumnRangeMisreads, hitAutumnRange } from "../../scripts/samples/autumn-range";
import { sampleSeeds } from "../../scripts/samples/sample-files";
import { hitSpringBay, springBayMisreads, springBayWrongHead } from "../../scripts/samples/spring-bay";
import { hitSummerNet, summerNetMisreads, summerNetRepeated, summerNetStretch } from "../../scripts/samples/summer-net";

const folder = path.resolve(import.meta.dirname, "..", "..", "sample-notebooks", "sessions");

interface Loaded {
  readonly shots: Table;
  readonly problems: readonly string[];
}

/** A sample session's shots, and its problems as `severity code`. */
function load(name: string): Loaded {
  const session = readSession(readFileSync(path.join(folder, `${name}.session.yaml`), "utf8"));
  expect(session.problems).toEqual([]);
  const files = new Map(session.value!.sources.map(({ file }) => [file, new Uint8Array(readFileSync(path.join(folder, file)))]));
  const { value, problems } = loadShots(session.value!, files, defaultLimits);
  return { shots: value!, problems: problems.map(({ severity, code }) => `${severity} ${code}`) };
}

const spring = load("spring-bay-1");
const autumn = load("autumn-range-1");
const summer = load("summer-net-1");

function value({ shots }: Loaded, shot: number, column: string): unknown {
  return valueAt(findColumn(shots, column)!, shot - 1);
}

function missing({ shots }: Loaded, column: string): number {
  return missingCount(findColumn(shots, column)!);
}

/** How many rows have each value of a text column. */
function counts({ shots }: Loaded, column: string): Record<string, number> {
  const found: Record<string, number> = {};
  const texts = findColumn(shots, column)!;
  for (let row = 0; row < shots.rowCount; row++) {
    const text = String(valueAt(texts, row));
    found[text] = (found[text] ?? 0) + 1;
  }
  return found;
}

test("all sessions load, and what is said of them is said in passing", () => {
  expect(spring.problems).toEqual(["info csv.units-row", "info csv.blank-rows", "info csv.summary-row"]);
  const each = ["info csv.blank-lines", "info csv.summary-row"];
  expect(autumn.problems).toEqual([...each, ...each]);
  expect(summer.problems).toEqual([]);
});

test("they say that their shots are invented, and know the hitting order", () => {
  for (const { shots } of [spring, autumn, summer]) {
    expect(shots.sessions).toHaveLength(1);
    expect(shots.sessions[0]).toMatchObject({ synthetic: true, orderKnown: true, player: "P1", shotCount: shots.rowCount });
  }
});

test("the indoor session: 102 shots, 34 a head, 6 of them warm-up, 27 stints in 9 passes", () => {
  expect(spring.shots.rowCount).toBe(102);
  expect(counts(spring, "head")).toEqual({ Wren: 34, Heron: 34, Plover: 34 });
  expect(counts(spring, "intent")).toEqual({ "warm-up": 6, stock: 96 });
  expect([value(spring, 102, "stint"), value(spring, 102, "pass")]).toEqual([27, 9]);
  expect(Object.keys(counts(spring, "note"))).toContain('called it "soft" before looking');
});

test("the outdoor session: 68 shots from two files in one order, 34 a head, 4 of them warm-up, 18 stints in 9 passes", () => {
  expect(autumn.shots.rowCount).toBe(68);
  expect(counts(autumn, "head")).toEqual({ Heron: 34, Plover: 34 });
  expect(counts(autumn, "intent")).toEqual({ "warm-up": 4, stock: 64 });
  expect([value(autumn, 68, "stint"), value(autumn, 68, "pass")]).toEqual([18, 9]);
  const times = Array.from({ length: 68 }, (_, i) => String(value(autumn, i + 1, "time")));
  expect(times).toEqual([...times].sort());
  expect(value(autumn, 1, "note")).toBe("cold hands; thin");
});

test("the session into a net: 96 shots, 32 a head, 6 of them warm-up, 21 stints in 7 passes", () => {
  expect(summer.shots.rowCount).toBe(96);
  expect(counts(summer, "head")).toEqual({ Wren: 32, Heron: 32, Plover: 32 });
  expect(counts(summer, "intent")).toEqual({ "warm-up": 6, stock: 90 });
  expect([value(summer, 96, "stint"), value(summer, 96, "pass")]).toEqual([21, 7]);
});

test("what is loaded is what the invented monitors read, sides, signs, commas and units and all", () => {
  const rounding = { mph: 0.051, yard: 0.051, metre: 0.051, kilometreAnHour: 0.051, millimetre: 0.051, degree: 0.051 };
  const degree = Math.PI / 180;
  const springAside = [springBayMisreads.clubSpeed, springBayMisreads.spinRate].flatMap((each) => Object.keys(each!).map(Number));
  for (const { shot, head, launch, flight, strike, face } of hitSpringBay(sampleSeeds.springBay).readings) {
    expect(value(spring, shot, "head")).toBe(head);
    expect(Math.abs((value(spring, shot, "ball_speed") as number) - launch.speed / 0.44704)).toBeLessThan(rounding.mph);
    expect(Math.abs((value(spring, shot, "start_direction") as number) - launch.startDirection / degree)).toBeLessThan(rounding.degree);
    if (strike !== null) expect(Math.abs((value(spring, shot, "strike_y") as number) - (strike.y * 1000 + 9))).toBeLessThan(rounding.millimetre);
    if (face !== null) expect(Math.abs((value(spring, shot, "face_angle") as number) - face / degree)).toBeLessThan(rounding.degree);
    if (!springAside.includes(shot)) expect(Math.abs((value(spring, shot, "offline") as number) - flight.offline / 0.9144)).toBeLessThan(rounding.yard);
  }
  for (const { shot, head, launch, flight, strike } of hitAutumnRange(sampleSeeds.autumnRange).readings) {
    expect(value(autumn, shot, "head")).toBe(head);
    expect(Math.abs((value(autumn, shot, "ball_speed") as number) - launch.speed * 3.6)).toBeLessThan(rounding.kilometreAnHour);
    expect(Math.abs((value(autumn, shot, "carry") as number) - flight.carry)).toBeLessThan(rounding.metre);
    expect(Math.abs((value(autumn, shot, "offline") as number) - flight.offline)).toBeLessThan(rounding.metre);
    if (strike !== null) expect(Math.abs((value(autumn, shot, "strike_x") as number) - strike.x * 1000)).toBeLessThan(rounding.millimetre);
  }
  for (const { shot, head, launch, flight, face } of hitSummerNet(sampleSeeds.summerNet).readings) {
    expect(value(summer, shot, "head")).toBe(head);
    expect(Math.abs((value(summer, shot, "spin_axis") as number) - launch.spinAxis / degree)).toBeLessThan(rounding.degree);
    expect(Math.abs((value(summer, shot, "offline") as number) - flight.offline / 0.9144)).toBeLessThan(rounding.yard);
    if (face !== null) expect(Math.abs((value(summer, shot, "face_angle") as number) - face / degree)).toBeLessThan(rounding.degree);
  }
});

test("the session files set aside, correct and leave alone what was misread or booked wrong", () => {
  const [facts] = spring.shots.sessions;
  expect(Object.keys(springBayWrongHead).map(Number)).toEqual([47, 48]);
  expect(facts!.corrections?.map(({ shots, column }) => ({ shots, column }))).toEqual([{ shots: [{ from: 47, to: 48 }], column: "head" }]);
  const aside = facts!.setAsideValues?.map(({ shot, column }) => `${shot} ${column}`);
  expect(aside).toContain(`${Object.keys(springBayMisreads.clubSpeed!)[0]} club_speed`);
  expect(aside).toContain(`${Object.keys(springBayMisreads.spinRate!)[0]} spin_rate`);
  expect(aside).toHaveLength(7);
  const unseen = springBayMisreads.clubUnseen!.length;
  expect(missing(spring, "strike_x")).toBe(unseen);
  expect(missing(spring, "club_speed")).toBe(unseen + 1);
  expect(missing(spring, "carry")).toBe(1);
  expect(missing(spring, "ball_speed")).toBe(0);
  expect(value(spring, Number(Object.keys(springBayMisreads.face!)[0]), "face_angle")).toBe(-7.7);

  expect(autumn.shots.sessions[0]!.setAsideValues?.map(({ shot, column }) => `${shot} ${column}`)).toEqual([`${Object.keys(autumnRangeMisreads.spinRate!)[0]} spin_rate`]);
  expect(missing(autumn, "strike_x")).toBe(autumnRangeMisreads.clubUnseen!.length);
  expect(missing(autumn, "carry")).toBe(0);
  expect(value(autumn, Number(Object.keys(autumnRangeMisreads.clubSpeed!)[0]), "speed_ratio")).toBeGreaterThan(1.5);
});

test("the session into a net sets nothing aside, so that every planted misread is there to be found", () => {
  expect(summer.shots.sessions[0]!.setAsideValues ?? []).toEqual([]);
  expect(missing(summer, "strike_x")).toBe(summerNetMisreads.clubUnseen.length);
  expect(missing(summer, "carry")).toBe(0);
  for (const column of ["ball_speed", "face_angle", "spin_rate", "carry"]) expect(value(summer, summerNetRepeated, column)).toBe(value(summer, summerNetRepeated - 1, column));
  expect(value(summer, summerNetStretch.to + 1, "note")).toMatch(/low sun on the faces/u);
  expect(summer.shots.sessions[0]!.air).toEqual({ temperature: { value: 26, unit: "degC" }, altitude: { value: 900, unit: "m" }, humidity: { value: 35, unit: "%" } });
});
