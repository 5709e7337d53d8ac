import { expect, test } from "vitest";
import { airAsHit } from "../../../core/flight/session-air";
import { simulateFlight } from "../../../core/flight/simulate";
import { uniformWind } from "../../../core/flight/wind";
import type { OptionValues } from "../../../core/query/vocabulary";
import type { SessionFacts } from "../../../core/session/session-facts";
import type { Table } from "../../../core/table/table";
import { findColumn, makeTable, numberColumn, summaryOf } from "../../../core/table/table";
import { flight } from "../../../core/verbs/flight";
import { launchOf } from "../flight/golf-units";
import type { Outcome, Shot } from "./trade-verbs";
import { context, facts, inferredProblems, numbers, refusal, runVerb, shotTable } from "./trade-verbs";

/** mph, degrees, rpm, degrees, degrees; `null` for missing. */
type Start = readonly [speed: number | null, angle: number | null, spin: number | null, axis: number | null, start: number | null];

const usual: readonly Start[] = [
  [130, 17, 6200, 5, 0],
  [128, 16, 5500, -3, 2],
  [126, 18, 6500, 0, -1],
  [131, 17, 6000, 2, 1],
  [129, 17.5, 6100, -8, 2],
  [127, 16.5, 6300, 1, 0],
];

const cold = { temperature: { value: 5, unit: "degC" as const }, pressure: { value: 1013, unit: "hPa" as const }, humidity: { value: 50, unit: "%" as const } };

/** Shots that start so, Wren's and Heron's in turn, with a measured carry that is the model's times `share`. */
function shotsOf(starts: readonly Start[], session: Partial<SessionFacts> = {}, share = 1): Table {
  const stated = facts({ air: cold, ...session });
  const { air } = airAsHit(stated);
  const shots = starts.map((start, i): Shot => {
    const [speed, angle, spin, axis, direction] = start.map((value) => value ?? Number.NaN);
    const carry = simulateFlight(launchOf(speed!, angle!, spin!, axis, direction), { air }).carry / 0.9144;
    return { head: ["Wren", "Heron"][i % 2]!, stint: i + 1, carry: Number.isNaN(carry) ? null : carry * share };
  });
  const column = (name: string, place: number, unit: "mph" | "deg" | "rpm") => numberColumn(name, starts.map((start) => start[place]!), unit, "measured");
  return shotTable(shots, [stated], [
    column("ball_speed", 0, "mph"),
    column("launch_angle", 1, "deg"),
    column("spin_rate", 2, "rpm"),
    column("spin_axis", 3, "deg"),
    column("start_direction", 4, "deg"),
    numberColumn("total", shots.map(() => 190), "yd", "calculated"),
  ]);
}

function without(table: Table, ...names: readonly string[]): Table {
  return { ...table, columns: table.columns.filter((column) => !names.includes(column.name)) };
}

const said = (outcome: Outcome): string => outcome.report.sentences.join("\n");

test("each shot is flown from its own launch in the air of its session, and nothing recorded is touched", () => {
  const table = shotsOf(usual);
  const outcome = runVerb(flight, table, {});
  numbers(table, "carry").forEach((carry, row) => expect(numbers(outcome.table, "model_carry")[row]).toBeCloseTo(carry, 9));
  for (const column of table.columns) expect(findColumn(outcome.table, column.name)).toBe(column);
  expect(outcome.table.sessions).toBe(table.sessions);
  expect(outcome.table.columns.map(({ name }) => name).slice(4, 7)).toEqual(["carry", "model_carry", "model_carry_spread"]);
  expect(said(outcome)).toContain("the two agree on average");
  expect(outcome.report.method).toContain("Naruo, Mizota & Shimozono 2004");
  expect(outcome.report.method).toContain("the air of s1 (1.267 kg/m³), still air");
});

test("offline is right where the ball curves right", () => {
  const offline = numbers(runVerb(flight, shotsOf(usual), {}).table, "model_offline");
  expect(offline[0]).toBeGreaterThan(5);
  expect(offline[4]).toBeLessThan(-5);
});

test("a head whose measured carry is short says by how much, with n and scatter", () => {
  const lines = runVerb(flight, shotsOf(usual, {}, 0.97), {}).report.sentences;
  expect(lines[0]).toMatch(/^Carry of Wren: \d+\.\d yd modelled, \d+\.\d yd measured, over 3 shots: modelled is 3\.1 % longer on average; single shots scatter about that by 0\.0 %\.$/u);
  expect(lines[1]).toMatch(/^Carry of Heron:/u);
  expect(lines[2]).toMatch(/^The two fits of flight differ by \d\.\d yd of carry for a typical shot and by \d\.\d yd at most/u);
});

