import { airOf } from "../../core/flight/air";
import type { ExportColumn } from "./export-table";
import { averageField, delimitedLine, fieldOf } from "./export-table";
import { celsius, degree, kilometreAnHour, millimetre, rpm } from "./golf-units";
import type { HeadName } from "./heads";
import type { Misreads, Reading } from "./monitor";
import { readingErrors, readShot } from "./monitor";
import { commaDecimal } from "./number-text";
import { randomOf } from "./random";
import type { TrueShot } from "./session-plan";
import { hitSession, stintsOf } from "./session-plan";
import { testerOne } from "./tester";

/** 8 °C, 1004 hPa, 82 %: as the session file states it. */
const air = airOf({ temperature: 8 + celsius, pressure: 100_400, humidity: 0.82 });

/** Two warm-up shots a head, then eight passes of four shots a head. */
const stints = [...stintsOf("HP", 2), ...stintsOf("HP HP HP HP HP HP HP HP", 4)];

/** Misreads put in on purpose; the session file sets aside the spin and leaves the club speed as it is. */
export const autumnRangeMisreads: Misreads = { clubSpeed: { 41: 0.85 }, spinRate: { 26: 0.5 }, clubUnseen: [9, 60] };

const notes: Readonly<Record<number, string>> = { 1: "cold hands; thin", 38: "gust" };

const tenth = (value: number): string => commaDecimal(value, 1);

const columns: readonly ExportColumn[] = [
  { name: "Clock", unit: "", text: (r) => clock(r.shot) },
  { name: "Iron", unit: "", text: (r) => r.head },
  { name: "Head [km/h]", unit: "", value: (r) => r.clubSpeed, size: kilometreAnHour, write: tenth },
  { name: "Dip [°]", unit: "", value: (r) => r.attack, size: degree, write: tenth },
  { name: "Path [°]", unit: "", value: (r) => r.path, size: degree, write: tenth },
  { name: "Face [°]", unit: "", value: (r) => r.face, size: degree, write: tenth },
  { name: "Loft [°]", unit: "", value: (r) => r.loft, size: degree, write: tenth },
  { name: "Ball [km/h]", unit: "", value: (r) => r.launch.speed, size: kilometreAnHour, write: tenth },
  { name: "Up [°]", unit: "", value: (r) => r.launch.launchAngle, size: degree, write: tenth },
  { name: "Off line [°]", unit: "", value: (r) => r.launch.startDirection, size: degree, write: tenth },
  { name: "Spin [1/min]", unit: "", value: (r) => r.launch.spinRate, size: rpm, write: (value) => commaDecimal(value, 0) },
  { name: "Tilt [°]", unit: "", value: (r) => r.launch.spinAxis, size: degree, write: tenth },
  { name: "First bounce [m]", unit: "", value: (r) => r.flight.carry, size: 1, write: tenth },
  { name: "At rest [m]", unit: "", value: (r) => r.total, size: 1, write: tenth },
  { name: "Aside [m]", unit: "", value: (r) => r.flight.offline, size: 1, write: tenth },
  { name: "Top [m]", unit: "", value: (r) => r.flight.peakHeight, size: 1, write: tenth },
  { name: "Fall [°]", unit: "", value: (r) => r.flight.descentAngle, size: degree, write: tenth },
  { name: "In the air [s]", unit: "", value: (r) => r.flight.flightTime, size: 1, write: (value) => commaDecimal(value, 2) },
  { name: "Toeward [mm]", unit: "", value: (r) => r.strike?.x ?? null, size: millimetre, write: tenth },
  { name: "Upward [mm]", unit: "", value: (r) => r.strike?.y ?? null, size: millimetre, write: tenth },
  { name: "Remark", unit: "", text: (r) => notes[r.shot] ?? "" },
];

/** The shots of the outdoor session as they were, and as its radar read them, in hitting order. */
export function hitAutumnRange(seed: bigint): { readonly shots: readonly TrueShot[]; readonly readings: readonly Reading[] } {
  const random = randomOf(seed);
  const wind = { downrange: -1.2, right: 0.8, gusts: 0.6 };
  const shots = hitSession(stints, testerOne, { air, wind }, random);
  const noise = random.fork();
  return { shots, readings: shots.map((shot) => readShot(shot, readingErrors, autumnRangeMisreads, noise)) };
}

/**
 * The outdoor session's export of one head: semicolons, decimal commas, units in the header, nothing for a missing
 * reading, a blank line and a row of averages at the end. The Heron's is in hitting order with LF; the Plover's has the
 * newest shot first, a byte order mark and CRLF, as if from another version of the monitor.
 */
export function autumnRangeExport(seed: bigint, head: HeadName): string {
  const readings = hitAutumnRange(seed).readings.filter((reading) => reading.head === head);
  const other = head === "Plover";
  const rows = [
    columns.map(({ name }) => name),
    ...(other ? readings.toReversed() : readings).map((reading) => columns.map((column) => fieldOf(column, reading, ""))),
    [],
    columns.map((column) => (column.name === "Clock" ? "Average" : averageField(column, readings))),
  ];
  const end = other ? "\r\n" : "\n";
  return `${other ? "\ufeff" : ""}${rows.map((fields) => `${delimitedLine(fields, ";")}${end}`).join("")}`;
}

/** When a shot was hit: 40 s after the one before, a minute more after a change of head. */
function clock(shot: number): string {
  const changes = shot <= 4 ? Math.floor((shot - 1) / 2) : 1 + Math.floor((shot - 1) / 4);
  const seconds = 10 * 3600 + 12 * 60 + 7 + (shot - 1) * 40 + changes * 60;
  const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return parts.map((part) => String(part).padStart(2, "0")).join(":");
}
