import type { Modelled } from "../flight/loft-change";
import type { Interval } from "../stats/mean-contrast";
import type { JudgedPair } from "../stats/judge-pair";
import type { ColumnSchema } from "../table/schema";
import type { Column, NumberColumn } from "../table/table";
import { numberColumn, textColumn } from "../table/table";

/** Whether what was measured of a pair may be the loft alone. */
export type LoftVerdict = "loft may explain it" | "loft does not explain it" | "undecided" | "no verdict";

/** One pair in one column: what the model gives for the lofts alone beside what was measured, in the column's unit. */
export interface LoftRow {
  readonly column: NumberColumn;
  readonly pair: JudgedPair;
  readonly head: string;
  readonly against: string;
  /** Stated loft of `head` less that of `against`, degrees. */
  readonly difference: number;
  readonly loftOnly: Modelled;
  readonly leftOver: number;
  /** Bounds of what is left over: those of the measured difference less the far ends of the model's range. */
  readonly leftOverInterval: Interval;
  readonly verdict: LoftVerdict;
}

/** What is left of an interval of a measured difference when the model's range is taken off. */
export function lessRange({ from, to }: Interval, { low, high }: Modelled): Interval {
  return { from: from - high, to: to - low };
}

/**
 * Whether loft alone may be all there is to a measured difference: what both methods of the comparison say once the model's
 * range is taken off, and nothing more than `undecided` where they differ, or with too few stints.
 */
export function loftVerdict(pair: JudgedPair, loftOnly: Modelled): LoftVerdict {
  if (pair.ground !== "enough" && pair.ground !== "few stints") return "no verdict";
  if (Number.isNaN(loftOnly.low + loftOnly.high)) return "no verdict";
  if (pair.ground === "few stints" || pair.bySession?.areUnlike === true || Number.isNaN(pair.otherWide.from)) return "undecided";
  const [shown, other] = [pair.wide, pair.otherWide].map((interval) => sideOf(lessRange(interval, loftOnly)));
  if (shown !== other) return "undecided";
  return shown === 0 ? "loft may explain it" : "loft does not explain it";
}

/** 1 for an interval above 0, −1 below, 0 for one that holds it. */
function sideOf({ from, to }: Interval): number {
  return from > 0 ? 1 : to < 0 ? -1 : 0;
}

/** One column of the result; measures are in the unit of the row. */
type Maker = readonly [name: string, kind: "text" | "number" | "deg", value: (row: LoftRow) => string | number | null];

const makers: readonly Maker[] = [
  ["head", "text", (row) => row.head],
  ["against", "text", (row) => row.against],
  ["loft_difference", "deg", (row) => row.difference],
  ["of", "text", (row) => row.column.name],
  ["unit", "text", (row) => row.column.unit],
  ["measured", "number", (row) => row.pair.shown.difference],
  ["from", "number", (row) => row.pair.wide.from],
  ["to", "number", (row) => row.pair.wide.to],
  ["loft_only", "number", (row) => row.loftOnly.usual],
  ["loft_only_low", "number", (row) => row.loftOnly.low],
  ["loft_only_high", "number", (row) => row.loftOnly.high],
  ["left_over", "number", (row) => row.leftOver],
  ["left_over_from", "number", (row) => row.leftOverInterval.from],
  ["left_over_to", "number", (row) => row.leftOverInterval.to],
  ["verdict", "text", (row) => row.verdict],
  ["n", "number", (row) => row.pair.n],
  ["n_against", "number", (row) => row.pair.nAgainst],
  ["stints", "number", (row) => (row.pair.ground === "order unknown" ? null : row.pair.stints)],
  ["stints_against", "number", (row) => (row.pair.ground === "order unknown" ? null : row.pair.stintsAgainst)],
];

/** Columns that are there but not shown until asked for. */
export const hiddenLoftColumns: readonly string[] = ["stints", "stints_against"];

/** The columns of what loft alone would do. */
export const loftOnlySchema: readonly ColumnSchema[] = makers.map(([name, kind]) => ({
  name,
  kind: kind === "text" ? "text" : "number",
  unit: kind === "deg" ? "deg" : null,
  origin: "computed",
}));

/** The columns of what loft alone would do, one row a pair and column. */
export function loftOnlyColumns(rows: readonly LoftRow[]): readonly Column[] {
  return makers.map(([name, kind, value]) => {
    const values = rows.map(value);
    return kind === "text" ? textColumn(name, values as (string | null)[]) : numberColumn(name, values as (number | null)[], kind === "deg" ? "deg" : null);
  });
}