test("a carry that the monitor calculated is no evidence for the model", () => {
  const outcome = runVerb(flight, shotsOf(usual, { calculated: ["carry"] }), {});
  expect(said(outcome)).toContain("Carry was calculated by the monitor from other readings, not measured.");
  expect(said(outcome)).toContain("agreement of two models, and no evidence");
  expect(said(runVerb(flight, shotsOf(usual), {}))).not.toContain("no evidence");
});

test("wind told moves the flights and not what was recorded, and is said to be part of the difference", () => {
  const values: OptionValues = { wind_along: { value: -10, unit: "mph" }, wind_right: { value: 2, unit: "m/s" } };
  const outcome = runVerb(flight, shotsOf(usual), values);
  const expected = simulateFlight(launchOf(130, 17, 6200, 5, 0), { air: airAsHit({ air: cold }).air, wind: uniformWind(-4.4704, 2) });
  expect(numbers(outcome.table, "model_carry")[0]).toBeCloseTo(expected.carry / 0.9144, 9);
  expect(said(outcome)).toContain("a head wind of 10 mph and wind of 2 m/s to the right, the same at every height: what was told of air and wind is part of the difference");
});

test("wind that grows with the height takes more than the same wind at every height", () => {
  const against = { value: -3, unit: "m/s" } as const;
  const [even, grown] = [{ wind_along: against }, { wind_along: against, wind_height: { value: 2, unit: "m" } } as const].map((values) => runVerb(flight, shotsOf(usual), values));
  numbers(grown!.table, "model_carry").forEach((carry, row) => expect(carry).toBeLessThan(numbers(even!.table, "model_carry")[row]!));
  expect(grown!.report.method).toContain("measured 2 m up and growing with the logarithm of the height over ground of roughness 0.09 m");
});

test("other air is told by name or by its conditions", () => {
  const high = runVerb(flight, shotsOf(usual), { temperature: { value: 25, unit: "degC" }, altitude: { value: 1500, unit: "m" } });
  numbers(high.table, "model_carry").forEach((carry, row) => expect(carry).toBeGreaterThan(numbers(high.table, "carry")[row]! + 5));
  expect(runVerb(flight, shotsOf(usual), { air: "sea level" }).report.method).toContain("standard air at sea level (1.225 kg/m³)");
  expect(runVerb(flight, shotsOf(usual), { air: "s1" }).report.method).toContain("the air of s1");
  expect(refusal(flight, shotsOf(usual), { air: "moon" })).toEqual(["trade.no-such-air"]);
});

test("a session that does not state its air is flown in standard air, which is said", () => {
  const outcome = runVerb(flight, shotsOf(usual, { air: {} }), {});
  expect(said(outcome)).toContain("Not all of the air is stated in s1 (no temperature, no pressure or altitude)");
  expect(outcome.report.method).toContain("standard air at sea level (1.225 kg/m³)");
});

test("total is modelled only on a turf that is named, in a column of its own that says which", () => {
  const none = runVerb(flight, shotsOf(usual), {});
  expect(findColumn(none.table, "model_total")).toBeUndefined();
  const { table, rows, report } = runVerb(flight, shotsOf(usual), { turf: "slow green" });
  expect(numbers(table, "total")).toEqual(usual.map(() => 190));
  expect(rows.map((row) => row["model_turf"])).toEqual(usual.map(() => "slow green"));
  expect(report.sentences.find((sentence) => sentence.startsWith("model_total"))).toMatch(/^model_total is for slow green and no other: .* \(Penner 2002, Can\. J\. Phys\. 80:931\)/u);
});

test("shots without a launch that can be modelled have no numbers and are counted by head", () => {
  const odd: readonly Start[] = [...usual, [null, 17, 6200, 0, 0], [60, 17, 6200, 0, 0], [130, 17, 15000, 0, 0], [130, -4, 2500, 0, 0]];
  const outcome = runVerb(flight, shotsOf(odd), {});
  expect(numbers(outcome.table, "model_carry").slice(6)).toEqual([Number.NaN, Number.NaN, Number.NaN, Number.NaN]);
  expect(outcome.table.rowCount).toBe(10);
  expect(said(outcome)).toContain("Without a complete launch (ball speed, launch angle, spin rate) and so without a flight: 1 of 5 shots of Wren.");
  expect(said(outcome)).toContain("Slower than 67 mph off the face, where neither fit was measured, and so without a flight: 1 of 5 shots of Heron.");
  expect(said(outcome)).toContain("With a launch that no shot can have, and so without a flight: 1 of 5 shots of Wren.");
  expect(said(outcome)).toContain("Started downwards or nearly so, and so without a flight: 1 of 5 shots of Heron.");
});

