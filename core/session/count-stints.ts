/** The stint and the pass of every shot, both counted from 1. */
export interface StintsAndPasses {
  readonly stints: Float64Array;
  readonly passes: Float64Array;
}

/**
 * Counts stints and passes of shots in hitting order.
 *
 * A stint is a maximal run of consecutive shots with the same head; a break ends it. A pass is one trip through the
 * heads: walking the stints in order, a stint whose head has occurred in the present pass already begins the next.
 * Shots without a head (code −1) count as hit with a head of their own.
 *
 * @param heads the code of the head of each shot.
 * @param breaks true at a shot before which there was a break.
 * @example countStints(Int32Array.of(0, 0, 1, 0), () => false) // stints 1 1 2 3, passes 1 1 1 2
 */
export function countStints(heads: Int32Array, breaks: (row: number) => boolean): StintsAndPasses {
  const stints = new Float64Array(heads.length);
  const passes = new Float64Array(heads.length);
  const inPass = new Set<number>();
  let stint = 0;
  let pass = 1;
  for (let row = 0; row < heads.length; row++) {
    const head = heads[row]!;
    if (row === 0 || head !== heads[row - 1] || breaks(row)) {
      stint++;
      if (inPass.has(head)) {
        pass++;
        inPass.clear();
      }
      inPass.add(head);
    }
    stints[row] = stint;
    passes[row] = pass;
  }
  return { stints, passes };
}
