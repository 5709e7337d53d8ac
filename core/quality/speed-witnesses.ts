import { evidenceOf } from "./evidence";
import { levelsByHead, strikeTerms, strikeWidening } from "./head-of-shot";
import { flightSays, measuredFlight } from "./measured-flight";
import { predictionsOf } from "./predictions";
import type { SessionReadings } from "./session-readings";

/** One standard deviation of a shot's speed ratio from reading errors alone, as a share of it. */
export function ratioError(readings: SessionReadings, i: number): number {
  const shareOf = (column: "ball_speed" | "club_speed"): number => {
    const value = readings.values(column)?.[i] ?? Number.NaN;
    return readings.error(column, value) / Math.abs(value);
  };
  return Math.hypot(shareOf("ball_speed"), shareOf("club_speed"));
}

/** By how much each shot's speed ratio is off what head, strike and launch imply: natural logarithms; `NaN` where it can't be said. */
export interface RatioResiduals {
  readonly off: Float64Array;
  /** One standard deviation of it. */
  readonly scale: Float64Array;
}

const knownResiduals = new WeakMap<SessionReadings, RatioResiduals | null>();

/** Speed ratios beside what they should be; `null` where one of the speeds is not there, or was calculated. */
export function ratioResiduals(readings: SessionReadings): RatioResiduals | null {
  let found = knownResiduals.get(readings);
  if (found === undefined) {
    found = compareRatios(readings);
    knownResiduals.set(readings, found);
  }
  return found;
}

function compareRatios(readings: SessionReadings): RatioResiduals | null {
  const [club, ball] = [evidenceOf(readings, "club_speed"), evidenceOf(readings, "ball_speed")];
  if (club === null || ball === null) return null;
  const ratio = club.map((speed, i) => Math.log(ball[i]! / speed)).map((each) => (Number.isFinite(each) ? each : Number.NaN));
  const explaining = [...strikeTerms(readings), evidenceOf(readings, "launch_angle"), evidenceOf(readings, "angle_of_attack")];
  const { predicted, scale } = predictionsOf(readings, ratio, explaining, { widening: (i) => strikeWidening(readings, i) });
  return { off: ratio.map((each, i) => each - predicted[i]!), scale: scale.map((each, i) => Math.max(each, ratioError(readings, i))) };
}

/** Which of two speeds is the doubtful one, and a sentence on how that is known. */
export interface MisreadSpeed {
  readonly column: "club_speed" | "ball_speed";
  readonly says: string;
  /** True when a measured flight decided. */
  readonly isSure: boolean;
}

/**
 * Which speed was misread in a shot whose ratio is `excess` times what it should be.
 *
 * A measured flight decides where it agrees with one ball speed and not with the other. Where there is none, or it was
 * calculated from the ball speed, the speed that is farther from its head's own median is named, with a word of doubt.
 */
export function misreadSpeed(readings: SessionReadings, i: number, excess: number): MisreadSpeed {
  const ball = readings.values("ball_speed")![i]!;
  const flights = measuredFlight(readings);
  switch (flightSays(flights, i, { speed: ball / excess })) {
    case "as read":
      return { column: "club_speed", says: "The measured flight agrees with the ball speed.", isSure: true };
    case "as implied":
      return { column: "ball_speed", says: "The measured flight does not agree with the ball speed.", isSure: true };
    case "neither": {
      const column = fartherFromItsHead(readings, i);
      const other = column === "club_speed" ? "ball speed" : "club speed";
      const why = flights === null ? "No flight was measured to tell which" : "The measured flight does not tell which";
      return { column, says: `It may be the ${other} instead. ${why}.`, isSure: false };
    }
  }
}

const known = new WeakMap<SessionReadings, readonly (ReturnType<typeof levelsByHead> | null)[]>();

/** The speed that is farther from the median of its head, in the head's own scatter; the club's where that is not known. */
function fartherFromItsHead(readings: SessionReadings, i: number): "club_speed" | "ball_speed" {
  let levels = known.get(readings);
  if (levels === undefined) {
    levels = (["club_speed", "ball_speed"] as const).map((column) => {
      const values = evidenceOf(readings, column);
      return values === null ? null : levelsByHead(readings, values);
    });
    known.set(readings, levels);
  }
  const off = (["club_speed", "ball_speed"] as const).map((column, place) => {
    const value = readings.values(column)![i]!;
    const { centre, scale } = levels[place]?.(i) ?? { centre: Number.NaN, scale: Number.NaN };
    return Math.abs(value - centre) / Math.max(scale, readings.error(column, value));
  });
  return off[1]! > off[0]! ? "ball_speed" : "club_speed";
}
