import { airOf } from "../../core/flight/air";
import { celsius, degree, foot, millimetre, mph, rpm, yard } from "./golf-units";
import type { Misreads, Reading } from "./monitor";
import { readingErrors, readShot, withCalculatedFlight } from "./monitor";
import { decimal, line, sided } from "./number-text";
import { randomOf } from "./random";
import { hitSession, stintsOf } from "./session-plan";
import { testerOne } from "./tester";

/** 21 °C, 1009 hPa, 45 %: as the session file states it. */
const air = airOf({ temperature: 21 + celsius, pressure: 100_900, humidity: 0.45 });

/** Two warm-up shots a head, then eight passes of four shots a head; no head ends one pass and begins the next. */
const stints = [...stintsOf("WHP", 2), ...stintsOf("WHP HPW PWH WPH PHW HWP WHP HPW", 4)];

const misreads: Misreads = {
  clubSpeed: { 58: 0.86 },
  spinRate: { 88: 2 },
  face: { 75: -7.5 * degree },
  clubUnseen: [21, 49, 93],
};

/** Shots that the monitor booked under the wrong head, because nobody told it that the club had changed. */
const wrongHead: Readonly<Record<number, string>> = { 47: "Wren", 48: "Wren" };

const notes: Readonly<Record<number, string>> = {
  5: "still stiff",
  34: "thin, felt it in the hands",
  66: 'heavy, "mat bounce"',
  101: "tired, last stint",
};

const columns: readonly (readonly [name: string, unit: string, text: (r: Reading) => string, mean: ((r: Reading) => number | null) | null])[] = [
  ["No", "", (r) => String(r.shot), null],
  ["Club", "", (r) => wrongHead[r.shot] ?? r.head, null],
  ["Bay", "", () => "2", null],
  ["Club speed", "mph", ...plain((r) => per(r.clubSpeed, mph), 1)],
  ["Attack", "deg", ...plain((r) => per(r.attack, degree), 1)],
  ["Path", "deg", ...side((r) => per(r.path, degree), 1)],
  ["Face", "deg", ...side((r) => per(r.face, degree), 1)],
  ["Loft at impact", "deg", ...plain((r) => per(r.loft, degree), 1)],
  ["Ball speed", "mph", ...plain((r) => per(r.launch.speed, mph), 1)],
  ["Launch", "deg", ...plain((r) => per(r.launch.launchAngle, degree), 1)],
  ["Start", "deg", ...side((r) => per(r.launch.startDirection, degree), 1)],
  ["Spin", "rpm", ...plain((r) => per(r.launch.spinRate, rpm), 0)],
  ["Axis", "deg", ...side((r) => per(r.launch.spinAxis, degree), 1)],
  ["Carry", "yd", ...plain((r) => per(r.flight.carry, yard), 1)],
  ["Total", "yd", ...plain((r) => per(r.total, yard), 1)],
  ["Side", "yd", ...side((r) => per(r.flight.offline, yard), 1)],
  ["Height", "ft", ...plain((r) => per(r.flight.peakHeight, foot), 1)],
  ["Descent", "deg", ...plain((r) => per(r.flight.descentAngle, degree), 1)],
  ["Face X", "mm", ...plain((r) => per(r.strike?.x ?? null, millimetre), 1)],
  ["Face Y", "mm", ...plain((r) => per(r.strike?.y ?? null, millimetre), 1)],
  ["Note", "", (r) => notes[r.shot] ?? "", null],
];

/** A value in a unit; missing stays missing. */
function per(value: number | null, unit: number): number | null {
  return value === null ? null : value / unit;
}

type Column = [text: (r: Reading) => string, mean: (r: Reading) => number | null];

function plain(value: (r: Reading) => number | null, digits: number): Column {
  return [written(value, (found) => decimal(found, digits)), value];
}

function side(value: (r: Reading) => number | null, digits: number): Column {
  return [written(value, (found) => sided(found, digits)), value];
}

/** The text of a value, a lone minus where the monitor saw nothing. */
function written(value: (r: Reading) => number | null, text: (found: number) => string): (r: Reading) => string {
  return (reading) => {
    const found = value(reading);
    return found === null ? "\u2212" : text(found);
  };
}

/** The readings of the indoor session, in hitting order. */
export function springBayReadings(seed: bigint): Reading[] {
  const random = randomOf(seed);
  const shots = hitSession(stints, testerOne, { air, wind: null }, random);
  const noise = random.fork();
  return shots.map((shot) => withCalculatedFlight(readShot(shot, readingErrors, misreads, noise), air));
}

/** The indoor session's export: commas, sides as letters, a row of units, a blank row and a row of averages at the end. */
export function springBayExport(seed: bigint): string {
  const readings = springBayReadings(seed);
  const average = columns.map(([name, , text, mean]) => {
    if (mean === null) return name === "No" ? "Average" : "";
    const values = readings.map(mean).filter((value) => value !== null);
    const middle = values.reduce((sum, value) => sum + value, 0) / values.length;
    return averageText(text, mean, middle);
  });
  const lines = [
    columns.map(([name]) => name),
    columns.map(([, unit]) => unit),
    ...readings.map((reading) => columns.map(([, , text]) => text(reading))),
    columns.map(() => ""),
    average,
  ];
  return lines.map((fields) => `${line(fields, ",")}\n`).join("");
}
