import type { OptionValues } from "../query/vocabulary";
import type { Schema } from "../table/schema";
import { isConvertible } from "../units";
import type { Refused } from "./verb-problem";
import { refuse } from "./verb-problem";

/** Intents that tell best what a miss costs, and are used beside stock shots. */
export const offCentre: readonly string[] = ["toe", "heel", "high", "low"];

/** The name of the column that is lost off the centre: as told, else ball speed. */
export function lossName(values: OptionValues): string {
  return typeof values["of"] === "string" ? values["of"] : "ball_speed";
}

/** The refusal of a table without strikes, or without what is lost; `null` when it has both, or may have them. */
export function missingLossColumns(input: Schema, values: OptionValues): Refused | null {
  if (input.open) return null;
  const numbers = input.columns.filter((column) => column.kind === "number");
  const missing = ["strike_x", "strike_y"].filter((name) => !numbers.some((column) => column.name === name && column.unit !== null && isConvertible(column.unit, "mm")));
  if (missing.length > 0) return refuse(null, "trade.no-strikes", { missing });
  const name = lossName(values);
  return numbers.some((column) => column.name === name) ? null : refuse(null, "trade.no-loss-column", { name });
}
