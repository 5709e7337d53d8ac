import type { Position, TextEdit } from "vscode-languageserver";
import type { FileFault, FileRead } from "../../core/file-port";
import { decodeBase64, encodeBase64 } from "../../core/present/base64";
import type { TableOverview } from "../../core/present/table-overview";
import type { Wanted } from "../../core/query/narrow-edits";
import type { Facet } from "../../core/query/narrow-facets";
import type { Unit } from "../../core/units";

/** Asks the client where a document is: the root its data may come from, and its path below it. */
export const placeRequest = "fairstrike/place";
/** Asks the client for a file's bytes. */
export const readRequest = "fairstrike/read";
/** Asks the client for the names in a folder. */
export const listRequest = "fairstrike/list";
/** Asks the client whether a file surely still has the digest it was read with. */
export const currentRequest = "fairstrike/current";

/** Asks the client for the whole of a document of which a change did not fit; it opens it again. */
export const wholeRequest = "fairstrike/whole";

/** Asks the server what the table of a cell can be narrowed to. */
export const narrowingRequest = "fairstrike/narrowing";
/** Asks the server for the edits that narrow the table of a cell. */
export const narrowedRequest = "fairstrike/narrowed";

/** Asks the server which tables a notebook has. */
export const tablesRequest = "fairstrike/tables";

/** Asks the server what the choices of a notebook can be. */
export const choicesRequest = "fairstrike/choices";

/** Schemes of documents that somebody works on; others are older versions that a comparison shows, or made by the editor. */
export const workedOnSchemes = ["file", "untitled", "vscode-vfs", "vscode-remote"] as const;

/** Names a document of the editor. */
export interface PlaceParams {
  readonly document: string;
}

/** Where a document is. */
export interface PlaceAnswer {
  /** The root's URI, without a slash at the end. */
  readonly root: string;
  /** The document's path below the root, POSIX. */
  readonly path: string;
}

/** Names a file below the root of a document. */
export interface FileParams {
  readonly document: string;
  readonly path: string;
}

/** Names a file to be read, and how much of it. */
export interface ReadParams extends FileParams {
  /** Bytes that are wanted: of a longer file only its beginning is sent. All of it when absent. */
  readonly most?: number;
}

/** Names a file and the digest it was read with. */
export interface CurrentParams extends FileParams {
  readonly digest: string;
}

/** A file's bytes in base 64, or why there are none; with `size`, the bytes of the whole, where they are only its beginning. */
export type ReadAnswer =
  | { readonly ok: true; readonly base64: string; readonly digest: string; readonly size?: number }
  | { readonly ok: false; readonly reason: FileFault };

/** The names in a folder; `null` when it cannot be listed. */
export interface ListAnswer {
  readonly names: readonly string[] | null;
}

/** False also where it cannot be told. */
export interface CurrentAnswer {
  readonly isCurrent: boolean;
}

/** Names a document of which the whole is wanted. */
export interface WholeParams {
  readonly uri: string;
  readonly kind: "notebook" | "text";
}

/** A document as it is in its editor; `null` when it is not open there. */
export type WholeAnswer =
  | { readonly kind: "notebook"; readonly version: number; readonly cells: readonly WholeText[] }
  | ({ readonly kind: "text" } & WholeText)
  | null;

/** The whole text of a document. */
export interface WholeText {
  readonly uri: string;
  readonly language: string;
  readonly version: number;
  readonly text: string;
}

/** Names a place in a query or chart cell. */
export interface NarrowingParams {
  readonly textDocument: { readonly uri: string };
  readonly position: Position;
}

/** What the table of a cell can be narrowed to, or in words why it cannot be. */
export type NarrowingAnswer =
  | { readonly ok: false; readonly because: string }
  | {
      readonly ok: true;
      /** The document that would be edited, and its version; the chart's own where a cell would be put before it. */
      readonly uri: string;
      readonly version: number;
      /** The name of the cell that is narrowed. */
      readonly name: string;
      /** True where that cell is not there yet: a chart draws `shots` itself. */
      readonly isNewCell: boolean;
      readonly facets: readonly Facet[];
      /** Rows before the filters and after them; `null` where they were not counted. */
      readonly rows: { readonly all: number; readonly kept: number } | null;
    };

/** What the table of a cell is to be narrowed to, of the version of the document that was answered about. */
export interface NarrowedParams extends NarrowingParams {
  readonly version: number;
  readonly wanted: readonly Wanted[];
}

/** The edits that narrow a table, or in words why there are none. */
export type NarrowedAnswer =
  | { readonly ok: false; readonly because: string }
  | {
      readonly ok: true;
      /** Rows that are left; `null` where they were not counted. */
      readonly kept: number | null;
      /** The cell's text afterwards, without its first line. */
      readonly text: string;
      /** Edits of the document; none where nothing has to be changed. */
      readonly edits: readonly TextEdit[];
      /** The text of a query cell to be put before a chart cell, and that of the chart; both with their first lines. */
      readonly newCell: { readonly text: string; readonly chart: string } | null;
    };

/** Names a notebook. */
export interface TablesParams {
  readonly uri: string;
}

/** One table of a notebook, as far as it is known without running anything. */
export interface TableListed {
  /** The name of the cell, `shots`, or a path as it is written. */
  readonly name: string;
  readonly kind: "shots" | "sessions" | "cell";
  /** The number of the cell that gives or names it. */
  readonly cell: number;
  /** `null` where nothing is known of it. */
  readonly overview: TableOverview | null;
}

/** The tables of a notebook, in the order in which they stand there. */
export interface TablesAnswer {
  readonly tables: readonly TableListed[];
}

/** Names a cell of a notebook, or one that is open as text. */
export interface ChoicesParams {
  readonly uri: string;
}

/** What is found in the data for one choice. */
export interface FoundChoice {
  readonly name: string;
  /** The values of its column; `null` for a column of numbers, and where they are too many or not known. */
  readonly values: readonly string[] | null;
  /** The least and the greatest number of its column; `null` where that is not known. */
  readonly range: { readonly low: number; readonly high: number } | null;
  readonly unit: Unit | null;
}

/** What is found for every choice that can be read, in their order; none where the document is no notebook. */
export interface ChoicesAnswer {
  readonly choices: readonly FoundChoice[];
}

/** The answer that sends what was read. */
export function readAnswer(read: FileRead): ReadAnswer {
  if (!read.ok) return read;
  const { bytes, ...rest } = read;
  return { ...rest, base64: encodeBase64(bytes) };
}

/** What was read, of the answer that it was sent in. */
export function readOf(answer: ReadAnswer): FileRead {
  if (!answer.ok) return answer;
  const { base64, ...rest } = answer;
  const bytes = decodeBase64(base64);
  if (bytes === null) throw new TypeError("What was read was not sent in base64.");
  return { ...rest, bytes };
}
