import type { Verb } from "../query/vocabulary";
import { groupRows } from "./group-rows";
import { keepRows } from "./keep-rows";
import { inferred, otherRows } from "./schema-after";

/** `sample(10)`: rows drawn by chance, the same ones on every run. */
export const sample: Verb = {
  name: "sample",
  family: "table",
  help: {
    summary: "Draws rows by chance, each at most once and in their order, from each group; the notebook's seed decides which.",
    example: 'shots.groupby("head").sample(5)',
  },
  parameters: [{ name: "size", kind: "number", least: 0, most: 1e9, optional: false, help: "How many rows to draw from each group." }],
  infer: (input) => inferred(otherRows(input)),
  run: (input, [size], context) => {
    if (size?.kind !== "number") throw new TypeError("sample takes a number of rows");
    const groups = groupRows(input, input.groupedBy, context.checkpoint);
    const left = new Int32Array(groups.count);
    for (const group of groups.of) left[group]!++;
    const wanted = Int32Array.from(left, (count) => Math.min(count, size.value));
    const random = seededRandom(context.seed);
    const rows: number[] = [];
    // Each row is taken with the share still wanted of those still left (Fan, Muller and Rezucha, JASA 57 (1962) 387).
    for (let row = 0; row < groups.of.length; row++) {
      const group = groups.of[row]!;
      if (random() * left[group]! < wanted[group]!) {
        rows.push(row);
        wanted[group]!--;
      }
      left[group]!--;
    }
    return keepRows(input, Int32Array.from(rows));
  },
};

/**
 * Returns a source of numbers from 0 up to, not including, 1: equal for equal seeds.
 *
 * Source: G. Marsaglia, Xorshift RNGs, Journal of Statistical Software 8 (2003) 14, the triple 13, 17, 5; the seed is
 * stirred first, so that neighbouring seeds begin far apart.
 */
function seededRandom(seed: number): () => number {
  let state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) >>> 0 || 1;
  const next = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 4294967296;
  };
  for (let i = 0; i < 8; i++) next();
  return next;
}
