import type { JudgedPair } from "../stats/judge-pair";
import type { ColumnSchema } from "../table/schema";
import type { Column } from "../table/table";
import { numberColumn, textColumn } from "../table/table";
import type { Unit } from "../units";
import type { ComparisonWords } from "./comparison-sentences";
import { marginColumn } from "./margin-column";

/** One column of a comparison: its name, and its values for each row. Lengths are in the unit of what is compared. */
type Maker = readonly [name: string, kind: "text" | "number" | "measure", value: (pair: JudgedPair, words: ComparisonWords) => string | number];

const makers: readonly Maker[] = [
  ["head", "text", (pair, words) => words.groups[pair.of]!],
  ["against", "text", (pair, words) => words.groups[pair.against]!],
  ["of", "text", (_, words) => words.column.name],
  ["strikes", "text", (pair) => pair.strikes],
  ["difference", "measure", (pair) => pair.shown.difference],
  ["from", "measure", (pair) => pair.wide.from],
  ["to", "measure", (pair) => pair.wide.to],
  ["from90", "measure", (pair) => pair.narrow.from],
  ["to90", "measure", (pair) => pair.narrow.to],
  ["margin", "measure", (_, words) => words.margin],
  ["verdict", "text", (pair) => pair.verdict],
  ["more_shots", "number", (pair) => pair.more?.shots ?? Number.NaN],
  ["n", "number", (pair) => pair.n],
  ["n_against", "number", (pair) => pair.nAgainst],
  ["stints", "number", (pair) => (pair.ground === "order unknown" ? Number.NaN : pair.stints)],
  ["stints_against", "number", (pair) => (pair.ground === "order unknown" ? Number.NaN : pair.stintsAgainst)],
  ["df", "number", (pair) => (Number.isNaN(pair.wide.from) ? Number.NaN : pair.shown.df)],
  ["p", "number", (pair) => pair.p],
];

/** Columns of a comparison that are there but not shown until asked for. */
export const hiddenColumns: readonly string[] = ["df", "p"];

/** The columns of a comparison of a column with unit `unit`. */
export function comparisonSchema(unit: Unit | null): readonly ColumnSchema[] {
  return makers.map(([name, kind]) => ({
    name,
    kind: kind === "text" ? "text" : "number",
    unit: kind === "measure" ? unit : null,
    origin: "computed",
  }));
}

/** The columns of a comparison, one row a pair and kind of strikes. */
export function comparisonColumns(pairs: readonly JudgedPair[], words: ComparisonWords): readonly Column[] {
  const unit = words.column.unit;
  return makers.map(([name, kind, value]) => {
    const values = pairs.map((pair) => value(pair, words));
    if (name === "margin") return marginColumn(values as number[], unit);
    return kind === "text"
      ? textColumn(name, values as string[])
      : numberColumn(name, values as number[], kind === "measure" ? unit : null);
  });
}
