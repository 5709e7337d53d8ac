import { expect, test } from "vitest";
import type { AerodynamicFit } from "../../../core/flight/aerodynamics";
import { fergusonFit, naruoFit } from "../../../core/flight/aerodynamics";
import { standardAirs } from "../../../core/flight/air";
import type { StatedAir } from "../../../core/flight/session-air";
import { airAsHit } from "../../../core/flight/session-air";
import { simulateFlight } from "../../../core/flight/simulate";
import type { OptionValues } from "../../../core/query/vocabulary";
import type { PutBackValue, SessionFacts } from "../../../core/session/session-facts";
import type { Column, Table } from "../../../core/table/table";
import { findColumn, numberColumn } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { concat } from "../../../core/verbs/concat";
import { describe } from "../../../core/verbs/describe";
import { join } from "../../../core/verbs/join";
import { standardAir } from "../../../core/verbs/standard-air";
import { launchOf } from "../flight/golf-units";
import { normals } from "../stats/check-values";
import type { Outcome, Shot } from "./trade-verbs";
import { context, facts, inferredProblems, numbers, refusal, runVerb, shotTable } from "./trade-verbs";

const cold: StatedAir = { temperature: { value: 5, unit: "degC" }, altitude: { value: 0, unit: "m" }, humidity: { value: 50, unit: "%" } };
const thin: StatedAir = { temperature: { value: 25, unit: "degC" }, altitude: { value: 1500, unit: "m" }, humidity: { value: 30, unit: "%" } };

/** What one day is like: its session, and how nature flies balls there. */
interface Day {
  readonly session?: Partial<SessionFacts>;
  readonly air: StatedAir;
  readonly fit?: AerodynamicFit;
}

const flightColumns = ["carry", "offline", "peak_height", "descent_angle", "flight_time", "landing_speed"] as const;

/** Shots of two heads, the same launches each day, flown through each day's air; Heron's ball is 6 mph faster. */
function days(each: readonly Day[], extra: (count: number) => readonly Column[] = () => []): Table {
  const normal = normals(4);
  const swings = Array.from({ length: 48 }, (_, i) => {
    const head = ["Wren", "Heron"][Math.floor(i / 3) % 2]!;
    const values = [(head === "Heron" ? 134 : 128) + normal(), 17 + 0.6 * normal(), 6100 + 250 * normal(), 4 * normal(), 1.5 * normal()] as const;
    return { head, stint: Math.floor(i / 3) + 1, values };
  });
  const hit = each.flatMap((day, number) => swings.map((swing) => ({ ...swing, day, session: day.session?.name ?? `s${number + 1}` })));
  const flights = hit.map(({ values, day }) => simulateFlight(launchOf(...values), { air: airAsHit({ air: day.air }).air, fit: day.fit ?? naruoFit }));
  const shots = hit.map(({ head, stint, session }, i): Shot => ({ head, stint, session, carry: flights[i]!.carry / 0.9144 }));
  const launch = (name: string, place: 0 | 1 | 2 | 3 | 4, unit: "mph" | "deg" | "rpm") => numberColumn(name, hit.map(({ values }) => values[place]), unit, "measured");
  const deg = 180 / Math.PI;
  const columns = [
    launch("ball_speed", 0, "mph"),
    launch("launch_angle", 1, "deg"),
    launch("spin_rate", 2, "rpm"),
    launch("spin_axis", 3, "deg"),
    launch("start_direction", 4, "deg"),
    numberColumn("offline", flights.map((flight) => flight.offline / 0.9144), "yd", "measured"),
    numberColumn("total", flights.map((flight) => flight.carry / 0.9144 + 5), "yd", "calculated"),
    numberColumn("peak_height", flights.map((flight) => flight.peakHeight / 0.3048), "ft", "measured"),
    numberColumn("descent_angle", flights.map((flight) => flight.descentAngle * deg), "deg", "measured"),
    numberColumn("flight_time", flights.map((flight) => flight.flightTime), "s", "measured"),
    numberColumn("landing_speed", flights.map((flight) => flight.landingSpeed / 0.44704), "mph", "measured"),
  ];
  const sessions = each.map((day, number) => facts({ name: `s${number + 1}`, file: `s${number + 1}.session.yaml`, air: day.air, ...day.session }));
  return shotTable(shots, sessions, [...columns, ...extra(hit.length)]);
}

/** The table with some values of a column changed. */
function edited(table: Table, name: string, change: (value: number, row: number) => number): Table {
  const columns = table.columns.map((column) => (column.name === name && column.kind === "number" ? { ...column, values: column.values.map(change) } : column));
  return { ...table, columns };
}

