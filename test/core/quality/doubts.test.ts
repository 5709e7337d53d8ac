import { expect, test } from "vitest";
import { simulateFlight } from "../../../core/flight/simulate";
import { doubtsOf } from "../../../core/quality/doubts";
import { readingsOf } from "../../../core/quality/session-readings";
import type { Suspect } from "../../../core/quality/suspect";
import { shotColumns } from "../../../core/table/shot-columns";
import type { Table } from "../../../core/table/table";
import { inventReadings } from "../../../scripts/misreads/invent-readings";
import { withValues } from "../../support/changed-table";

const plan = { seed: 4, shots: 90, strikeScatter: [5, 4] } as const;
const plain = inventReadings(plan).table;
const flightColumns = ["carry", "offline", "peak_height", "descent_angle", "flight_time"] as const;

function suspectAt(table: Table, shot: number, column: string): Suspect | undefined {
  return doubtsOf(table).suspects.find((each) => each.shot === shot && each.column === column);
}

/** The table in which the flight of a shot is that of its launch, with the spin and speed it has there. */
function flown(table: Table, shot: number): Table {
  const readings = readingsOf(table)[0]!;
  const at = (column: "ball_speed" | "launch_angle" | "start_direction" | "spin_rate" | "spin_axis"): number => readings.values(column)![shot - 1]!;
  const flight = simulateFlight({ speed: at("ball_speed"), launchAngle: at("launch_angle"), startDirection: at("start_direction"), spinRate: at("spin_rate"), spinAxis: at("spin_axis") });
  const made = { carry: flight.carry, peak_height: flight.peakHeight, descent_angle: flight.descentAngle, flight_time: flight.flightTime } as const;
  return (Object.keys(made) as (keyof typeof made)[]).reduce((into, column) => withValues(into, column, [shot], () => readings.inTable(column, made[column])), table);
}

test("one suspect for a value, the strongest evidence first and the others' after it", () => {
  const table = withValues(plain, "club_speed", [20], (mph) => mph * 0.8);
  const suspect = suspectAt(table, 20, "club_speed")!;
  expect(doubtsOf(table).suspects.filter(({ shot, column }) => shot === 20 && column === "club_speed")).toHaveLength(1);
  expect(suspect.doubt).toBe("strong");
  expect(suspect.evidence).toMatch(/the other shots with .* imply 1\.\d\d/);
  expect(suspect.evidence).toMatch(/no iron gives more than/);
  expect(suspect.witnesses.length).toBeGreaterThan(1);
  expect(Math.abs(suspect.implied! / (suspect.recorded / 0.8) - 1)).toBeLessThan(0.05);
});

test("suspects come by shot and then by column, and a table is judged once", () => {
  const table = withValues(withValues(plain, "spin_rate", [30, 12], () => 0), "peak_height", [12], () => 0);
  const { suspects } = doubtsOf(table);
  expect(suspects.filter(({ rule }) => rule === "implausible value").map(({ shot, column }) => `${shot} ${column}`)).toEqual(["12 spin_rate", "12 peak_height", "30 spin_rate"]);
  expect(doubtsOf(table)).toBe(doubtsOf(table));
});

test("a table of no shots has no suspects", () => {
  expect(doubtsOf({ ...plain, sessions: [] })).toMatchObject({ suspects: [], stretches: [], sentences: [] });
});

test("a column doubted in more than a third of a head's shots is refused as a whole", () => {
  const wren = Array.from({ length: 90 }, (_, i) => i + 1).filter((shot) => readingsOf(plain)[0]!.head[shot - 1] === 0);
  const { suspects, sentences } = doubtsOf(withValues(plain, "spin_rate", wren.slice(0, 20), () => 0));
  expect(suspects.filter(({ column, head }) => column === "spin_rate" && head === "Wren")).toEqual([]);
  expect(sentences.filter((each) => each.startsWith("Spin rate of Wren contradicts the rest in 20 of 30 shots"))).toHaveLength(1);
});

test("a face that the monitor calculates is judged by no rule that it was calculated from", () => {
  const calculated = inventReadings({ ...plan, calculated: ["face_angle"] }).table;
  const { suspects, sentences } = doubtsOf(withValues(calculated, "face_angle", [20], (deg) => deg - 12));
  expect(suspects.filter(({ column }) => column === "face_angle")).toEqual([]);
  expect(sentences).toContain("Face angle is calculated from other readings here, so that its agreement with them is no evidence: rules that compare the two tell nothing.");
});

