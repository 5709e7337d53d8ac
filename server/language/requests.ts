import type { FileFault, FileRead } from "../../core/file-port";

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

/** Schemes of documents that somebody works on; others are older versions that a comparison shows, or made by the editor. */
export const workedOnSchemes = ["file", "untitled", "vscode-vfs"] as const;

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

/** The answer that sends what was read. */
export function readAnswer(read: FileRead): ReadAnswer {
  if (!read.ok) return read;
  const { bytes, ...rest } = read;
  return { ...rest, base64: Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("base64") };
}

/** What was read, of the answer that it was sent in. */
export function readOf(answer: ReadAnswer): FileRead {
  if (!answer.ok) return answer;
  const { base64, ...rest } = answer;
  return { ...rest, bytes: Buffer.from(base64, "base64") };
}
