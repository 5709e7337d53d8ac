import { expect, test } from "vitest";
import { applyRules } from "../../../core/quality/doubts";
import { misreadRules } from "../../../core/quality/rules";
import { readingsOf } from "../../../core/quality/session-readings";
import type { ShotColumn } from "../../../core/table/shot-columns";
import { isShotColumn } from "../../../core/table/shot-columns";
import type { Table } from "../../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { inventReadings } from "../../../scripts/misreads/invent-readings";
import { withValues } from "../../support/changed-table";
import { plainSession } from "../../support/session-facts";

/** The doubts of one rule in a table, as `shot column`. */
function foundBy(rule: string, table: Table): readonly string[] {
  const [readings] = readingsOf(table);
  const { findings } = applyRules(readings!, misreadRules.filter(({ name }) => name === rule));
  return findings.map(({ finding }) => `${readings!.shot[finding.at]!} ${finding.column}`);
}

const plain = inventReadings({ seed: 4, shots: 90, strikeScatter: [5, 4] }).table;
const noAxis = inventReadings({ seed: 4, shots: 90, strikeScatter: [5, 4], without: ["spin_axis"] }).table;
const parts = makeTable(
  [
    textColumn("session", ["s1", "s1"]),
    numberColumn("shot", [1, 20]),
    numberColumn("spin_rate", [6000, 6000], "rpm", "measured"),
    numberColumn("back_spin", [5990, 5990], "rpm", "measured"),
    numberColumn("side_spin", [300, 300], "rpm", "measured"),
    numberColumn("spin_axis", [2.9, 2.9], "deg", "measured"),
  ],
  2,
  { sessions: [plainSession()] },
);

/** Shot 20 passes a rule as it is and fails it when changed. */
function checkRule(rule: string, column: ShotColumn, change: (value: number) => number, { table = plain, doubted = column }: { table?: Table; doubted?: ShotColumn } = {}): void {
  const shots = table === parts ? [2] : [20];
  expect(foundBy(rule, table)).not.toContain(`20 ${doubted}`);
  expect(foundBy(rule, withValues(table, column, shots, change))).toContain(`20 ${doubted}`);
}

test("a peak of 0 is implausible", () => checkRule("implausible value", "peak_height", () => 0));
test("a speed ratio above what any iron gives", () => checkRule("greatest speed ratio", "club_speed", (mph) => mph * 0.8));
test("a club speed that the head's ratio contradicts", () => checkRule("speed ratio of the head", "club_speed", (mph) => mph * 1.2));
test("a face that start and curve contradict", () => checkRule("face angle", "face_angle", (deg) => deg - 9));
test("a start that face and path contradict", () => checkRule("start direction", "start_direction", (deg) => deg + 11));
test("without a spin axis the face is named for a start that does not fit", () =>
  checkRule("start direction", "start_direction", (deg) => deg + 11, { table: noAxis, doubted: "face_angle" }));
test("a ball that starts beyond the face", () => {
  const apart = withValues(withValues(noAxis, "face_angle", [20], () => 5), "club_path", [20], () => 0);
  checkRule("face share", "start_direction", () => 14, { table: withValues(apart, "start_direction", [20], () => 3.5), doubted: "face_angle" });
});
test("a spin axis that face, path and strike contradict", () => checkRule("spin axis", "spin_axis", (deg) => deg + 32));
test("a path that both start and curve contradict", () => checkRule("club path", "club_path", (deg) => deg + 16));
test("half the spin", () => checkRule("halved or doubled spin", "spin_rate", (rpm) => rpm / 2));
test("twice the spin", () => checkRule("halved or doubled spin", "spin_rate", (rpm) => rpm * 2));
test("two thirds of the spin", () => checkRule("spin of the head", "spin_rate", (rpm) => rpm * 0.68));
test("more spin than a delivery makes", () => checkRule("spin for the delivery", "spin_rate", (rpm) => rpm * 2.2));
test("a total that is not made of its parts", () => checkRule("parts of the spin", "spin_rate", () => 6100, { table: parts }));
test("an axis that is not the angle between the parts", () => checkRule("parts of the spin", "spin_axis", () => -2.9, { table: parts }));
test("a launch above the face", () => checkRule("impossible launch", "launch_angle", () => 36));
test("a launch below the head's path", () => checkRule("impossible launch", "launch_angle", () => -9));
test("a launch unlike the head's others", () => checkRule("launch of the head", "launch_angle", (deg) => deg + 9));
test("a club speed out of line with the shots around it", () => checkRule("odd for its neighbours", "club_speed", (mph) => mph * 1.1));
test("a path out of line with the shots around it", () => checkRule("odd for its neighbours", "club_path", (deg) => deg + 13));
test("four equal carries running, the first of which may be right", () => {
  expect(foundBy("stuck reading", plain)).toEqual([]);
  expect(foundBy("stuck reading", withValues(plain, "carry", [20, 21, 22, 23], () => 170.3))).toEqual(["21 carry", "22 carry", "23 carry"]);
  expect(foundBy("stuck reading", withValues(plain, "carry", [20, 21, 22], () => 170.3))).toEqual([]);
});

test("limits that the session states win, in its own frame for a left-hander", () => {
  const facts = { plausible: { face_angle: { low: -2, high: 25, unit: "deg" as const } } };
  const left = inventReadings({ seed: 4, shots: 30, hand: "left", facts }).table;
  const odd = foundBy("implausible value", withValues(left, "face_angle", [20], () => -3));
  expect(odd).toContain("20 face_angle");
  expect(foundBy("implausible value", withValues(left, "face_angle", [20], () => 3))).not.toContain("20 face_angle");
});

test("every rule has a name of its own, a tolerance, a source and columns that exist", () => {
  expect(new Set(misreadRules.map(({ name }) => name)).size).toBe(misreadRules.length);
  for (const { name, summary, tolerance, source, doubts, needs } of misreadRules) {
    expect(name).toMatch(/^[a-z]/);
    for (const text of [summary, tolerance, source]) expect(text.length).toBeGreaterThan(10);
    expect(doubts.length).toBeGreaterThan(0);
    expect([...doubts, ...needs].every(isShotColumn)).toBe(true);
  }
});

test("no rule doubts a column that it does not name", () => {
  const { table } = inventReadings({ seed: 9, shots: 90, faults: [{ column: "club_path", shots: [5, 9, 33], misread: (deg) => deg + 14 }, { column: "spin_rate", shots: [7, 8], misread: () => 0 }] });
  const { findings } = applyRules(readingsOf(table)[0]!, misreadRules);
  for (const { rule, finding } of findings) expect(misreadRules.find(({ name }) => name === rule)!.doubts).toContain(finding.column);
  expect(findings.length).toBeGreaterThan(3);
});
