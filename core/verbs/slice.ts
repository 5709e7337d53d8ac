import type { Verb } from "../query/vocabulary";
import { groupRows } from "./group-rows";
import { keepRows } from "./keep-rows";
import { inferred, otherRows } from "./schema-after";

const most = 1e9;

/** `slice(0, 10)`: some of the rows by their place, group by group. */
export const slice: Verb = {
  name: "slice",
  family: "table",
  help: {
    summary: "Keeps the rows from one place up to, not including, another; the first row has place 0, and groups are counted each for itself.",
    example: 'shots.orderby(op.desc("carry")).groupby("head").slice(0, 5)',
  },
  parameters: [
    { name: "start", kind: "number", least: 0, most, optional: false, help: "Place of the first row that is kept." },
    { name: "end", kind: "number", least: 0, most, optional: true, help: "Place of the first row that is not kept any more; all the rest when left out." },
  ],
  infer: (input) => inferred(otherRows(input)),
  run: (input, [start, end], context) => {
    if (start?.kind !== "number") throw new TypeError("slice takes a place");
    const to = end?.kind === "number" ? end.value : Infinity;
    const groups = groupRows(input, input.groupedBy, context.checkpoint);
    const seen = new Int32Array(groups.count);
    const rows = groups.of.reduce<number[]>((kept, group, row) => {
      const place = seen[group]!++;
      if (place >= start.value && place < to) kept.push(row);
      return kept;
    }, []);
    return keepRows(input, Int32Array.from(rows));
  },
};