test("a slow ball with the club at its usual speed is a mishit, whatever its flight", () => {
  const slow = withValues(plain, "ball_speed", [20], (mph) => mph * 0.8);
  for (const table of [slow, flown(slow, 20)]) {
    expect(suspectAt(table, 20, "club_speed")).toBeUndefined();
    expect(suspectAt(flown(slow, 20), 20, "ball_speed")).toBeUndefined();
  }
});

test("a ball speed that the measured flight contradicts is the one that is doubted", () => {
  const suspect = suspectAt(withValues(plain, "ball_speed", [20], (mph) => mph * 1.15), 20, "ball_speed");
  expect(suspect?.evidence).toContain("The measured flight does not agree with the ball speed.");
});

test("a halved spin with a flight that contradicts it is a misread beyond doubt", () => {
  const suspect = suspectAt(withValues(plain, "spin_rate", [20], (rpm) => rpm / 2), 20, "spin_rate");
  expect(suspect).toMatchObject({ rule: "halved or doubled spin", doubt: "strong" });
  expect(suspect?.evidence).toContain("is about half of what the other shots with");
});

test("low spin with a flight that agrees is a flyer, no misread", () => {
  expect(suspectAt(flown(withValues(plain, "spin_rate", [20], (rpm) => rpm / 2), 20), 20, "spin_rate")).toBeUndefined();
});

test("low spin with a calculated flight cannot be told from a flyer", () => {
  const calculated = inventReadings({ ...plan, calculated: flightColumns, faults: [{ column: "spin_rate", shots: [20], misread: (rpm) => rpm / 2 }] }).table;
  const suspect = suspectAt(calculated, 20, "spin_rate");
  expect(suspect?.doubt).toBe("some");
  expect(suspect?.evidence).toContain("a flyer, with grass or water between face and ball, cannot be told from a misread");
});

test("a face that reads off in all shots is alignment: one sentence, and single shots are judged beside it", () => {
  const table = inventReadings({ ...plan, faults: [{ column: "face_angle", shots: Array.from({ length: 90 }, (_, i) => i + 1), misread: (deg) => deg + 6 }] }).table;
  const { suspects, sentences } = doubtsOf(table);
  expect(suspects.filter(({ column }) => column === "face_angle").length).toBeLessThan(4);
  expect(sentences.join(" ")).toMatch(/Face angle of Wren reads about [56]\.\d° more open than the ball's start and curve imply, in all 30 shots/);
});

test("a draw that was asked for is judged by its own face and path", () => {
  const deg = Math.PI / 180;
  const asked = [61, 62, 63, 64, 65, 66];
  const table = inventReadings({ ...plan, deliver: (delivery, shot) => (asked.includes(shot) ? { ...delivery, clubPath: 7 * deg, faceAngle: 2.5 * deg } : delivery) }).table;
  expect(doubtsOf(table).suspects.filter(({ shot, column }) => asked.includes(shot) && ["face_angle", "start_direction", "spin_axis", "club_path"].includes(column))).toEqual([]);
});

test("larger reading errors that a session states widen what is tolerated", () => {
  const readingErrors = { face_angle: { value: 4, unit: "deg" as const } };
  const table = inventReadings({ ...plan, facts: { readingErrors } }).table;
  const off = (each: Table): Table => withValues(each, "face_angle", [20], (deg) => deg - 8);
  expect(suspectAt(off(plain), 20, "face_angle")).toBeDefined();
  expect(suspectAt(off(table), 20, "face_angle")).toBeUndefined();
});

test("a left-hander's shots are doubted as a right-hander's are, mirrored", () => {
  const faults = [
    { column: "face_angle", shots: [5, 40], misread: (deg: number) => deg + 9 },
    { column: "club_path", shots: [12], misread: (deg: number) => deg - 15 },
    { column: "start_direction", shots: [33], misread: (deg: number) => deg + 12 },
    { column: "spin_axis", shots: [50], misread: (deg: number) => deg + 40 },
    { column: "spin_rate", shots: [60], misread: (rpm: number) => rpm / 2 },
    { column: "club_speed", shots: [70], misread: (mph: number) => mph * 0.85 },
  ] as const;
  const [right, left] = (["right", "left"] as const).map((hand) => doubtsOf(inventReadings({ ...plan, hand, faults }).table).suspects);
  expect(right!.length).toBeGreaterThanOrEqual(6);
  const plainly = (suspects: readonly Suspect[], turned: boolean) =>
    suspects.map(({ shot, column, rule, doubt, implied, tolerance }) => {
      const sign = turned && shotColumns[column].mirrored ? -1 : 1;
      return [shot, column, rule, doubt, implied === null ? null : Number((sign * implied).toFixed(6)) + 0, tolerance === null ? null : Number(tolerance.toFixed(6))];
    });
  expect(plainly(left!, true)).toEqual(plainly(right!, false));
});
