import type { Verb } from "../query/vocabulary";
import { inferred } from "./schema-after";

/** `derive({ name: d => … })`: new columns from row functions. */
export const derive: Verb = {
  name: "derive",
  family: "table",
  help: {
    summary: "Adds columns computed from each row, or replaces columns of the same name; all of them see the table as it was before.",
    example: "shots.derive({ roll: d => d.total - d.carry })",
  },
  parameters: [{ name: "columns", kind: "new columns", help: "New names and their row functions: { roll: d => d.total - d.carry }." }],
  infer: (input, [given]) => {
    const added = given?.kind === "new columns" ? given.columns : [];
    return inferred({ ...input, columns: replaceOrAdd(input.columns, added) });
  },
  run: (input, [given]) => {
    if (given?.kind !== "new columns") throw new TypeError("derive takes new columns");
    return { ...input, columns: replaceOrAdd(input.columns, given.columns), report: null };
  },
};

/** The columns with the added ones in the place of those of the same name, the others behind. */
function replaceOrAdd<C extends { readonly name: string }>(columns: readonly C[], added: readonly C[]): readonly C[] {
  const byName = new Map(added.map((column) => [column.name, column]));
  const old = new Set(columns.map((column) => column.name));
  return [...columns.map((column) => byName.get(column.name) ?? column), ...added.filter((column) => !old.has(column.name))];
}
