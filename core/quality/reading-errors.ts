import type { SessionFacts } from "../session/session-facts";
import type { ShotColumn } from "../table/shot-columns";
import type { Measure, Unit } from "../units";
import { units } from "../units";

const measure = (value: number, unit: Unit): Measure => ({ value, unit });

/** One standard deviation of a reading where the session states none, by column. Common practice, no source. */
export const usualReadingErrors: Readonly<Partial<Record<ShotColumn, Measure>>> = {
  ball_speed: measure(0.5, "%"),
  club_speed: measure(1.5, "%"),
  launch_angle: measure(0.5, "deg"),
  start_direction: measure(0.7, "deg"),
  spin_rate: measure(2.5, "%"),
  back_spin: measure(2.5, "%"),
  spin_axis: measure(1.5, "deg"),
  face_angle: measure(1.2, "deg"),
  club_path: measure(1.2, "deg"),
  angle_of_attack: measure(1, "deg"),
  dynamic_loft: measure(1.5, "deg"),
  strike_x: measure(2, "mm"),
  strike_y: measure(2, "mm"),
};

/**
 * One standard deviation of a reading of `value`, in SI like `value`: what the session states, else the usual one;
 * `NaN` for a column that has neither.
 */
export function readingError(facts: Pick<SessionFacts, "readingErrors">, column: ShotColumn, value: number): number {
  const error = facts.readingErrors?.[column] ?? usualReadingErrors[column];
  if (error === undefined) return Number.NaN;
  if (error.unit === "%") return (Math.abs(value) * error.value) / 100;
  return error.value * units[error.unit].factor;
}
