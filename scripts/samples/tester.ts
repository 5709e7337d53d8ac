import type { Delivery } from "../../core/flight/d-plane";
import { degree, millimetre, mph } from "./golf-units";
import type { Head, HeadName, Strike } from "./heads";
import type { Random } from "./random";

/** Where a tester strikes a head: mean and standard deviation in mm from its strike reference, + toe and + up. */
export interface StrikeHabit {
  readonly x: readonly [mean: number, deviation: number];
  readonly y: readonly [mean: number, deviation: number];
}

/** How the invented tester swings. Everything is a plausible assumption: no source. */
export interface Tester {
  /** m/s at the first shot */
  readonly clubSpeed: number;
  /** m/s lost from the first shot to the last */
  readonly tiring: number;
  readonly strikes: Readonly<Record<HeadName, StrikeHabit>>;
}

/** Strikes nearest the centre with the blade, which asks for care, and towards the toe with the hollow body. */
export const testerOne: Tester = {
  clubSpeed: 89.2 * mph,
  tiring: 1.5 * mph,
  strikes: {
    Wren: { x: [-0.5, 4.6], y: [-0.5, 3.2] },
    Heron: { x: [3, 6.2], y: [-1.5, 4] },
    Plover: { x: [5.5, 6.5], y: [-1.5, 4] },
  },
};

/** What the shots of one stint have in common. */
export interface StintMood {
  readonly clubSpeed: number;
  readonly attack: number;
  readonly path: number;
  readonly loft: number;
  readonly x: number;
  readonly y: number;
}

/** The mood of a new stint. */
export function newMood(random: Random): StintMood {
  return {
    clubSpeed: random.normal(0.4 * mph),
    attack: random.normal(0.3 * degree),
    path: random.normal(0.5 * degree),
    loft: random.normal(0.35 * degree),
    x: random.normal(1 * millimetre),
    y: random.normal(0.6 * millimetre),
  };
}

/** One swing: how the head arrives, and where it meets the ball. */
export interface Swing {
  readonly delivery: Delivery;
  readonly strike: Strike;
}

/** A swing of the tester; `progress` runs from 0 at the first shot of the session to 1 at the last. */
export function swing(tester: Tester, head: Head, mood: StintMood, progress: number, random: Random): Swing {
  const attackChange = mood.attack + random.normal(0.7 * degree);
  const path = -1 * degree + mood.path + random.normal(1.3 * degree);
  const habit = tester.strikes[head.name];
  // A tired swing bottoms out a little higher, so that strikes sink on the face.
  const sinking = -1.2 * millimetre * progress;
  return {
    delivery: {
      clubSpeed: tester.clubSpeed - tester.tiring * progress + mood.clubSpeed + random.normal(0.6 * mph),
      angleOfAttack: -4.2 * degree + attackChange,
      clubPath: path,
      // The face follows the path in part, as hands do.
      faceAngle: -0.2 * degree + 0.45 * path + random.normal(1.2 * degree),
      dynamicLoft: head.loft - 8.5 * degree + 0.3 * attackChange + mood.loft + random.normal(1 * degree),
    },
    strike: {
      x: habit.x[0] * millimetre + mood.x + random.normal(habit.x[1] * millimetre),
      y: habit.y[0] * millimetre + sinking + mood.y + random.normal(habit.y[1] * millimetre),
    },
  };
}