function without(table: Table, ...names: readonly string[]): Table {
  return { ...table, columns: table.columns.filter((column) => !names.includes(column.name)) };
}

function said(outcome: Outcome, what: RegExp): string {
  const found = outcome.report.sentences.find((sentence) => what.test(sentence));
  expect(found, outcome.report.sentences.join("\n")).toBeDefined();
  return found!;
}

function checkRefused(table: Table, code: string, values: OptionValues = {}): void {
  expect(refusal(standardAir, table, values)).toEqual([code]);
}

/** The message and the hint of the only refusal. */
function refusedInWords(table: Table, values: OptionValues = {}): string {
  const result = standardAir.run(table, [{ kind: "options", values }], context());
  if (result.type !== "refused") throw new Error("it was not refused");
  const position = { line: 1, column: 1 };
  return result.problems.map((each) => each.make({ start: position, end: position })).map(({ message, hint }) => `${message}: ${hint}`).join("\n");
}

test("shots moved to the air of another day are those that the same launches give there", () => {
  const [from, there] = [days([{ air: cold }]), days([{ air: thin }])];
  const moved = runVerb(standardAir, from, { temperature: thin.temperature!, altitude: thin.altitude!, humidity: thin.humidity! }).table;
  for (const name of flightColumns) numbers(there, name).forEach((value, row) => expect(numbers(moved, name)[row], name).toBeCloseTo(value, 3));
  for (const name of ["ball_speed", "spin_axis", "shot"]) expect(numbers(moved, name)).toEqual(numbers(from, name));
});

test("a session in cold air and one in thin air: different before, within the fits' spread after", () => {
  // Balls are flown by the second fit and moved by the first, as a real ball is by neither.
  const both = days([{ air: cold, fit: fergusonFit }, { air: thin, fit: fergusonFit }]);
  const byDay = (table: Table): number => {
    const { rows } = runVerb(describe, table, { of: "carry", by: "session" });
    return (rows[1]!["mean"] as number) - (rows[0]!["mean"] as number);
  };
  const verdictOn = (table: Table) => runVerb(compare, table, { of: "carry", margin: { value: 3, unit: "yd" } }).report.sentences.join("\n");
  expect(byDay(both)).toBeGreaterThan(20);
  // The heads are 9 yd apart in one air and 13 in the other.
  expect(verdictOn(both)).toMatch(/^Undecided, since the heads do not differ alike in all sessions: .*; 9\.\d+ yd in s1 and 12\.\d+ yd in s2\./);
  expect(said(runVerb(compare, both, { of: "carry" }), /different air/)).toBe(
    "Carry is of different air, and nothing was moved: 1.268 kg/m³ in s1 and 0.984 kg/m³ in s2. Part of a difference between sessions is the air's: use standardAir() first.",
  );
  const moved = runVerb(standardAir, both, {});
  const spread = numbers(moved.table, "carry_spread");
  expect(Math.abs(byDay(moved.table))).toBeLessThan(Math.max(...spread.slice(0, 48)) + Math.max(...spread.slice(48)));
  const sentences = verdictOn(moved.table);
  expect(sentences).toMatch(/Different by more than the margin of 3 yd/);
  expect(sentences).not.toContain("different air");
  expect(sentences).toContain("Carry is in standard air at sea level (1.225 kg/m³), moved there by the model of flight.");
});

test("there and back again gives the numbers again, and the session is as it was hit", () => {
  const from = days([{ air: thin }]);
  const there = runVerb(standardAir, from, { air: "ball test" }).table;
  expect(there.sessions[0]!.movedTo).toEqual({ name: "the air of ball tests", air: standardAirs["ball test"] });
  const back = runVerb(standardAir, there, { air: "s1" }).table;
  for (const name of flightColumns) numbers(from, name).forEach((value, row) => expect(Math.abs(numbers(back, name)[row]! - value), name).toBeLessThan(1e-9));
  expect(back.sessions).toEqual(from.sessions);
  expect(Math.max(...numbers(back, "carry_spread"))).toBeLessThan(1e-9);
});

test("two moves are one: the same numbers, and the spread of the whole way", () => {
  const from = days([{ air: thin }]);
  const once = runVerb(standardAir, from, {}).table;
  const twice = runVerb(standardAir, runVerb(standardAir, from, { air: "ball test" }).table, {}).table;
  for (const name of [...flightColumns, "carry_spread"]) numbers(once, name).forEach((value, row) => expect(numbers(twice, name)[row], name).toBeCloseTo(value, 9));
  expect(twice.columns.filter(({ name }) => name === "carry_spread")).toHaveLength(1);
});

