import type { Flight } from "../flight/simulate";
import { flightOfReading } from "./reading-flight";
import type { Air } from "../flight/air";
import { median } from "../stats/quantile";
import type { ShotColumn } from "../table/shot-columns";
import { shotColumns } from "../table/shot-columns";
import { findColumn } from "../table/table";
import type { Unit } from "../units";
import { units } from "../units";
import type { SessionReadings } from "./session-readings";

/** Columns whose units a flight can tell. */
export type UnitColumn = "ball_speed" | "launch_angle" | "spin_rate" | "carry" | "peak_height";

/** Other units than the stated ones, by column; empty for the stated ones. */
export type Choice = ReadonlyMap<ShotColumn, Unit>;

/** The medians of one head's launches and flights. */
export interface UsualShot {
  readonly head: string | null;
  readonly count: number;
  readonly air: Air;
  /** SI, as the stated units make them; `NaN` for a column that is not there. */
  readonly values: ReadonlyMap<ShotColumn, number>;
  /** The units stated. */
  readonly units: ReadonlyMap<ShotColumn, Unit>;
}

const launchParts = ["ball_speed", "launch_angle", "spin_rate"] as const;
const flightParts = ["carry", "peak_height"] as const;
/** Units that exports have. */
const usualUnits: Readonly<Record<UnitColumn, readonly Unit[]>> = {
  ball_speed: ["mph", "km/h", "m/s"],
  launch_angle: ["deg", "rad"],
  spin_rate: ["rpm", "rps"],
  carry: ["yd", "m", "ft"],
  peak_height: ["yd", "ft", "m"],
};
const fewest = 8; // shots of a session
const fewestOfHead = 3; // shots of a head
const mostHeads = 6; // the ones with most shots; more cost flights and tell no more
const clearly = 0.25; // by which other units must be better than the stated ones
const fits = 0.3; // cost up to which units fit at all, with wind and any ball
const ambiguous = 0.1; // cost within which two answers are equally good
const forEachChange = 0.1; // cost by which every unit that would change must pay

/** One usual shot a head, for heads with launches and a carry or a peak; empty for fewer than 8 such shots. */
export function usualShots(readings: SessionReadings): readonly UsualShot[] {
  const columns = new Map([...launchParts, ...flightParts].map((column) => [column, readings.values(column)]));
  if (launchParts.some((column) => columns.get(column) === null) || flightParts.every((column) => columns.get(column) === null)) return [];
  const isComplete = (i: number): boolean => launchParts.every((column) => Number.isFinite(columns.get(column)![i]!)) && flightParts.some((column) => Number.isFinite(columns.get(column)?.[i] ?? Number.NaN));
  const byHead = new Map<number, number[]>();
  for (let i = 0; i < readings.count; i++) {
    if (!isComplete(i)) continue;
    const rows = byHead.get(readings.head[i]!);
    if (rows === undefined) byHead.set(readings.head[i]!, [i]);
    else rows.push(i);
  }
  const heads = [...byHead].filter(([, rows]) => rows.length >= fewestOfHead).sort((a, b) => b[1].length - a[1].length).slice(0, mostHeads);
  if (heads.reduce((sum, [, rows]) => sum + rows.length, 0) < fewest) return [];
  const unitsOf = new Map([...columns.keys()].flatMap((column) => {
    const found = findColumn(readings.table, column);
    return found?.kind === "number" && found.unit !== null ? [[column, found.unit] as const] : [];
  }));
  return heads.map(([head, rows]) => ({
    head: readings.heads[head]?.name ?? null,
    count: rows.length,
    air: readings.air.air,
    values: new Map([...columns].map(([column, values]) => [column, values === null ? Number.NaN : median(rows.map((i) => values[i]!))])),
    units: unitsOf,
  }));
}

/** How badly carries and peaks fit their launches as the units are stated: a sum of logarithms; `NaN` without shots. */
export function costAsStated(shots: readonly UsualShot[]): number {
  return costOf(shots, shots.map(flyer), new Map());
}

/**
 * The units that fit clearly better than the stated ones: none where these fit, one where one answer is clear, else all that
 * fit about as well.
 */
