import type { Verb } from "../query/vocabulary";
import { seededRandom } from "../stats/random";
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
