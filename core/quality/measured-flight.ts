import type { Launch } from "../flight/launch";
import type { Flight } from "../flight/simulate";
import { flightOfReading } from "./reading-flight";
import { median } from "../stats/quantile";
import type { ShotColumn } from "../table/shot-columns";
import { isEvidence } from "./evidence";
import type { SessionReadings } from "./session-readings";

/** A column of the flight, beside what the model gives for it. */
interface FlightColumn {
  readonly column: ShotColumn;
  /** Measured against simulated, 0 where they agree: a share for lengths and times, radians for angles. */
  readonly difference: (measured: number, flight: Flight) => number;
  /** One standard deviation of that within a session. Common practice, no source. */
  readonly scatter: number;
}

const share = (of: (flight: Flight) => number) => (measured: number, flight: Flight) => Math.log(measured / of(flight));

const flightColumns: readonly FlightColumn[] = [
  { column: "carry", difference: share((flight) => flight.carry), scatter: 0.02 },
  { column: "peak_height", difference: share((flight) => flight.peakHeight), scatter: 0.06 },
  { column: "flight_time", difference: share((flight) => flight.flightTime), scatter: 0.025 },
  { column: "descent_angle", difference: (measured, flight) => measured - flight.descentAngle, scatter: 0.035 },
];

/** How well the measured flights of a session agree with launches. */
export interface MeasuredFlight {
  /** The columns of the flight that were measured. */
  readonly columns: readonly ShotColumn[];
  /**
   * How far a shot's flight is from the one that its launch, with the values given in place of the read ones, would have:
   * root mean square over the columns, in standard deviations, after taking out what all shots of the session share
   * (air, ball, the model's own error). `NaN` where it can't be said.
   */
  readonly misfit: (i: number, instead?: Partial<Launch>) => number;
}

const known = new WeakMap<SessionReadings, MeasuredFlight | null>();

/** What measured flights can say about launches; `null` where none of a flight's columns was measured. */
export function measuredFlight(readings: SessionReadings): MeasuredFlight | null {
  let found = known.get(readings);
  if (found === undefined) {
    found = compareFlights(readings);
    known.set(readings, found);
  }
  return found;
}

function compareFlights(readings: SessionReadings): MeasuredFlight | null {
  const measured = flightColumns.filter(({ column }) => isEvidence(readings, column));
  if (measured.length === 0 || readings.values("ball_speed") === null || readings.values("launch_angle") === null || readings.values("spin_rate") === null) return null;
  const differences = (i: number, flight: Flight | null): readonly number[] =>
    measured.map(({ column, difference }) => (flight?.supported ? difference(readings.values(column)![i]!, flight) : Number.NaN));
  let shared: readonly number[] | null = null;
  const sharedOf = (): readonly number[] => {
    const all = Array.from({ length: readings.count }, (_, i) => differences(i, readings.flight(i)));
    return measured.map((_, each) => median(all.map((shot) => shot[each]!)));
  };
  return {
    columns: measured.map(({ column }) => column),
    misfit: (i, instead) => {
      shared ??= sharedOf();
      const flight = instead === undefined ? readings.flight(i) : flightWith(readings, i, instead);
      const off = differences(i, flight).map((difference, each) => (difference - shared![each]!) / measured[each]!.scatter);
      const there = off.filter(Number.isFinite);
      return there.length === 0 ? Number.NaN : Math.sqrt(there.reduce((sum, each) => sum + each * each, 0) / there.length);
    },
  };
}

function flightWith(readings: SessionReadings, i: number, instead: Partial<Launch>): Flight {
  const at = (column: ShotColumn): number => readings.values(column)?.[i] ?? Number.NaN;
  const orLevel = (column: ShotColumn): number => (readings.values(column) === null ? 0 : at(column));
  const read: Launch = {
    speed: at("ball_speed"),
    launchAngle: at("launch_angle"),
    startDirection: orLevel("start_direction"),
    spinRate: at("spin_rate"),
    spinAxis: orLevel("spin_axis"),
  };
  return flightOfReading({ ...read, ...instead }, { air: readings.air.air });
}

/** Which of two launches a measured flight agrees with; `neither` where it does not decide. */
export type FlightSays = "as read" | "as implied" | "neither";

/** Whether the flight of a shot agrees with its launch as read, or with other values in it. */
export function flightSays(flights: MeasuredFlight | null, i: number, implied: Partial<Launch>): FlightSays {
  if (flights === null) return "neither";
  const [read, other] = [flights.misfit(i), flights.misfit(i, implied)];
  if (read < agrees && other > read + decides) return "as read";
  if (other < agrees && read > other + decides) return "as implied";
  return "neither";
}

const agrees = 2; // standard deviations
const decides = 1; // standard deviations more for the other
