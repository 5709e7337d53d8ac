import type { Verb } from "../query/vocabulary";
import { duplicates, inferred } from "./schema-after";

/** `rename({ old: "new" })`: other names for columns. */
export const rename: Verb = {
  name: "rename",
  family: "table",
  help: {
    summary: "Gives columns other names; their place, values and units stay.",
    example: 'shots.rename({ carry: "carry_length" })',
  },
  parameters: [{ name: "names", kind: "renames", help: 'Old names and new ones in quotes: { carry: "carry_length" }.' }],
  infer: (input, [given]) => {
    const newName = namer(given?.kind === "renames" ? given.names : []);
    const columns = input.columns.map((column) => ({ ...column, name: newName(column.name) }));
    return inferred({ ...input, columns, groupedBy: input.groupedBy.map(newName) }, duplicates(columns, "names"));
  },
  run: (input, [given]) => {
    if (given?.kind !== "renames") throw new TypeError("rename takes names");
    const newName = namer(given.names);
    return {
      ...input,
      columns: input.columns.map((column) => (newName(column.name) === column.name ? column : { ...column, name: newName(column.name) })),
      groupedBy: input.groupedBy.map(newName),
      report: null,
    };
  },
};

function namer(names: readonly (readonly [from: string, to: string])[]): (name: string) => string {
  const map = new Map(names);
  return (name) => map.get(name) ?? name;
}
