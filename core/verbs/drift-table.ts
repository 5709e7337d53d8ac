import type { ColumnSchema } from "../table/schema";
import type { Column, NumberColumn } from "../table/table";
import { numberColumn, textColumn } from "../table/table";
import type { Unit } from "../units";
import type { Drift } from "../stats/drift";
import type { Margin } from "./margins";
import type { SessionShots } from "./drift-shots";

/** One column in one session, with what there is to say of it. */
export interface DriftRow extends SessionShots {
  readonly column: NumberColumn;
  /** Number of the session among the table's. */
  readonly session: number;
  readonly sessionName: string;
  readonly drift: Drift;
  /** What is too small to matter; `null` when that is not known. */
  readonly margin: Margin | null;
}

/** One column of the result; a measure is in the unit of what is followed. */
type Maker = readonly [name: string, kind: "text" | "number" | "measure", value: (row: DriftRow) => string | number | null];

const makers: readonly Maker[] = [
  ["session", "text", (row) => row.sessionName],
  ["change", "measure", ({ drift }) => drift.change.difference],
  ["from", "measure", ({ drift }) => drift.change.interval.from],
  ["to", "measure", ({ drift }) => drift.change.interval.to],
  ["theil_sen", "measure", ({ drift }) => drift.theilSen],
  ["kendall", "number", ({ drift }) => drift.kendall],
  ["p", "number", ({ drift }) => drift.p],
  ["df", "number", ({ drift }) => (Number.isNaN(drift.change.interval.from) ? Number.NaN : drift.change.df)],
  ["alike", "text", ({ drift }) => (drift.alike === null ? null : drift.alike ? "not seen to differ" : "differ")],
  ["verdict", "text", ({ drift }) => drift.verdict],
  ["n", "number", ({ drift }) => drift.n],
  ["stints", "number", ({ drift }) => drift.stints],
];

/** Columns that are there but not shown until asked for. */
export const hiddenDriftColumns: readonly string[] = ["p", "df"];

/** The columns of a drift of columns with these units; units that differ stand in a column of their own. */
export function driftSchema(units: readonly (Unit | null)[]): readonly ColumnSchema[] {
  const text = (name: string): ColumnSchema => ({ name, kind: "text", unit: null, origin: "computed" });
  return [
    text("of"),
    ...(areMixed(units) ? [text("unit")] : []),
    ...makers.map(([name, kind]): ColumnSchema => ({
      name,
      kind: kind === "text" ? "text" : "number",
      unit: kind === "measure" && !areMixed(units) ? (units[0] ?? null) : null,
      origin: "computed",
    })),
  ];
}

/** The columns of a drift, one row a column and session. */
export function driftColumnsOf(rows: readonly DriftRow[]): readonly Column[] {
  const units = rows.map((row) => row.column.unit);
  const own = areMixed(units) ? null : (units[0] ?? null);
  return [
    textColumn("of", rows.map((row) => row.column.name)),
    ...(areMixed(units) ? [textColumn("unit", units)] : []),
    ...makers.map(([name, kind, value]) => {
      const values = rows.map(value);
      return kind === "text" ? textColumn(name, values as (string | null)[]) : numberColumn(name, values as number[], kind === "measure" ? own : null);
    }),
  ];
}

function areMixed(units: readonly (Unit | null)[]): boolean {
  return new Set(units).size > 1;
}
