import type { Problem } from "../problem";
import type { DelimitedText } from "../table/delimited-text";
import type { NumberForm } from "../table/read-number";
import type { Column } from "../table/table";
import type { ColumnMap, SourceFile } from "./session";

/** A column of an export, read, with the way back to its fields. */
export interface ExportColumn {
  readonly column: Column;
  /** Its index in the header. */
  readonly index: number;
  readonly form: NumberForm;
  /** Rows of this export, counted among its shots, whose field is not the number that the column wants. */
  readonly wrong: readonly number[];
}

/** The bytes of an export, or its beginning. */
export interface ExportBytes {
  readonly bytes: Uint8Array;
  /** Bytes of the whole export, where `bytes` is only its beginning. */
  readonly wholeBytes?: number;
}

/** One export, read with the session's map: its shots in the order of the file. */
export interface ExportShots {
  readonly source: SourceFile;
  readonly text: DelimitedText;
  /** The row of the text of each shot. */
  readonly rows: Int32Array;
  /** By name: shot columns that the session maps or the export names itself, and all others under their headers. */
  readonly columns: ReadonlyMap<string, ExportColumn>;
  /** Columns of numbers of which nothing tells which direction is positive. */
  readonly directionsAssumed: readonly ColumnMap[];
  readonly problems: readonly Problem[];
  /** True where `text` is only the beginning of the export. */
  readonly isPart: boolean;
}
