import type { ColumnSchema } from "../table/schema";

/** What a column holds, in words: `numbers in yd`, `text`. */
export function columnInWords(column: Pick<ColumnSchema, "kind" | "unit">): string {
  switch (column.kind) {
    case "number":
      return column.unit === null ? "numbers without a unit" : `numbers in ${column.unit}`;
    case "text":
      return "text";
    case "truth":
      return "truth values";
  }
}
