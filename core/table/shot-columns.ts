// One table of data: longer than a file of code should be, and rightly so.
import type { Quantity } from "../units";

/** What is known of a shot column wherever it comes from. */
export interface ShotColumnFacts {
  readonly kind: "number" | "text";
  /** What it measures, which decides its unit; `null` for text and for pure numbers. */
  readonly quantity: Quantity | null;
  readonly group: "identity" | "club" | "strike" | "ball" | "flight" | "ratings";
  /**
   * Plausible values, in SI (radians, m, m/s, rad/s, s); `null` where any value will do. Common practice, no source.
   * Where no shot can have 0 the lower limit is above it, because many programs write 0 for what was not read.
   */
  readonly range: readonly [number, number] | null;
  /** The word that a positive value means, and a negative one; `null` for a column without direction. */
  readonly direction: readonly [positive: string, negative: string] | null;
  /** Mirrored for a left-hander: true for whatever is left or right of the target line. */
  readonly mirrored: boolean;
  readonly description: string;
}

const deg = Math.PI / 180;
const rpm = (2 * Math.PI) / 60;
const rightLeft = ["right", "left"] as const;

function text(description: string): ShotColumnFacts {
  return { kind: "text", quantity: null, group: "identity", range: null, direction: null, mirrored: false, description };
}

function count(description: string): ShotColumnFacts {
  return { kind: "number", quantity: null, group: "identity", range: [1, 1e7], direction: null, mirrored: false, description };
}

function quantity(
  group: ShotColumnFacts["group"],
  of: Quantity | null,
  range: readonly [number, number],
  description: string,
  direction: readonly [string, string] | null = null,
): ShotColumnFacts {
  return { kind: "number", quantity: of, group, range, direction, mirrored: direction === rightLeft, description };
}

/**
 * Every shot column, in the order in which tables show them.
 *
 * Directions are positive to the right of the target line, strikes positive to the toe and up. The club's ranges
 * are those of `R17` in the misread rules.
 */
export const shotColumns = {
  session: text("name of the session"),
  shot: count("number, ascending in hitting order and unique in its session: the export's own where that is so"),
  head: text("club head that was hit"),
  set: text("set the head belongs to"),
  player: text("who hit"),
  ball: text("ball model"),
  stint: count("run of consecutive shots with one head, counted over the whole session"),
  pass: count("trip through the heads, counted over the whole session"),
  time: text("time of the shot, as the export has it"),
  intent: text("what the player meant to hit; stock unless the session says otherwise"),
  note: text("what the person noted about the shot"),

  club_speed: quantity("club", "speed", [5, 70], "speed of the head just before impact"),
  angle_of_attack: quantity("club", "angle", [-15 * deg, 12 * deg], "vertical direction of the head at impact", ["up", "down"]),
  club_path: quantity("club", "angle", [-25 * deg, 25 * deg], "horizontal direction of the head at impact", rightLeft),
  face_angle: quantity("club", "angle", [-25 * deg, 25 * deg], "horizontal direction of the face at impact", rightLeft),
  face_to_path: quantity("club", "angle", [-40 * deg, 40 * deg], "face angle less club path", rightLeft),
  dynamic_loft: quantity("club", "angle", [1 * deg, 75 * deg], "loft of the face at impact"),

  strike_x: quantity("strike", "face distance", [-0.045, 0.045], "strike across the face from its strike reference", ["toe", "heel"]),
  strike_y: quantity("strike", "face distance", [-0.045, 0.045], "strike up the face from its strike reference", ["high", "low"]),
  strike_distance: quantity("strike", "face distance", [0, 0.064], "distance of the strike from its strike reference"),
  zone: { ...text("ninth of the face that was struck"), group: "strike" },

  ball_speed: quantity("ball", "speed", [5, 105], "speed of the ball just after impact"),
  speed_ratio: quantity("ball", null, [0.3, 1.7], "ball speed divided by club speed"),
  launch_angle: quantity("ball", "angle", [-5 * deg, 70 * deg], "vertical angle at which the ball starts", ["up", "down"]),
  start_direction: quantity("ball", "angle", [-45 * deg, 45 * deg], "horizontal angle at which the ball starts", rightLeft),
  spin_rate: quantity("ball", "spin", [100 * rpm, 14_000 * rpm], "total spin of the ball after impact"),
  back_spin: quantity("ball", "spin", [-3_000 * rpm, 14_000 * rpm], "spin about the horizontal axis"),
  side_spin: quantity("ball", "spin", [-7_000 * rpm, 7_000 * rpm], "spin about the other axis; positive curves right", rightLeft),
  spin_axis: quantity("ball", "angle", [-90 * deg, 90 * deg], "tilt of the spin axis; positive curves right", rightLeft),

  carry: quantity("flight", "distance", [1, 400], "distance to where the ball first lands"),
  total: quantity("flight", "distance", [1, 500], "distance to where the ball stops; depends on the turf"),
  offline: quantity("flight", "distance", [-150, 150], "where the ball lands, beside the target line", rightLeft),
  peak_height: quantity("flight", "height", [0.1, 80], "greatest height of the flight"),
  descent_angle: quantity("flight", "angle", [1 * deg, 90 * deg], "angle at which the ball lands"),
  flight_time: quantity("flight", "time", [0.1, 12], "time in the air"),
  landing_speed: quantity("flight", "speed", [1, 60], "speed of the ball when it lands"),

  feel: quantity("ratings", null, [0, 100], "how the strike felt, as the player rated it"),
  sound: quantity("ratings", null, [0, 100], "how the strike sounded, as the player rated it"),
  looks: quantity("ratings", null, [0, 100], "how the head looks, as the player rated it"),
  turf: quantity("ratings", null, [0, 100], "how the sole went through the turf, as the player rated it"),
} as const satisfies Record<string, ShotColumnFacts>;

/** The name of a shot column. */
export type ShotColumn = keyof typeof shotColumns;

/** All shot columns in the order in which tables show them. */
export const shotColumnNames = Object.keys(shotColumns) as readonly ShotColumn[];

/** True when `name` is one of the shot columns. */
export function isShotColumn(name: string): name is ShotColumn {
  return Object.hasOwn(shotColumns, name);
}

/** The facts of a shot column, or `undefined` for any other name. */
export function shotColumnFacts(name: string): ShotColumnFacts | undefined {
  return isShotColumn(name) ? shotColumns[name] : undefined;
}

/** The nine zones of the face, by row from the top and by column from the toe. */
export const zones = [
  "high toe",
  "high",
  "high heel",
  "toe",
  "centre",
  "heel",
  "low toe",
  "low",
  "low heel",
] as const;

/** One of the nine zones of the face. */
export type Zone = (typeof zones)[number];
