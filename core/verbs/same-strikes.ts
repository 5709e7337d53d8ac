import { inWords } from "../chart/field-name";
import type { NumberColumn, Table, TextColumn } from "../table/table";
import { strikeColumns } from "./shot-data";
import type { UsedShots } from "./used-shots";

/** Why nothing can be said of groups at the same strikes, as a clause; `null` when something can. */
export function withoutSameStrikes(input: Table, column: NumberColumn, by: TextColumn, used: UsedShots): string | null {
  if (column.name === "strike_x" || column.name === "strike_y") return `${inWords(column.name)} is where the face was hit itself`;
  if (by.name === "zone") return "zones are where the face was hit themselves";
  const strikes = strikeColumns(input);
  if (strikes === null) return "the table has no strikes";
  if (!used.rows.some((row) => !Number.isNaN(strikes.x.values[row]! + strikes.y.values[row]!))) return "no shot has a known strike";
  return used.stint === null ? "the hitting order is not known" : null;
}
