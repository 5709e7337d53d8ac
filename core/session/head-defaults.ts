import type { Measure, Unit } from "../units";
import type { HeadKind } from "./session-facts";

/** What holds for a kind of head unless a session or a notebook says otherwise. */
export interface HeadDefaults {
  /** A centred strike, from the middle of the face as the monitor's marker shows it, in mm (+ toe, + up). */
  readonly strikeReference: { readonly x: number; readonly y: number };
  /** Half the size of the centre zone, in mm. */
  readonly centreZone: { readonly halfWidth: number; readonly halfHeight: number };
  /** The miss at which a loss is stated, in mm to toe or heel and in mm high or low. */
  readonly standardMiss: { readonly x: number; readonly y: number };
  /** The smallest difference of a column that matters to a player. */
  readonly margins: Readonly<Record<string, Measure>>;
  /** The smallest difference of a loss at the standard miss that matters to a player. */
  readonly lossMargins: Readonly<Record<string, Measure>>;
  /** Limits of the speed ratio: no ball leaves such a head faster or, struck at all, slower. */
  readonly speedRatio: readonly [low: number, high: number];
}

const measure = (value: number, unit: Unit): Measure => ({ value, unit });

const margins: Readonly<Record<string, Measure>> = {
  carry: measure(3, "yd"),
  total: measure(3, "yd"),
  offline: measure(3, "yd"),
  ball_speed: measure(1, "mph"),
  club_speed: measure(1, "mph"),
  launch_angle: measure(0.5, "deg"),
  start_direction: measure(0.5, "deg"),
  spin_rate: measure(200, "rpm"),
  back_spin: measure(200, "rpm"),
  side_spin: measure(200, "rpm"),
  peak_height: measure(3, "ft"),
  descent_angle: measure(1, "deg"),
};

const lossMargins: Readonly<Record<string, Measure>> = { ball_speed: measure(1, "mph"), carry: measure(2, "yd") };

/**
 * The defaults by kind of head: all of it common practice, no source.
 *
 * An iron's sole is struck below the ball's middle: with the marker half-way up the face, a centred strike is
 * commonly 8 to 10 mm below it, and one 12 mm or more below it is thin. So the centre zone of irons and wedges ends
 * between 10 and 12 mm.
 */
export const headDefaults: Readonly<Record<HeadKind, HeadDefaults>> = {
  iron: {
    strikeReference: { x: 0, y: -9 },
    centreZone: { halfWidth: 7, halfHeight: 2.5 },
    standardMiss: { x: 12, y: 8 },
    margins,
    lossMargins,
    speedRatio: [0.6, 1.56],
  },
  wedge: {
    strikeReference: { x: 0, y: -9 },
    centreZone: { halfWidth: 7, halfHeight: 2.5 },
    standardMiss: { x: 12, y: 8 },
    margins,
    lossMargins,
    speedRatio: [0.6, 1.56],
  },
  wood: {
    strikeReference: { x: 0, y: 0 },
    centreZone: { halfWidth: 9, halfHeight: 7 },
    standardMiss: { x: 12, y: 8 },
    margins,
    lossMargins,
    speedRatio: [0.6, 1.52],
  },
};

/** The kinds of head that have defaults. */
export const headKinds: readonly HeadKind[] = ["iron", "wedge", "wood"];