export function bestChoices(shots: readonly UsualShot[], stated: number): readonly Choice[] {
  if (!(stated >= clearly)) return [];
  const flights = shots.map(flyer);
  const choices = choicesFor(shots[0]!).flatMap((choice) => {
    const cost = costOf(shots, flights, choice);
    return choice.size > 0 && cost <= Math.min(fits, stated - clearly) ? [{ choice, score: cost + forEachChange * choice.size }] : [];
  });
  const least = Math.min(...choices.map(({ score }) => score));
  return choices.filter(({ score }) => score < least + ambiguous).sort((a, b) => a.score - b.score).map(({ choice }) => choice);
}

/** Every combination of units that makes plausible values, the stated ones among them. */
function choicesFor(shot: UsualShot): readonly Choice[] {
  let choices: Choice[] = [new Map()];
  for (const column of [...launchParts, ...flightParts]) {
    const stated = shot.units.get(column);
    if (stated === undefined || Number.isNaN(shot.values.get(column)!)) continue;
    const [low, high] = shotColumns[column].range ?? [0, Infinity];
    const others = usualUnits[column].filter((unit) => unit !== stated && units[unit].factor !== units[stated].factor).filter((unit) => {
      const value = valueIn(shot, column, unit);
      return value >= low && value <= high;
    });
    choices = choices.flatMap((choice) => [choice, ...others.map((unit) => new Map([...choice, [column, unit] as const]))]);
  }
  return choices;
}

/** What a value would be in SI were it in another unit than the stated one. */
function valueIn(shot: UsualShot, column: UnitColumn, unit: Unit | undefined): number {
  const [value, stated] = [shot.values.get(column)!, shot.units.get(column)];
  return unit === undefined || stated === undefined ? value : (value / units[stated].factor) * units[unit].factor;
}

/** The flight of a usual shot for a choice of units, each simulated once. */
type Flyer = (choice: Choice) => Flight;

function flyer(shot: UsualShot): Flyer {
  const known = new Map<string, Flight>();
  return (choice) => {
    const [speed, launchAngle, spinRate] = launchParts.map((column) => valueIn(shot, column, choice.get(column)));
    const key = [speed, launchAngle, spinRate].join(" ");
    if (!known.has(key)) known.set(key, flightOfReading({ speed: speed!, launchAngle: launchAngle!, startDirection: 0, spinRate: spinRate!, spinAxis: 0 }, { air: shot.air }));
    return known.get(key)!;
  };
}

/** The mean over the heads, weighted by their shots; infinite where a launch does not fly. */
function costOf(shots: readonly UsualShot[], flights: readonly Flyer[], choice: Choice): number {
  const total = shots.reduce((sum, { count }) => sum + count, 0);
  return shots.reduce((sum, shot, place) => sum + (shot.count / total) * costOfShot(shot, flights[place]!(choice), choice), 0) / (total > 0 ? 1 : Number.NaN);
}

function costOfShot(shot: UsualShot, flight: Flight, choice: Choice): number {
  if (!flight.landed) return Infinity;
  const off = (column: "carry" | "peak_height", simulated: number): number => Math.abs(Math.log(valueIn(shot, column, choice.get(column)) / simulated));
  return [off("carry", flight.carry), off("peak_height", flight.peakHeight)].reduce((sum, each) => sum + (Number.isNaN(each) ? 0 : each), 0);
}

/** The carry of a usual shot, or its peak where that is farther off: recorded and simulated, SI. */
export function flightColumn(shot: UsualShot, choice: Choice): { readonly column: "carry" | "peak_height"; readonly recorded: number; readonly simulated: number } {
  const flightAt = flyer(shot);
  const of = (each: Choice, column: "carry" | "peak_height"): { readonly recorded: number; readonly simulated: number } => {
    const flight = flightAt(each);
    return { recorded: valueIn(shot, column, each.get(column)), simulated: column === "carry" ? flight.carry : flight.peakHeight };
  };
  // The column is chosen as the units are stated, so that both sentences speak of the same one.
  const off = (column: "carry" | "peak_height"): number => {
    const { recorded, simulated } = of(new Map(), column);
    const found = Math.abs(Math.log(recorded / simulated));
    return Number.isNaN(found) ? -1 : found;
  };
  const column = off("peak_height") > off("carry") ? "peak_height" : "carry";
  return { column, ...of(choice, column) };
}
