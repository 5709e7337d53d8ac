/** Why a file could not be read. `other case`: only a file whose name differs in capital letters or accents is there. */
export type FileFault = "missing" | "other case" | "outside" | "not a file" | "too large" | "changing" | "unsaved" | "unreadable";

/** A file's bytes with a digest of them, or why there are none. */
export type FileRead =
  | {
      readonly ok: true;
      /** The reader's own from now on. */
      readonly bytes: Uint8Array;
      /** Of a file that was read in part it tells the part, and the size and the times of the whole. */
      readonly digest: string;
      /** Bytes of the whole file, where `bytes` is only its beginning. */
      readonly size?: number;
    }
  | { readonly ok: false; readonly reason: FileFault };

/**
 * How `core` gets at files: it names a path and somebody outside reads it.
 *
 * Paths are relative to the root (workspace folder or repository), POSIX, already checked by `core/path.ts`. The port
 * answers `outside` when the real path, links resolved, leaves the root. Nothing here is ever rejected.
 */
export interface FilePort {
  /**
   * @param most bytes that are wanted: of a longer file its beginning may be given alone, with the size of the whole. The
   *   whole file when absent.
   */
  readonly read: (path: string, most?: number) => Promise<FileRead>;
  /** Names of the plain files in a folder, sorted by code unit; `null` when the folder cannot be listed. */
  readonly list: (folder: string) => Promise<readonly string[] | null>;
  /**
   * True when the file surely has the digest that it was once read with, told without reading it again. A port that
   * cannot tell has no such function.
   */
  readonly isCurrent?: (path: string, digest: string) => Promise<boolean>;
}
