import { aerodynamicFits } from "../flight/aerodynamics";
import type { Launch } from "../flight/launch";
import type { Flight } from "../flight/simulate";
import { flightOfReading } from "./reading-flight";
import { median, medianAbsoluteDeviation } from "../stats/quantile";
import type { ShotColumn } from "../table/shot-columns";
import { headKindAt } from "./head-of-shot";
import type { SessionReadings } from "./session-readings";

/** A column of the flight that a model gives from the launch alone. */
export type FlightColumn = "carry" | "peak_height" | "descent_angle";

/** One reading of the flight beside what the launch of the same shot gives. */
export interface FlightResidual {
  /** What the launch implies, SI: the simulated value, less what all shots of the head share. */
  readonly implied: number;
  /** The reading against that: a logarithm of the ratio for lengths, radians for angles. */
  readonly off: number;
  /** Robust standard deviation of `off` among the heads of one kind: wind, reading errors, balls. */
  readonly scale: number;
}

const fewestOfHead = 8; // shots, for a level of the head's own
const fewest = 8; // shots of a session, without which nothing can be said
const known = new WeakMap<SessionReadings, Map<FlightColumn, readonly FlightResidual[]>>();

/**
 * Every reading of a column beside what its launch gives by the default fit in the session's still air.
 *
 * What all shots of a head share is taken out first: air and wind, the ball, and what the model itself is wrong by for
 * such shots. `NaN` where a part of the launch is missing, where it is slower than the fits were measured for, and
 * throughout for fewer than 8 shots.
 */
export function flightResiduals(readings: SessionReadings, column: FlightColumn): readonly FlightResidual[] {
  const before = known.get(readings) ?? new Map<FlightColumn, readonly FlightResidual[]>();
  known.set(readings, before);
  let found = before.get(column);
  if (found === undefined) {
    found = compareWithLaunch(readings, column);
    before.set(column, found);
  }
  return found;
}

function compareWithLaunch(readings: SessionReadings, column: FlightColumn): readonly FlightResidual[] {
  const values = readings.values(column);
  const flights = Array.from({ length: readings.count }, (_, i) => readings.flight(i));
  const raw = flights.map((flight, i) => (flight?.supported ? difference(column, values?.[i] ?? Number.NaN, simulated(column, flight)) : Number.NaN));
  const levels = levelsOfHeads(readings, raw);
  const off = raw.map((each, i) => each - levels(i));
  const scales = new Map<string, number>();
  const scaleAt = (i: number): number => {
    const kind = headKindAt(readings, i);
    if (!scales.has(kind)) scales.set(kind, medianAbsoluteDeviation(off.filter((_, at) => headKindAt(readings, at) === kind)));
    return scales.get(kind)!;
  };
  return off.map((each, i) => ({ off: each, implied: flights[i]?.supported ? shifted(column, simulated(column, flights[i]), levels(i)) : Number.NaN, scale: scaleAt(i) }));
}

/** The median of a quantity over the shots of each head, over all shots for a head of which few have it; `NaN` for too few. */
export function levelsOfHeads(readings: SessionReadings, values: readonly number[]): (i: number) => number {
  const all = values.filter(Number.isFinite);
  const overall = all.length < fewest ? Number.NaN : median(all);
  const levels = new Map<number, number>();
  return (i) => {
    const head = readings.head[i]!;
    if (!levels.has(head)) {
      const own = values.filter((value, at) => readings.head[at] === head && Number.isFinite(value));
      levels.set(head, own.length < fewestOfHead ? overall : median(own));
    }
    return levels.get(head)!;
  };
}

/** The launch of a shot, with other values in place of those read; level and straight where these two are not in the table. */
export function launchAt(readings: SessionReadings, i: number, instead: Partial<Launch> = {}): Launch {
  const at = (column: ShotColumn): number => readings.values(column)?.[i] ?? Number.NaN;
  const orLevel = (column: ShotColumn): number => (readings.values(column) === null ? 0 : at(column));
  return {
    speed: at("ball_speed"),
    launchAngle: at("launch_angle"),
    startDirection: orLevel("start_direction"),
    spinRate: at("spin_rate"),
    spinAxis: orLevel("spin_axis"),
    ...instead,
  };
}

/**
 * How far reading errors of the launch alone move what it gives, one standard deviation, and how much farther the two fits
 * are apart for this launch than for the usual ones of its kind: in the unit of `FlightResidual.off`.
 */
export function flightDoubt(readings: SessionReadings, column: FlightColumn, i: number): { readonly error: number; readonly model: number } {
  const { air } = readings.air;
  const launch = launchAt(readings, i);
  const flight = flightOfReading(launch, { air });
  const of = (changed: Partial<Launch>): number => difference(column, simulated(column, flightOfReading({ ...launch, ...changed }, { air })), simulated(column, flight));
  const error = Math.hypot(
    of({ speed: launch.speed + readings.error("ball_speed", launch.speed) }),
    of({ launchAngle: launch.launchAngle + readings.error("launch_angle", launch.launchAngle) }),
    of({ spinRate: launch.spinRate + readings.error("spin_rate", launch.spinRate) }),
  );
  return { error, model: Math.abs(betweenFits(readings, column, launch) - betweenFits(readings, column, usualLaunch(readings, i))) };
}

function betweenFits(readings: SessionReadings, column: FlightColumn, launch: Launch): number {
  const [first, second] = aerodynamicFits.map((fit) => simulated(column, flightOfReading(launch, { air: readings.air.air, fit })));
  return difference(column, second!, first!);
}

/** The medians of a head's launches, straight and level. */
function usualLaunch(readings: SessionReadings, i: number): Launch {
  const usual = (column: ShotColumn): number => median(readings.values(column)?.filter((_, at) => readings.head[at] === readings.head[i]) ?? []);
  return { speed: usual("ball_speed"), launchAngle: usual("launch_angle"), startDirection: 0, spinRate: usual("spin_rate"), spinAxis: 0 };
}

function simulated(column: FlightColumn, flight: Flight): number {
  switch (column) {
    case "carry":
      return flight.carry;
    case "peak_height":
      return flight.peakHeight;
    case "descent_angle":
      return flight.descentAngle;
  }
}

function difference(column: FlightColumn, value: number, from: number): number {
  if (column === "descent_angle") return value - from;
  return value > 0 ? Math.log(value / from) : Number.NaN;
}

/** A value moved by so much, in the unit of `FlightResidual.off`. */
export function shifted(column: FlightColumn, value: number, by: number): number {
  return column === "descent_angle" ? value + by : value * Math.exp(by);
}
