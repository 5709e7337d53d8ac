import { digitsAsStated } from "../present/format-number";
import type { NumberColumn } from "../table/table";
import { numberColumn } from "../table/table";
import type { Unit } from "../units";

/** The column of a margin that is the same wherever a row has one, with the decimals that sentences give it. */
export function marginColumn(margins: readonly (number | null)[], unit: Unit | null): NumberColumn {
  const column = numberColumn("margin", margins, unit);
  const known = column.values.find((value) => !Number.isNaN(value));
  return known === undefined ? column : { ...column, digits: digitsAsStated(known) };
}
