import { airOf } from "../../core/flight/air";
import type { ExportColumn } from "./export-table";
import { averageField, delimitedLine, fieldOf } from "./export-table";
import { celsius, degree, foot, millimetre, mph, rpm, yard } from "./golf-units";
import type { Misreads, Reading } from "./monitor";
import { readingErrors, readShot, withCalculatedFlight } from "./monitor";
import { decimal, sided } from "./number-text";
import { randomOf } from "./random";
import type { TrueShot } from "./session-plan";
import { hitSession, stintsOf } from "./session-plan";
import { testerOne } from "./tester";

/** 21 °C, 1009 hPa, 45 %: as the session file states it. */
const air = airOf({ temperature: 21 + celsius, pressure: 100_900, humidity: 0.45 });

/** Two warm-up shots a head, then eight passes of four shots a head; no head ends one pass and begins the next. */
const stints = [...stintsOf("WHP", 2), ...stintsOf("WHP HPW PWH WPH PHW HWP WHP HPW", 4)];

/** Misreads put in on purpose; the session file sets aside the first two and leaves the face as it is. */
export const springBayMisreads: Misreads = {
  clubSpeed: { 57: 0.86 },
  spinRate: { 88: 2 },
  face: { 75: -7.5 * degree },
  clubUnseen: [21, 49, 93],
};

/** Shots booked under the wrong head, since nobody told the monitor that the club had changed; the session corrects them. */
export const springBayWrongHead: Readonly<Record<number, string>> = { 47: "Wren", 48: "Wren" };

const notes: Readonly<Record<number, string>> = {
  5: "still stiff",
  20: "thin, felt it in the hands",
  66: 'called it "soft" before looking',
  101: "tired, last stint",
};

const tenth = (value: number): string => decimal(value, 1);
const tenthSided = (value: number): string => sided(value, 1);

const columns: readonly ExportColumn[] = [
  { name: "No", unit: "", text: (r) => String(r.shot) },
  { name: "Club", unit: "", text: (r) => springBayWrongHead[r.shot] ?? r.head },
  { name: "Bay", unit: "", text: () => "2" },
  { name: "Club speed", unit: "mph", value: (r) => r.clubSpeed, size: mph, write: tenth },
  { name: "Attack", unit: "deg", value: (r) => r.attack, size: degree, write: tenth },
  { name: "Path", unit: "deg", value: (r) => r.path, size: degree, write: tenthSided },
  { name: "Face", unit: "deg", value: (r) => r.face, size: degree, write: tenthSided },
  { name: "Loft at impact", unit: "deg", value: (r) => r.loft, size: degree, write: tenth },
  { name: "Ball speed", unit: "mph", value: (r) => r.launch.speed, size: mph, write: tenth },
  { name: "Launch", unit: "deg", value: (r) => r.launch.launchAngle, size: degree, write: tenth },
  { name: "Start", unit: "deg", value: (r) => r.launch.startDirection, size: degree, write: tenthSided },
  { name: "Spin", unit: "rpm", value: (r) => r.launch.spinRate, size: rpm, write: (value) => decimal(value, 0) },
  { name: "Axis", unit: "deg", value: (r) => r.launch.spinAxis, size: degree, write: tenthSided },
  { name: "Carry", unit: "yd", value: (r) => r.flight.carry, size: yard, write: tenth },
  { name: "Total", unit: "yd", value: (r) => r.total, size: yard, write: tenth },
  { name: "Side", unit: "yd", value: (r) => r.flight.offline, size: yard, write: tenthSided },
  { name: "Height", unit: "ft", value: (r) => r.flight.peakHeight, size: foot, write: tenth },
  { name: "Descent", unit: "deg", value: (r) => r.flight.descentAngle, size: degree, write: tenth },
  { name: "Face X", unit: "mm", value: (r) => r.strike?.x ?? null, size: millimetre, write: tenth },
  { name: "Face Y", unit: "mm", value: (r) => r.strike?.y ?? null, size: millimetre, write: tenth },
  { name: "Note", unit: "", text: (r) => notes[r.shot] ?? "" },
];

/** The shots of the indoor session as they were, and as its camera read them, in hitting order. */
export function hitSpringBay(seed: bigint): { readonly shots: readonly TrueShot[]; readonly readings: readonly Reading[] } {
  const random = randomOf(seed);
  const shots = hitSession(stints, testerOne, { air, wind: null }, random);
  const noise = random.fork();
  const readings = shots.map((shot) => withCalculatedFlight(readShot(shot, readingErrors, springBayMisreads, noise), air));
  return { shots, readings };
}

/**
 * The indoor session's export: commas, points, sides as letters, a lone minus for a missing reading, a row of units at
 * the top, a blank row and a row of averages at the end.
 */
export function springBayExport(seed: bigint): string {
  const { readings } = hitSpringBay(seed);
  const rows = [
    columns.map(({ name }) => name),
    columns.map(({ unit }) => unit),
    ...readings.map((reading) => columns.map((column) => fieldOf(column, reading, "\u2212"))),
    columns.map(() => ""),
    columns.map((column) => (column.name === "No" ? "Average" : averageField(column, readings))),
  ];
  return rows.map((fields) => `${delimitedLine(fields, ",")}\n`).join("");
}
