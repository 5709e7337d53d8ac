import { fieldText } from "../table/delimited-text";
import type { TextRange } from "../text-position";
import type { ExportShots } from "./export-shots";

/** What is known of an export without its rows. */
export interface ExportProfile {
  /** Relative to the root. */
  readonly path: string;
  /** The header's names in order, as written, each with its place in the export and the first few values under it. */
  readonly headers: readonly { readonly name: string; readonly range: TextRange; readonly values: readonly string[] }[];
  /** Shots in what was read of it. */
  readonly rowCount: number;
  /** True where only the beginning of the export was read. */
  readonly isPart?: true;
}

/** Different values that are shown of each column. Common practice, no source. */
const mostValues = 5;

/** Shots that are looked at for them: a column with fewer values than that many shots show has few. */
const mostRows = 200;

/** UTF-16 units of a value that is shown; a longer one is left out. */
const longestValue = 80;

/** The profile of an export that was read, its path as the session gives it. */
export function exportProfile({ source, text, rows, isPart }: ExportShots): ExportProfile {
  const headers = text.header.map(({ name, range }, column) => {
    const values = new Set<string>();
    for (let i = 0; i < Math.min(rows.length, mostRows) && values.size < mostValues; i++) {
      const value = (fieldText(text, rows[i]!, column) ?? "").trim();
      if (value !== "" && value.length <= longestValue) values.add(value);
    }
    return { name, range, values: [...values] };
  });
  return { path: source.file, headers, rowCount: rows.length, ...(isPart ? { isPart } : {}) };
}
