/**
 * The letters of a column's two directions, as a session states them: `L/R`, `T/H`, `U/D`.
 *
 * @param direction the word that a positive value means, and a negative one.
 * @example sideLetters(["right", "left"]) // "L/R"
 */
export function sideLetters([positive, negative]: readonly [string, string]): string {
  // Left stands before right, as on a page.
  const inOrder = positive === "right" ? [negative, positive] : [positive, negative];
  return inOrder.map((word) => word[0]!.toUpperCase()).join("/");
}
