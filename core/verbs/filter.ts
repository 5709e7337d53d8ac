import type { Verb } from "../query/vocabulary";
import { keepRows } from "./keep-rows";
import { inferred, otherRows } from "./schema-after";
import { verbProblem } from "./verb-problem";

/** `filter(d => …)`: the rows for which a condition holds. */
export const filter: Verb = {
  name: "filter",
  family: "table",
  help: {
    summary: "Keeps the rows for which a condition holds; where a missing value leaves it undecided, the row is left out and counted.",
    example: 'shots.filter(d => d.head === "Wren" && d.carry > 150)',
  },
  parameters: [{ name: "condition", kind: "condition", help: "A row function that gives true or false: d => d.carry > 150." }],
  infer: (input, [condition]) => {
    const narrows = condition?.kind === "condition" ? condition.narrows : new Map<string, readonly string[]>();
    const schema = otherRows(input);
    return inferred({
      ...schema,
      columns: schema.columns.map((column) => {
        const values = narrows.get(column.name);
        if (values === undefined) return column;
        return { ...column, values: column.values?.filter((value) => values.includes(value)) ?? values };
      }),
    });
  },
  run: (input, [condition], context) => {
    if (condition?.kind !== "condition") throw new TypeError("filter takes a condition");
    const { holds } = condition;
    const rows = new Int32Array(holds.length);
    let kept = 0;
    let undecided = 0;
    for (let row = 0; row < holds.length; row++) {
      if (holds[row] === 1) rows[kept++] = row;
      else if (holds[row]! < 0) undecided++;
    }
    if (undecided > 0) context.warn(verbProblem("condition", "query.undecided-rows", { count: undecided, of: holds.length }));
    if (kept === 0 && holds.length > 0) context.warn(verbProblem("condition", "query.none-left", { of: holds.length }));
    return keepRows(input, rows.slice(0, kept));
  },
};
