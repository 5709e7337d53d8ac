import type { ShotData } from "../stats/shot-data";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import { convert } from "../units";
import type { UsedShots } from "./used-shots";

/** The strike columns of a table that has both, in a unit of length; `null` for any other. */
export function strikeColumns(table: Table): { readonly x: NumberColumn; readonly y: NumberColumn } | null {
  const [x, y] = [findColumn(table, "strike_x"), findColumn(table, "strike_y")];
  return x?.kind === "number" && y?.kind === "number" && x.unit !== null && y.unit !== null ? { x, y } : null;
}

/**
 * The used shots that have a value of `column`, as data for a model.
 *
 * @param withStrikes true to take only shots whose strike is known too, and to give the strikes in mm.
 */
export function shotData(table: Table, column: NumberColumn, used: UsedShots, withStrikes = false): ShotData {
  const strikes = withStrikes ? strikeColumns(table) : null;
  const present = presentShots(table, column, used, withStrikes);
  const inMillimetres = ({ values, unit }: NumberColumn): Float64Array =>
    Float64Array.from(present, (i) => convert(values[used.rows[i]!]!, unit!, "mm"));
  return {
    groupCount: used.groups.length,
    group: present.map((i) => used.group[i]!),
    session: present.map((i) => used.session[i]!),
    stint: Float64Array.from(present, (i) => used.stint?.[i] ?? i),
    time: Float64Array.from(present, (i) => used.time[i]!),
    value: Float64Array.from(present, (i) => column.values[used.rows[i]!]!),
    strike: strikes === null ? null : { x: inMillimetres(strikes.x), y: inMillimetres(strikes.y) },
  };
}

/** The used shots that `shotData` takes, by their places among the used ones. */
export function presentShots(table: Table, column: NumberColumn, used: UsedShots, withStrikes = false): Int32Array {
  const strikes = withStrikes ? strikeColumns(table) : null;
  const isKnown = (row: number): boolean =>
    !Number.isNaN(column.values[row]!) && (strikes === null || !Number.isNaN(strikes.x.values[row]! + strikes.y.values[row]!));
  return Int32Array.from(Array.from(used.rows.keys()).filter((i) => isKnown(used.rows[i]!)));
}
