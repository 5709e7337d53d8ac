/** The words for the two directions of a column, the positive one first. */
export type Direction = readonly [positive: string, negative: string];

/** Every pair of words that a session may use for a direction: those of the column's facts, and up and down for high and low. */
export function wordsOfDirection(direction: Direction): readonly Direction[] {
  return direction[0] === "high" ? [["up", "down"], direction] : [direction];
}
