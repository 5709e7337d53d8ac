import { evidenceOf } from "./evidence";
import { levelsByHead } from "./head-of-shot";
import { flightSays, measuredFlight } from "./measured-flight";
import type { SessionReadings } from "./session-readings";

/** One standard deviation of a shot's speed ratio from reading errors alone, as a share of it. */
export function ratioError(readings: SessionReadings, i: number): number {
  const shareOf = (column: "ball_speed" | "club_speed"): number => {
    const value = readings.values(column)?.[i] ?? Number.NaN;
    return readings.error(column, value) / Math.abs(value);
  };
  return Math.hypot(shareOf("ball_speed"), shareOf("club_speed"));
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