test("the spread is how far the second fit would have moved the carry", () => {
  const table = days([{ air: thin }]);
  const moved = runVerb(standardAir, table, {});
  const launch = launchOf(...(["ball_speed", "launch_angle", "spin_rate", "spin_axis"] as const).map((name) => numbers(table, name)[0]!) as [number, number, number, number]);
  const ratio = (fit: AerodynamicFit) => simulateFlight(launch, { fit }).carry / simulateFlight(launch, { fit, air: airAsHit({ air: thin }).air }).carry;
  expect(numbers(moved.table, "carry_spread")[0]).toBeCloseTo(numbers(table, "carry")[0]! * Math.abs(ratio(fergusonFit) - ratio(naruoFit)), 6);
  const names = moved.table.columns.map(({ name }) => name);
  expect(names.indexOf("carry_spread")).toBe(names.indexOf("carry") + 1);
  expect(findColumn(moved.table, "carry_spread")).toMatchObject({ unit: "yd" });
  said(moved, /^In this move the two fits of flight differ by \d\.\d\d yd of carry, \d\.\d\d ft of peak height and \d\.\d\d° of descent angle for a typical shot, and by .* at most \(column carry_spread\)\.$/);
});

test("the answer says what was moved where, by how much, and the method names both fits and both airs", () => {
  const { report } = runVerb(standardAir, days([{ air: cold }, { air: thin }]), {});
  expect(report.sentences[0]).toBe("Carry, offline, peak height, descent angle, flight time and landing speed are moved to standard air at sea level (1.225 kg/m³).");
  expect(report.sentences[1]).toMatch(/^s1, hit in 1\.268 kg\/m³: carry 3\.\d yd longer on average; s2, hit in 0\.984 kg\/m³: carry 2\d\.\d yd shorter on average\.$/);
  expect(report.answer).toBe(3);
  for (const part of [naruoFit.name, fergusonFit.name, "1.268 kg/m³, 0.984 kg/m³ and 1.225 kg/m³"]) expect(report.method).toContain(part);
});

test("total is left out, never kept in the old air, and computed columns are said to be as they were", () => {
  const roll = (count: number) => [numberColumn("roll", Array.from({ length: count }, () => 5), "yd", "computed")];
  const outcome = runVerb(standardAir, days([{ air: cold }], roll), {});
  expect(findColumn(outcome.table, "total")).toBeUndefined();
  expect(runVerb(standardAir, { ...days([{ air: cold }]), groupedBy: ["head", "total"] }, {}).table.groupedBy).toEqual(["head"]);
  said(outcome, /^Total is left out: how far a ball runs depends on the turf/);
  said(outcome, /^Left as it was: roll\.$/);
});

test("shots without a complete launch, and slow ones, lose their flight and are counted by head", () => {
  const table = edited(edited(days([{ air: cold }]), "spin_rate", (value, row) => (row < 2 ? Number.NaN : value)), "ball_speed", (value, row) => (row === 5 ? 60 : value));
  const outcome = runVerb(standardAir, table, {});
  for (const name of [...flightColumns, "carry_spread"]) expect(numbers(outcome.table, name).map(Number.isNaN).flatMap((isMissing, row) => (isMissing ? [row] : []))).toEqual([0, 1, 5]);
  said(outcome, /^Without a complete launch \(ball speed, launch angle, spin rate\) and so without a flight in other air: 2 of 24 shots of Wren\.$/);
  said(outcome, /^Slower than 67 mph off the face, where neither fit was measured, and so without a flight in other air: 1 of 24 shots of Heron\.$/);
});

test("a missing carry stays missing and is filled by no simulation", () => {
  const moved = runVerb(standardAir, edited(days([{ air: cold }]), "carry", (value, row) => (row === 3 ? Number.NaN : value)), {});
  expect([numbers(moved.table, "carry")[3], numbers(moved.table, "offline")[3]]).toEqual([Number.NaN, Number.NaN]);
  expect(numbers(moved.table, "peak_height")[3]).not.toBeNaN();
  said(moved, /^Without offline in other air, since start direction or carry is missing: 1 of 24 shots of Heron\.$/);
});

test("without a spin axis the carry moves all the same, and the curve by the ratio of small curves", () => {
  const table = days([{ air: cold }]);
  const [known, unknown] = [runVerb(standardAir, table, {}), runVerb(standardAir, without(table, "spin_axis"), {})];
  // A tilt of up to 10° changes the ratio of carries by far less than the fits differ.
  for (const name of ["carry", "offline"]) numbers(known.table, name).forEach((value, row) => expect(Math.abs(numbers(unknown.table, name)[row]! - value), name).toBeLessThan(0.06));
  said(unknown, /^The table has no spin axis, which is taken as level\.$/);
  said(runVerb(standardAir, edited(table, "spin_axis", (value, row) => (row === 0 ? Number.NaN : value)), {}), /^The spin axis is taken as level where it is missing: 1 of 24 shots of Wren\.$/);
});

