import type { Problem } from "../problem";
import { problem } from "../problem";
import type { TextRange } from "../text-position";
import type { ChartKind } from "./vocabulary";

/**
 * What keeps a chart from being drawn of a table with these columns: a problem for each column that it needs, or one in all
 * for a chart of the table of a verb.
 */
export function lackedBy({ name, needs, tableOf, help }: ChartKind, columns: readonly string[]): readonly ((range: TextRange) => Problem)[] {
  const missing = needs.filter((needed) => !columns.includes(needed));
  if (missing.length === 0) return [];
  if (tableOf !== undefined) return [(range) => problem("query.table-of", { chart: `chart.${name}`, verb: tableOf, missing, example: help.example }, range)];
  return missing.map((needed) => (range) => problem("query.unknown-column", { name: needed, candidates: columns }, range));
}
