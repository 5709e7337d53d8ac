import * as fc from "fast-check";
import type { BlockData } from "../../../core/stats/linear-fit";
import { normals, uniforms } from "./check-values";

/** How an invented session is hit: each pass holds each head once, in turn. */
export interface Plan {
  readonly seed: number;
  readonly heads: number;
  readonly passes: number;
  /** Shots of a stint, one of these by chance. */
  readonly shots: readonly number[];
  /** In units of the scatter of shots in a stint. */
  readonly stintSd: number;
}

/** Sessions of all kinds for property tests. */
export const plans: fc.Arbitrary<Plan> = fc.record({
  seed: fc.integer({ min: 1, max: 99_999 }),
  heads: fc.integer({ min: 2, max: 4 }),
  passes: fc.integer({ min: 3, max: 6 }),
  shots: fc.constantFrom([3], [2, 3, 4, 5], [1, 2, 6], [1, 9]),
  stintSd: fc.constantFrom(0.3, 1, 3),
});

/** Two heads, ten shots each, one after the other. */
export const oneLongStint: Plan = { seed: 3, heads: 2, passes: 1, shots: [10], stintSd: 1 };

/**
 * An invented session: columns are one indicator a head, two of made-up strikes for three heads or more, and a trend
 * from −½ to ½.
 */
export function inventedSession({ seed, heads, passes, shots, stintSd }: Plan): BlockData {
  const [uniform, normal] = [uniforms(seed), normals(seed + 1)];
  const head: number[] = [];
  const block: number[] = [];
  const value: number[] = [];
  for (let b = 0; b < heads * passes; b++) {
    const level = 150 + 2 * (b % heads) + stintSd * normal();
    const count = shots[Math.floor(uniform() * shots.length)]!;
    for (let i = 0; i < count; i++) {
      head.push(b % heads);
      block.push(b);
      value.push(level + normal());
    }
  }
  const indicators = Array.from({ length: heads }, (_, g) => Float64Array.from(head, (own) => (own === g ? 1 : 0)));
  const strikes = heads < 3 ? [] : Array.from({ length: 2 }, () => Float64Array.from(value, () => 6 * normal()));
  const trend = Float64Array.from(value, (_, i) => i / (value.length - 1) - 0.5);
  return { columns: [...indicators, ...strikes, trend], value: Float64Array.from(value), block: Int32Array.from(block), blockCount: heads * passes };
}
