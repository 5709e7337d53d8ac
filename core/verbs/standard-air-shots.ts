import { leastLaunchSpeed } from "../flight/aerodynamics";
import type { Air } from "../flight/air";
import type { AirChange } from "../flight/other-air";
import { airChange, curveOf } from "../flight/other-air";
import type { ShotColumn } from "../table/shot-columns";
import type { Column, NumberColumn } from "../table/table";
import type { Unit } from "../units";
import { convert, isConvertible } from "../units";

/** What of a flight is moved to other air, each with the unit in which that is done. */
export const movedColumns = {
  carry: "m",
  offline: "m",
  peak_height: "m",
  descent_angle: "rad",
  flight_time: "s",
  landing_speed: "m/s",
} as const satisfies Partial<Record<ShotColumn, Unit>>;

/** A column that is moved. */
export type MovedColumn = keyof typeof movedColumns;

/** What a flight is simulated from, each with its SI unit. */
const launchColumns = {
  ball_speed: "m/s",
  launch_angle: "rad",
  spin_rate: "rad/s",
  start_direction: "rad",
  spin_axis: "rad",
} as const satisfies Partial<Record<ShotColumn, Unit>>;

/** Columns without which no flight can be simulated. */
export const neededForFlight = ["ball_speed", "launch_angle", "spin_rate"] as const;

const readingUnits: Readonly<Record<string, Unit>> = { ...movedColumns, ...launchColumns };

/** The readings of one shot in SI: absent without a column, `NaN` where missing. */
export type ShotReadings = Readonly<Partial<Record<MovedColumn | keyof typeof launchColumns, number>>>;

/** One shot in other air. */
export interface MovedShot {
  readonly readings: ShotReadings;
  /** What the other air does to it; `null` where that is not known. */
  readonly change: AirChange | null;
  /** Why its flight is missing: a part of the launch is, or it is too slow for the model. */
  readonly unmoved: "incomplete" | "slow" | null;
}

/**
 * The tilt of the spin axis, in radians, that stands in for a smaller one or a missing one. A curve goes by the ratio of
 * two simulated curves, which hardly depends on the tilt but needs one; so small a tilt costs no carry.
 */
const leastTilt = (0.1 * Math.PI) / 180;

const unchanged: AirChange = {
  carryRatio: 1,
  peakRatio: 1,
  curveRatio: 1,
  timeRatio: 1,
  descentDifference: 0,
  landingSpeedRatio: 1,
  spread: { carryRatio: 0, peakRatio: 0, descentDifference: 0 },
};

/** True for numbers that are moved, or that flights are simulated from, in a unit that fits. */
export function isReading(column: { readonly name: string; readonly kind: string; readonly unit?: Unit | null }): boolean {
  const { name, kind, unit = null } = column;
  return kind === "number" && unit !== null && Object.hasOwn(readingUnits, name) && isConvertible(unit, readingUnits[name]!);
}

/** True for a reading that is moved. */
export function isMoved(column: { readonly name: string; readonly kind: string; readonly unit?: Unit | null }): boolean {
  return isMovedName(column.name) && isReading(column);
}

/** True for the name of a column that is moved. */
export function isMovedName(name: string): name is MovedColumn {
  return Object.hasOwn(movedColumns, name);
}

/** The columns of readings among `columns`. */
export function readingColumns(columns: readonly Column[]): readonly NumberColumn[] {
  return columns.filter((column): column is NumberColumn => isReading(column));
}

/** The readings of a row in SI. */
export function readingsAt(columns: readonly NumberColumn[], row: number): ShotReadings {
  return Object.fromEntries(columns.map((column) => [column.name, toSI(column.name, column.values[row]!, column.unit!)]));
}

/** A reading in SI, from its unit. */
export function toSI(name: string, value: number, unit: Unit): number {
  return convert(value, unit, readingUnits[name]!);
}

/** A reading in its unit, from SI. */
export function fromSI(name: string, value: number, unit: Unit): number {
  return convert(value, readingUnits[name]!, unit);
}

/**
 * A shot's flight in other air.
 *
 * Carry, peak height, time and landing speed by the ratio of two simulated flights of its own launch, descent angle by
 * their difference. Of offline, the part on the line the ball started on goes with the carry, and the curve with the
 * simulated curves. A missing spin axis counts as level. Without a column of start directions all of offline counts as
 * curve; where only the shot's own is missing, so is its offline. In the same air the shot stays as it is.
 */
export function inOtherAir(readings: ShotReadings, from: Air, to: Air): MovedShot {
  if (isSameAir(from, to)) return { readings, change: unchanged, unmoved: null };
  const { ball_speed: speed = Number.NaN, launch_angle: launchAngle = Number.NaN, spin_rate: spinRate = Number.NaN } = readings;
  const tilt = knownOr0(readings.spin_axis);
  const spinAxis = Math.abs(tilt) < leastTilt ? (tilt < 0 ? -leastTilt : leastTilt) : tilt;
  if (speed < leastLaunchSpeed) return { readings: withoutFlight(readings), change: null, unmoved: "slow" };
  const change = airChange({ speed, launchAngle, startDirection: knownOr0(readings.start_direction), spinRate, spinAxis }, from, to);
  if (Number.isNaN(change.carryRatio + change.spread.carryRatio)) return { readings: withoutFlight(readings), change: null, unmoved: "incomplete" };
  return { readings: changed(readings, change), change, unmoved: null };
}

function knownOr0(angle: number | undefined): number {
  return angle === undefined || Number.isNaN(angle) ? 0 : angle;
}

/** True where no flight tells one air from the other. */
export function isSameAir(a: Air, b: Air): boolean {
  return a.density === b.density && a.viscosity === b.viscosity;
}

function changed(readings: ShotReadings, change: AirChange): ShotReadings {
  const { carry, offline, peak_height, descent_angle, flight_time, landing_speed, start_direction } = readings;
  const times = (name: MovedColumn, value: number | undefined, ratio: number): ShotReadings => (value === undefined ? {} : { [name]: value * ratio });
  return {
    ...readings,
    ...times("carry", carry, change.carryRatio),
    ...times("peak_height", peak_height, change.peakRatio),
    ...times("flight_time", flight_time, change.timeRatio),
    ...times("landing_speed", landing_speed, change.landingSpeedRatio),
    ...(descent_angle === undefined ? {} : { descent_angle: descent_angle + change.descentDifference }),
    ...(offline === undefined ? {} : { offline: movedOffline(offline, carry, start_direction, change) }),
  };
}

function movedOffline(offline: number, carry: number | undefined, start: number | undefined, { carryRatio, curveRatio }: AirChange): number {
  if (start === undefined) return offline * curveRatio;
  const curve = curveOf(carry ?? Number.NaN, offline, start);
  return (offline - curve) * carryRatio + curve * curveRatio;
}

function withoutFlight(readings: ShotReadings): ShotReadings {
  const lost = (Object.keys(movedColumns) as MovedColumn[]).filter((name) => readings[name] !== undefined);
  return { ...readings, ...Object.fromEntries(lost.map((name) => [name, Number.NaN])) };
}
