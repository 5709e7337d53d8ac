import { airOf } from "../../core/flight/air";
import type { Launch } from "../../core/flight/launch";
import type { ExportColumn } from "./export-table";
import { delimitedLine, fieldOf } from "./export-table";
import { celsius, degree, millimetre, mph, rpm, yard } from "./golf-units";
import type { Reading } from "./monitor";
import { readingErrors, readShot, withCalculatedFlight } from "./monitor";
import { decimal } from "./number-text";
import { randomOf } from "./random";
import type { TrueShot } from "./session-plan";
import { hitSession, stintsOf } from "./session-plan";
import type { Tester } from "./tester";

/** 19 °C, 1016 hPa, 40 %: as the session file states it. */
const air = airOf({ temperature: 19 + celsius, pressure: 101_600, humidity: 0.4 });

/** A left-hander who was asked to hit all over the face, so that it can be seen what is lost off the centre. */
export const testerTwo: Tester = {
  clubSpeed: 84 * mph,
  tiring: 0.5 * mph,
  strikes: {
    Wren: { x: [1, 10], y: [0, 5] },
    Heron: { x: [1, 10], y: [0, 5] },
    Plover: { x: [1, 10], y: [0, 5] },
  },
};

/** Two warm-up shots a head, then eight passes of five shots a head. */
const stints = [...stintsOf("WH", 2), ...stintsOf("HW HW HW HW HW HW HW HW", 5)];

const tenth = (value: number): string => decimal(value, 1);

const columns: readonly ExportColumn[] = [
  { name: "n", unit: "", text: (r) => String(r.shot) },
  { name: "iron", unit: "", text: (r) => r.head },
  { name: "club mph", unit: "", value: (r) => r.clubSpeed, size: mph, write: tenth },
  { name: "dip deg", unit: "", value: (r) => r.attack, size: degree, write: tenth },
  { name: "path deg", unit: "", value: (r) => r.path, size: degree, write: tenth },
  { name: "face deg", unit: "", value: (r) => r.face, size: degree, write: tenth },
  { name: "loft deg", unit: "", value: (r) => r.loft, size: degree, write: tenth },
  { name: "ball mph", unit: "", value: (r) => r.launch.speed, size: mph, write: tenth },
  { name: "up deg", unit: "", value: (r) => r.launch.launchAngle, size: degree, write: tenth },
  { name: "start deg", unit: "", value: (r) => r.launch.startDirection, size: degree, write: tenth },
  { name: "spin rpm", unit: "", value: (r) => r.launch.spinRate, size: rpm, write: (value) => decimal(value, 0) },
  { name: "tilt deg", unit: "", value: (r) => r.launch.spinAxis, size: degree, write: tenth },
  { name: "carry yd", unit: "", value: (r) => r.flight.carry, size: yard, write: tenth },
  { name: "side yd", unit: "", value: (r) => r.flight.offline, size: yard, write: tenth },
  { name: "peak yd", unit: "", value: (r) => r.flight.peakHeight, size: yard, write: tenth },
  { name: "fall deg", unit: "", value: (r) => r.flight.descentAngle, size: degree, write: tenth },
  { name: "toe mm", unit: "", value: (r) => r.strike?.x ?? null, size: millimetre, write: tenth },
  { name: "up mm", unit: "", value: (r) => r.strike?.y ?? null, size: millimetre, write: tenth },
];

/** The left-hander's shots as a right-hander in a mirror would hit them, and what the camera read, in hitting order. */
export function hitWinterBay(seed: bigint): { readonly shots: readonly TrueShot[]; readonly readings: readonly Reading[] } {
  const random = randomOf(seed);
  const shots = hitSession(stints, testerTwo, { air, wind: null }, random);
  const noise = random.fork();
  return { shots, readings: shots.map((shot) => mirrored(withCalculatedFlight(readShot(shot, readingErrors, {}, noise), air))) };
}

/** The reading with left and right exchanged: a left-hander's. Toe and heel stay what they are. */
function mirrored(reading: Reading): Reading {
  const { launch, flight, path, face } = reading;
  const other: Launch = { ...launch, startDirection: -launch.startDirection, spinAxis: -launch.spinAxis };
  return {
    ...reading,
    launch: other,
    flight: { ...flight, offline: -flight.offline },
    path: path === null ? null : -path,
    face: face === null ? null : -face,
  };
}

/** The export of the left-hander's session: commas, signs for sides, units in the header. */
export function winterBayExport(seed: bigint): string {
  const rows = [columns.map(({ name }) => name), ...hitWinterBay(seed).readings.map((reading) => columns.map((column) => fieldOf(column, reading, "")))];
  return rows.map((fields) => `${delimitedLine(fields, ",")}\n`).join("");
}
