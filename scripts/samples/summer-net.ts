import { airOf } from "../../core/flight/air";
import type { ExportColumn } from "./export-table";
import { delimitedLine, fieldOf } from "./export-table";
import { celsius, degree, millimetre, mph, rpm, yard } from "./golf-units";
import type { Misreads, Reading } from "./monitor";
import { readingErrors, readShot, withCalculatedFlight } from "./monitor";
import { decimal } from "./number-text";
import { randomOf } from "./random";
import type { TrueShot } from "./session-plan";
import { hitSession, stintsOf } from "./session-plan";
import { testerOne } from "./tester";

/** 26 °C, 900 m above the sea, 35 %: as the session file states it. */
const air = airOf({ temperature: 26 + celsius, altitude: 900, humidity: 0.35 });

/** Two warm-up shots a head, then six passes of five shots a head, every order of the three once; no head ends one pass and begins the next. */
const stints = [...stintsOf("WHP", 2), ...stintsOf("HPW PWH WPH PHW HWP WHP", 5)];

/** First and last shot of the part in which the face reads 3.5° too far closed; it begins and ends inside stints. */
export const summerNetStretch = { from: 46, to: 75 } as const;

/** Misreads put in on purpose; the session file sets none of them aside. */
export const summerNetMisreads = {
  clubSpeed: { 24: 0.86, 85: 1.15 },
  spinRate: { 39: 0.5, 69: 2 },
  face: Object.fromEntries(Array.from({ length: summerNetStretch.to - summerNetStretch.from + 1 }, (_, i) => [summerNetStretch.from + i, -3.5 * degree])),
  startDirection: { 34: 4.5 * degree },
  clubUnseen: [16, 58],
} as const satisfies Misreads;

/** The shot that the camera missed: it showed the one before once more. */
export const summerNetRepeated = 79;

const notes: Readonly<Record<number, string>> = { 36: "thin", 76: "let the blind down, low sun on the faces", 79: "screen did not change?", 96: "very thin, last one" };

const tenth = (value: number): string => decimal(value, 1);

const columns: readonly ExportColumn[] = [
  { name: "Shot", unit: "", text: (r) => String(r.shot) },
  { name: "Head", unit: "", text: (r) => r.head },
  { name: "Ball (mph)", unit: "", value: (r) => r.launch.speed, size: mph, write: tenth },
  { name: "Launch (deg)", unit: "", value: (r) => r.launch.launchAngle, size: degree, write: tenth },
  { name: "Start (deg, right +)", unit: "", value: (r) => r.launch.startDirection, size: degree, write: tenth },
  { name: "Spin (rpm)", unit: "", value: (r) => r.launch.spinRate, size: rpm, write: (value) => decimal(value, 0) },
  { name: "Tilt (deg, right +)", unit: "", value: (r) => r.launch.spinAxis, size: degree, write: tenth },
  { name: "Club (mph)", unit: "", value: (r) => r.clubSpeed, size: mph, write: tenth },
  { name: "Attack (deg)", unit: "", value: (r) => r.attack, size: degree, write: tenth },
  { name: "Path (deg, right +)", unit: "", value: (r) => r.path, size: degree, write: tenth },
  { name: "Face (deg, right +)", unit: "", value: (r) => r.face, size: degree, write: tenth },
  { name: "Loft (deg)", unit: "", value: (r) => r.loft, size: degree, write: tenth },
  { name: "Toe (mm)", unit: "", value: (r) => r.strike?.x ?? null, size: millimetre, write: tenth },
  { name: "Up (mm)", unit: "", value: (r) => r.strike?.y ?? null, size: millimetre, write: tenth },
  { name: "Carry (yd)", unit: "", value: (r) => r.flight.carry, size: yard, write: tenth },
  { name: "Offline (yd, right +)", unit: "", value: (r) => r.flight.offline, size: yard, write: tenth },
  { name: "Peak (yd)", unit: "", value: (r) => r.flight.peakHeight, size: yard, write: tenth },
  { name: "Descent (deg)", unit: "", value: (r) => r.flight.descentAngle, size: degree, write: tenth },
  { name: "Time (s)", unit: "", value: (r) => r.flight.flightTime, size: 1, write: (value) => decimal(value, 2) },
  { name: "Remark", unit: "", text: (r) => notes[r.shot] ?? "" },
];

/** The shots of the session into a net as they were, and as its camera read them, in hitting order. */
export function hitSummerNet(seed: bigint): { readonly shots: readonly TrueShot[]; readonly readings: readonly Reading[] } {
  const random = randomOf(seed);
  const shots = hitSession(stints, testerOne, { air, wind: null }, random);
  const noise = random.fork();
  const read = shots.map((shot) => withCalculatedFlight(readShot(shot, readingErrors, summerNetMisreads, noise), air));
  return { shots, readings: read.map((reading, i) => (reading.shot === summerNetRepeated ? { ...read[i - 1]!, shot: reading.shot } : reading)) };
}

/** The export of the session into a net: tabs, points, units and signs in the header, nothing for a missing reading. */
export function summerNetExport(seed: bigint): string {
  const rows = [columns.map(({ name }) => name), ...hitSummerNet(seed).readings.map((reading) => columns.map((column) => fieldOf(column, reading, "")))];
  return rows.map((fields) => `${delimitedLine(fields, "\t")}\r\n`).join("");
}