test("without a start direction all of offline counts as curve, and that is said", () => {
  const table = without(days([{ air: thin }]), "start_direction");
  const moved = runVerb(standardAir, table, {});
  said(moved, /^The table has no start direction: balls are taken to start straight/);
  expect(moved.report.sentences.join()).not.toContain("Without offline");
  const missing = runVerb(standardAir, edited(days([{ air: thin }]), "start_direction", (value, row) => (row === 0 ? Number.NaN : value)), {});
  said(missing, /^Without offline in other air.*: 1 of 24 shots of Wren\.$/);
});

test("a left-hander's shots mirrored are the mirror image in other air as well", () => {
  const table = days([{ air: thin }]);
  const mirror = (from: Table): Table => ["offline", "spin_axis", "start_direction"].reduce((turned, name) => edited(turned, name, (value) => -value), from);
  const moved = runVerb(standardAir, mirror(table), {}).table;
  numbers(mirror(runVerb(standardAir, table, {}).table), "offline").forEach((value, row) => expect(numbers(moved, "offline")[row]).toBeCloseTo(value, 9));
});

test("a session that is in that air already stays as it is to the last digit, incomplete launches too", () => {
  const table = edited(days([{ air: cold }, { air: thin }]), "spin_rate", (value, row) => (row === 0 ? Number.NaN : value));
  const outcome = runVerb(standardAir, table, { air: "s1" });
  for (const name of flightColumns) expect(numbers(outcome.table, name).slice(0, 48)).toEqual(numbers(table, name).slice(0, 48));
  expect(outcome.table.sessions.map((session) => session.movedTo?.name)).toEqual([undefined, "the air of s1"]);
  said(outcome, /^s1, hit in 1\.268 kg\/m³: nothing moves; s2, /);
});

test("values set aside can be put back in the new air, those among them that need it to be moved", () => {
  const whole = days([{ air: cold }]);
  const putBack: readonly PutBackValue[] = [
    { shot: 2, column: "carry", value: numbers(whole, "carry")[1]! * 0.9144, unit: "m" },
    { shot: 4, column: "spin_rate", value: numbers(whole, "spin_rate")[3]!, unit: "rpm" },
    { shot: 4, column: "total", value: 170, unit: "yd" },
    { shot: 6, column: "club_speed", value: 90, unit: "mph" },
  ];
  const table = [["carry", 1], ["spin_rate", 3]].reduce((each, [name, at]) => edited(each, name as string, (value, row) => (row === at ? Number.NaN : value)), days([{ air: cold, session: { putBack } }]));
  const [moved, wanted] = [runVerb(standardAir, table, {}).table, runVerb(standardAir, whole, {}).table];
  expect(numbers(moved, "carry")[3]).toBeNaN();
  const after = moved.sessions[0]!.putBack!;
  expect(after.map(({ shot, column }) => `${shot} ${column}`)).toEqual(
    ["2 carry", "2 offline", "4 spin_rate", ...["carry", "offline", "peak_height", "descent_angle", "flight_time", "landing_speed"].map((name) => `4 ${name}`), "6 club_speed"],
  );
  for (const { shot, column, value, unit } of after.filter((each) => (flightColumns as readonly string[]).includes(each.column))) {
    expect(value, column).toBeCloseTo(numbers(wanted, column)[shot - 1]!, 9);
    expect(unit).toBe((findColumn(wanted, column) as { unit: unknown }).unit);
  }
});

