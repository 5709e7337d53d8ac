import type { PairSpread } from "../stats/spread-comparison";
import type { ColumnSchema } from "../table/schema";
import type { Column } from "../table/table";
import { numberColumn, textColumn } from "../table/table";
import type { Unit } from "../units";

/** What is compared: the scatter of one column, or the ellipse of carry and offline. */
export interface SpreadTopic {
  /** The column, or `carry and offline` for the ellipse. */
  readonly of: string;
  /** Of the standard deviations; `null` for pure numbers and for the ellipse. */
  readonly unit: Unit | null;
  readonly kind: "column" | "ellipse";
  readonly pairs: readonly PairSpread[];
}

/** What the rows of the ellipse are of. */
export const ellipseName = "carry and offline";

interface Row {
  readonly topic: SpreadTopic;
  readonly pair: PairSpread;
  readonly groups: readonly string[];
}

/** Decimals of a ratio, in sentences as in the table. */
const ratioDigits = 2;

/** One column: its name, its kind, and its value for each pair. Scatter is in the unit of what is compared. */
type Maker = readonly [name: string, kind: "text" | "number" | "ratio" | "measure", value: (row: Row) => string | number];

const makers: readonly Maker[] = [
  ["head", "text", ({ pair, groups }) => groups[pair.of]!],
  ["against", "text", ({ pair, groups }) => groups[pair.against]!],
  ["of", "text", ({ topic }) => topic.of],
  ["ratio", "ratio", ({ pair }) => Math.exp(pair.logRatio)],
  ["from", "ratio", ({ pair }) => Math.exp(pair.byTails?.wide.from ?? Number.NaN)],
  ["to", "ratio", ({ pair }) => Math.exp(pair.byTails?.wide.to ?? Number.NaN)],
  ["from_stints", "ratio", ({ pair }) => Math.exp(pair.byStints?.wide.from ?? Number.NaN)],
  ["to_stints", "ratio", ({ pair }) => Math.exp(pair.byStints?.wide.to ?? Number.NaN)],
  ["sd", "measure", ({ pair }) => pair.sd],
  ["sd_against", "measure", ({ pair }) => pair.sdAgainst],
  ["detectable", "ratio", ({ pair }) => pair.detectable],
  ["verdict", "text", ({ pair }) => pair.verdict],
  ["n", "number", ({ pair }) => pair.n],
  ["n_against", "number", ({ pair }) => pair.nAgainst],
  ["stints", "number", ({ pair }) => (pair.ground === "order unknown" ? Number.NaN : pair.stints)],
  ["stints_against", "number", ({ pair }) => (pair.ground === "order unknown" ? Number.NaN : pair.stintsAgainst)],
  ["p", "number", ({ pair }) => pair.p],
];

/** Columns that are there but not shown until asked for. */
export const hiddenColumns: readonly string[] = ["p"];

/** The columns after comparing the scatter of columns with these units. */
export function spreadSchema(units: readonly (Unit | null)[]): readonly ColumnSchema[] {
  return placeUnit(
    units,
    makers.map(([name, kind]): ColumnSchema => ({ name, kind: kind === "text" ? "text" : "number", unit: kind === "measure" ? soleUnit(units) : null, origin: "computed" })),
    { name: "unit", kind: "text", unit: null, origin: "computed" },
  );
}

/** The rows: a pair of every topic each. `units` are those of the columns compared. */
export function spreadColumns(topics: readonly SpreadTopic[], groups: readonly string[], units: readonly (Unit | null)[]): readonly Column[] {
  const rows = topics.flatMap((topic) => topic.pairs.map((pair): Row => ({ topic, pair, groups })));
  const columns = makers.map(([name, kind, value]): Column => {
    const values = rows.map(value);
    if (kind === "text") return textColumn(name, values as string[]);
    const column = numberColumn(name, values as number[], kind === "measure" ? soleUnit(units) : null);
    return kind === "ratio" ? { ...column, digits: ratioDigits } : column;
  });
  return placeUnit(units, columns, textColumn("unit", rows.map(({ topic }) => topic.unit)));
}

/** With the column `unit` after `of` where the units differ, so that one column cannot have them all. */
function placeUnit<T extends { readonly name: string }>(units: readonly (Unit | null)[], columns: readonly T[], unit: T): readonly T[] {
  if (new Set(units).size < 2) return columns;
  const place = columns.findIndex((column) => column.name === "of") + 1;
  return [...columns.slice(0, place), unit, ...columns.slice(place)];
}

function soleUnit(units: readonly (Unit | null)[]): Unit | null {
  return new Set(units).size > 1 ? null : (units[0] ?? null);
}
