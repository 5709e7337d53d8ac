import type { CheckedCell } from "../../core/check-notebook";
import type { Schema } from "../../core/table/schema";
import { columnInBrief } from "./column-hover";

/** What a query or chart cell gives, in words and on one line: `5 columns, 3 rows`, `chart of stock`, `text`. */
export function resultInWords({ kind, header, query, schema }: CheckedCell): string {
  if (kind === "chart") return header?.table === null || header?.table === undefined ? "chart" : `chart of ${header.table}`;
  switch (query?.result.type) {
    case "text":
      return "text";
    case "chart":
      return `${query.result.kind} chart`;
    case "table":
      return schemaInWords(query.result.schema);
    case undefined:
      return schema === null ? "" : schemaInWords(schema);
  }
}

/** How many columns and rows a table has, as far as that is known: `5 columns, 3 rows`. */
export function schemaInWords({ columns, open, rowCount }: Schema): string {
  const many = `${columns.length} ${columns.length === 1 ? "column" : "columns"}`;
  const known = open ? (columns.length === 0 ? "columns not known" : `${many} or more`) : many;
  return rowCount === undefined ? known : `${known}, ${rowCount} ${rowCount === 1 ? "row" : "rows"}`;
}

/** The columns of a table in brief, in at most `most` characters: `head, n, typical yd …`. */
export function columnsInBrief(columns: Schema["columns"], most: number): string {
  return listInBrief(columns.map(columnInBrief), most);
}

/** The items one behind another as long as they fit, and an ellipsis for the others. The first one always stands. */
export function listInBrief(items: readonly string[], most: number): string {
  let text = "";
  for (const [i, item] of items.entries()) {
    const longer = i === 0 ? item : `${text}, ${item}`;
    const isLast = i === items.length - 1;
    if (i > 0 && longer.length > (isLast ? most : most - 2)) return `${text} …`;
    text = longer;
  }
  return text;
}