test("a shot's own missing axis leaves its side unknown and its carry known; a column that is not there is assumed for all", () => {
  const gap = runVerb(flight, shotsOf([...usual, [130, 17, 6200, null, 0]]), {});
  expect(numbers(gap.table, "model_offline")[6]).toBeNaN();
  expect(numbers(gap.table, "model_carry")[6]).toBeGreaterThan(150);
  expect(said(gap)).toContain("Without a modelled offline, since the start direction or the spin axis is missing");
  const level = runVerb(flight, without(shotsOf(usual), "spin_axis"), {});
  expect(said(level)).toContain("The table has no spin axis: it is taken as level.");
  const straight = runVerb(flight, without(shotsOf(usual), "spin_axis", "start_direction"), {});
  expect(said(straight)).toContain("balls are taken to start straight with a level axis, and nothing is said of their offline.");
  expect(numbers(straight.table, "model_offline").every(Number.isNaN)).toBe(true);
  const blown = runVerb(flight, without(shotsOf(usual), "spin_axis", "start_direction"), { wind_right: { value: 3, unit: "m/s" } });
  expect(said(blown)).toContain("so that model_offline is the wind's alone");
  expect(numbers(blown.table, "model_offline").every((offline) => offline > 5)).toBe(true);
});

test("without a carry the modelled one stands alone", () => {
  const outcome = runVerb(flight, without(shotsOf(usual), "carry"), {});
  expect(outcome.report.sentences[0]).toMatch(/^Modelled carry of Wren: \d+\.\d yd on average over 3 shots, standard deviation \d+\.\d yd\.$/u);
  expect(said(outcome)).toContain("The table has no carry to hold the modelled one against.");
});

test("mirrored directions and a wind across are told together", () => {
  const across: OptionValues = { wind_right: { value: 3, unit: "m/s" } };
  expect(said(runVerb(flight, shotsOf(usual, { hand: "left", mirrored: true }), across))).toContain("Directions of s1 are mirrored, and the wind goes by them");
  expect(said(runVerb(flight, shotsOf(usual), across))).not.toContain("mirrored");
});

test("a second flight takes the place of the first, and nothing is written over a column of the export", () => {
  const first = runVerb(flight, shotsOf(usual), { turf: "natural turf" }).table;
  const second = runVerb(flight, first, { wind_along: { value: -3, unit: "m/s" } }).table;
  expect(second.columns.filter(({ name }) => name.startsWith("model_")).map(({ name }) => name)).toHaveLength(7);
  const own = makeTable([...shotsOf(usual).columns, numberColumn("model_carry", usual.map(() => 1), "yd", "measured")], usual.length, shotsOf(usual));
  expect(inferredProblems(flight, own, {})).toEqual(["query.duplicate-column"]);
  expect(refusal(flight, own, {})).toEqual(["query.duplicate-column"]);
});

test("what cannot be flown through or from is refused", () => {
  const table = shotsOf(usual);
  const refused = (values: OptionValues): readonly string[] => inferredProblems(flight, table, values);
  expect(refused({ wind_along: { value: 80, unit: "mph" } })).toEqual(["trade.impossible-wind"]);
  expect(refused({ wind_height: { value: 2, unit: "m" } })).toEqual(["trade.height-without-wind"]);
  expect(refused({ wind_along: { value: 3, unit: "m/s" }, roughness: { value: 0.1, unit: "m" } })).toEqual(["trade.height-without-wind"]);
  expect(refused({ altitude: { value: 300, unit: "m" } })).toEqual(["trade.air-without-temperature"]);
  expect(refused({ wind_along: { value: 3, unit: "m/s" }, wind_height: { value: 0, unit: "m" } })).toEqual(["trade.impossible-wind"]);
  expect(inferredProblems(flight, without(table, "spin_rate", "launch_angle"), {})).toEqual(["trade.no-flight"]);
  expect(refusal(flight, without(table, "spin_rate"), {})).toEqual(["trade.no-flight"]);
  expect(refusal(flight, makeTable(table.columns, table.rowCount, summaryOf(table)), {})).toEqual(["trade.not-shots"]);
});

test("the picture is of the flights in the wind told", () => {
  const picture = flight.run(shotsOf(usual), [{ kind: "options", values: { wind_along: { value: -5, unit: "m/s" } } }], context());
  expect(picture.type === "table" ? picture.report!.picture!.description : "").toContain("a head wind of 5 m/s, the same at every height");
});
