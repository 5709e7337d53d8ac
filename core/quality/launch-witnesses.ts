import type { Launch } from "../flight/launch";
import { evidenceOf } from "./evidence";
import { launchAt } from "./flight-residuals";
import { strikeTerms, strikeWidening } from "./head-of-shot";
import { measuredFlight } from "./measured-flight";
import type { Prediction } from "./predictions";
import { predictionsOf } from "./predictions";
import type { SessionReadings } from "./session-readings";

/** The readings of a launch that decide how far and how high a ball flies. */
export const launchColumns = ["ball_speed", "launch_angle", "spin_rate"] as const;

/** One of them. */
export type LaunchColumn = (typeof launchColumns)[number];

const partOf: Readonly<Record<LaunchColumn, keyof Launch>> = { ball_speed: "speed", launch_angle: "launchAngle", spin_rate: "spinRate" };

/** A reading of the launch that is to blame for a flight which does not fit. */
export interface MisreadLaunch {
  readonly column: LaunchColumn;
  readonly implied: number;
  /** Where the implied value comes from: the head's other shots with the same strike and delivery, or the flight alone. */
  readonly from: "other shots" | "flight";
}

const oddAt = 3.5; // scales: B. Iglewicz, D. C. Hoaglin, How to Detect and Handle Outliers (1993)
const agrees = 2; // standard deviations of a flight, root mean square
const decides = 1; // standard deviations that others must be farther off

/**
 * Which reading of the launch makes a measured flight agree when it is replaced; `null` where none does, or several do.
 *
 * First each is held against its own prediction from head, strike and delivery: one that is odd there, and with whose
 * prediction the flight agrees, is to blame. Else the value is looked for that fits the flight best. That is done only where
 * two columns of the flight do not fit: a single one is more likely off itself.
 *
 * @param unfit how many columns of the flight do not fit the launch.
 */
export function misreadLaunch(readings: SessionReadings, i: number, unfit: number): MisreadLaunch | null {
  const flights = measuredFlight(readings);
  if (flights === null) return null;
  const read = flights.misfit(i);
  const odd = launchColumns.flatMap((column) => {
    const implied = oddPrediction(readings, column, i);
    if (implied === null) return [];
    const misfit = flights.misfit(i, { [partOf[column]]: implied });
    return misfit < agrees && misfit < read - decides ? [{ column, implied, misfit }] : [];
  });
  const [first] = odd.sort((a, b) => a.misfit - b.misfit);
  if (first !== undefined) return { column: first.column, implied: first.implied, from: "other shots" };
  if (unfit < 2) return null;
  const fitted = launchColumns.map((column) => ({ column, ...bestFit(readings, i, column, flights.misfit) })).sort((a, b) => a.misfit - b.misfit);
  const [best, next] = fitted;
  return best!.misfit < agrees && next!.misfit > best!.misfit + decides ? { column: best!.column, implied: best!.implied, from: "flight" } : null;
}

const known = new WeakMap<SessionReadings, Map<LaunchColumn, Prediction | null>>();

/** What head, strike and delivery imply for a reading that is far from it; `null` where it is not, or nothing is implied. */
function oddPrediction(readings: SessionReadings, column: LaunchColumn, i: number): number | null {
  const before = known.get(readings) ?? new Map<LaunchColumn, Prediction | null>();
  known.set(readings, before);
  if (!before.has(column)) before.set(column, predict(readings, column));
  const prediction = before.get(column)!;
  if (prediction === null) return null;
  const [value, implied] = [readings.values(column)![i]!, prediction.predicted[i]!];
  const scale = Math.max(prediction.scale[i]!, readings.error(column, implied));
  return Math.abs(value - implied) > oddAt * scale ? implied : null;
}

function predict(readings: SessionReadings, column: LaunchColumn): Prediction | null {
  const target = evidenceOf(readings, column);
  if (target === null) return null;
  const [x, x2, y, y2] = strikeTerms(readings);
  const [attack, loft, club] = [evidenceOf(readings, "angle_of_attack"), evidenceOf(readings, "dynamic_loft"), evidenceOf(readings, "club_speed")];
  const explaining = {
    ball_speed: [x!, x2!, y!, y2!, club, evidenceOf(readings, "launch_angle")],
    launch_angle: [x!, y!, y2!, loft, attack],
    spin_rate: [evidenceOf(readings, "launch_angle"), y!, y2!, attack, loft, club],
  }[column];
  return predictionsOf(readings, target, explaining, { widening: (i) => strikeWidening(readings, i) });
}

const widest: Readonly<Record<LaunchColumn, readonly [number, number]>> = { ball_speed: [0.6, 1.7], launch_angle: [0.3, 2.5], spin_rate: [0.3, 3] }; // of the reading
const coarse = 12; // values tried before the best is refined
const refinements = 10; // each takes a third off

/** The value of one reading with which a shot's flight fits best. */
function bestFit(readings: SessionReadings, i: number, column: LaunchColumn, misfit: (i: number, instead: Partial<Launch>) => number): { readonly implied: number; readonly misfit: number } {
  const read = launchAt(readings, i)[partOf[column]];
  const at = (factor: number): number => {
    const found = misfit(i, { [partOf[column]]: read * factor });
    return Number.isFinite(found) ? found : Infinity;
  };
  const [least, most] = widest[column];
  const step = (Math.log(most) - Math.log(least)) / coarse;
  const tried = Array.from({ length: coarse + 1 }, (_, each) => at(least * Math.exp(each * step)));
  const best = Math.log(least) + tried.indexOf(Math.min(...tried)) * step;
  let [low, high] = [best - step, best + step];
  for (let round = 0; round < refinements; round++) {
    const [left, right] = [low + (high - low) / 3, high - (high - low) / 3];
    if (at(Math.exp(left)) < at(Math.exp(right))) high = right;
    else low = left;
  }
  const factor = Math.exp((low + high) / 2);
  return { implied: read * factor, misfit: at(factor) };
}
