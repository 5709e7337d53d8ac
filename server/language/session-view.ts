import type { ExportProfile } from "../../core/session-loader";
import type { Session } from "../../core/session/session";
import type { Table } from "../../core/table/table";
import type { YamlNode } from "../../core/yaml-text";

/** One version of a session file with what is known of its exports. Offsets and places are in `text`. */
export interface SessionView {
  /** The session file's path below the root, POSIX. */
  readonly path: string;
  readonly text: string;
  /** `null` for a text that is no map. */
  readonly session: Session | null;
  readonly tree: YamlNode | null;
  /** One for each export that could be read, in the order of `sources`. */
  readonly exports: readonly ExportProfile[];
  /** The shots' columns without rows; `null` while the shots cannot be had. */
  readonly shots: Table | null;
  readonly listFolder: (folder: string) => Promise<readonly string[]>;
}
