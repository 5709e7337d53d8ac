/** Why a file could not be read. `other case`: only a file whose name differs in capital letters or accents is there. */
export type FileFault = "missing" | "other case" | "outside" | "not a file" | "too large" | "changing" | "unsaved" | "unreadable";

/** A file's bytes with a digest of them, or why there are none. */
export type FileRead =
  | { readonly ok: true; readonly bytes: Uint8Array; readonly digest: string }
  | { readonly ok: false; readonly reason: FileFault };

/**
 * How `core` gets at files: it names a path and somebody outside reads it.
 *
 * Paths are relative to the root (workspace folder or repository), POSIX, already checked by `core/path.ts`. The port
 * answers `outside` when the real path, links resolved, leaves the root. Nothing here is ever rejected.
 */
export interface FilePort {
  readonly read: (path: string) => Promise<FileRead>;
  /** Names of the plain files in a folder, sorted by code unit; `null` when the folder cannot be listed. */
  readonly list: (folder: string) => Promise<readonly string[] | null>;
  /**
   * True when the file surely has the digest that it was once read with, told without reading it again. A port that
   * cannot tell has no such function.
   */
  readonly isCurrent?: (path: string, digest: string) => Promise<boolean>;
}