test("a carry in standard air already, or in air that is not known, is refused with what to write", () => {
  expect(refusedInWords(days([{ air: cold, session: { carryIs: "in standard air" } }]))).toMatch(/"s1" says that its carry is in standard air already; moved a second time it would be wrong: .*carry_is: as played in s1\.session\.yaml/);
  expect(refusedInWords(days([{ air: cold, session: { carryIs: "unknown" } }]))).toMatch(/does not say which air its carry is for.*: state it in s1\.session\.yaml: carry_is: as played/);
  expect(refusedInWords(days([{ air: { temperature: cold.temperature! } }]))).toMatch(/it states no pressure or altitude: state it in s1\.session\.yaml: air: \{ temperature: 21 degC/);
  expect(refusedInWords(days([{ air: {} }]))).toMatch(/it states no temperature and no pressure or altitude/);
});

test("of several sessions none is moved when one cannot be, unless it has no shot here", () => {
  const table = days([{ air: cold }, { air: thin, session: { carryIs: "unknown" } }]);
  checkRefused(table, "trade.carry-air-unknown");
  expect(refusedInWords(table)).toContain('"s2"');
  const first = { ...table, rowCount: 48, columns: table.columns.map((column) => (column.kind === "text" ? { ...column, codes: column.codes.slice(0, 48) } : { ...column, values: column.values.slice(0, 48) }) as Column) };
  expect(runVerb(standardAir, first, {}).table.rowCount).toBe(48);
  checkRefused(without(days([{ air: cold }, { air: thin }]), "session"), "trade.no-session-column");
});

test("air is told one way, of conditions that air can have, by a name that is known", () => {
  const table = days([{ air: cold }]);
  const warm = { value: 21, unit: "degC" } as const;
  checkRefused(table, "trade.air-told-twice", { air: "sea level", temperature: warm });
  checkRefused(table, "trade.air-without-temperature", { pressure: { value: 1009, unit: "hPa" } });
  checkRefused(table, "trade.pressure-and-altitude", { temperature: warm, pressure: { value: 1009, unit: "hPa" }, altitude: { value: 300, unit: "m" } });
  checkRefused(table, "trade.impossible-air", { temperature: { value: 210, unit: "degC" } });
  checkRefused(table, "trade.impossible-air", { temperature: warm, humidity: { value: 120, unit: "%" } });
  checkRefused(table, "trade.no-such-air", { air: "moon" });
  expect(refusedInWords(table, { air: "moon" })).toContain("sea level, ball test or s1");
  expect(inferredProblems(standardAir, table, { air: "sea level", temperature: warm })).toEqual(["trade.air-told-twice"]);
  checkRefused(days([{ air: cold }, { air: {} }]), "trade.air-not-stated", { air: "s1" });
  const alone = runVerb(standardAir, table, { temperature: warm });
  expect(alone.report.sentences[0]).toContain("air of 21 °C and the pressure of sea level (1.19");
});

test("a table without launch, without flight, or of summaries is refused", () => {
  const table = days([{ air: cold }]);
  checkRefused(without(table, "spin_rate", "launch_angle"), "trade.no-launch");
  expect(inferredProblems(standardAir, without(table, "spin_rate"), {})).toEqual(["trade.no-launch"]);
  checkRefused(without(table, ...flightColumns), "trade.nothing-in-air");
  checkRefused({ ...table, sessions: [], behind: table.sessions }, "trade.not-shots");
  const noCarry = runVerb(standardAir, without(table, "carry", "offline"), {});
  expect(findColumn(noCarry.table, "carry_spread")).toBeUndefined();
  said(noCarry, /^In this move the two fits of flight differ by \d\.\d\d ft of peak height and /);
});

test("a pressure that can hardly be that of the place is pointed out, and humidity that is not stated", () => {
  const reduced = { temperature: { value: 25, unit: "degC" }, pressure: { value: 1013, unit: "hPa" }, altitude: { value: 1500, unit: "m" } } as const;
  said(runVerb(standardAir, days([{ air: reduced }]), {}), /^The pressure of s1 is taken as that of the place, though at its altitude 846 hPa is usual/);
  said(runVerb(standardAir, days([{ air: reduced }]), {}), /^Humidity is not stated in s1 and taken as 50 %\.$/);
  expect(runVerb(standardAir, days([{ air: cold }]), {}).report.sentences.join()).not.toMatch(/pressure of s1|Humidity/);
});

test("one session is never in two airs in one table", () => {
  const table = days([{ air: cold }]);
  const moved = runVerb(standardAir, table, {}).table;
  const codes = (result: ReturnType<typeof concat.run>) => (result.type === "refused" ? result.problems.map((each) => each.make({ start: { line: 1, column: 1 }, end: { line: 1, column: 1 } }).code) : []);
  expect(codes(concat.run(table, [{ kind: "table", table: moved }], context()))).toEqual(["trade.two-airs"]);
  expect(codes(join.run(moved, [{ kind: "table", table }, { kind: "columns", names: ["shot"] }], context()))).toEqual(["trade.two-airs"]);
  expect(codes(concat.run(moved, [{ kind: "table", table: moved }], context()))).toEqual([]);
});

test("the table that is moved is not changed", () => {
  const table = days([{ air: cold }]);
  const before = JSON.stringify(table.columns.map((column) => (column.kind === "text" ? [...column.codes] : [...column.values])));
  runVerb(standardAir, table, {});
  expect(JSON.stringify(table.columns.map((column) => (column.kind === "text" ? [...column.codes] : [...column.values])))).toBe(before);
});
