import type { CheckedCell, CheckedNotebook } from "../../core/check-notebook";
import type { CellKind } from "../../core/notebook/document";
import type { Sources } from "../../core/notebook-sources";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import type { ReadNotebook } from "../../core/read-cells";

/** A cell as it was checked. Offsets of everything said of it are in `text`, whose lines end in LF. */
export interface CellView {
  readonly index: number;
  readonly kind: CellKind;
  readonly text: string;
  readonly checked: CheckedCell;
}

/**
 * One version of a notebook, checked, as every feature of the language server reads it: nothing is run, and tables
 * have columns, kinds, units and counts but no rows.
 */
export interface NotebookView {
  /** The notebook's path below the root, POSIX. */
  readonly path: string;
  readonly cells: readonly CellView[];
  readonly notebook: ReadNotebook;
  readonly sources: Sources;
  readonly checked: CheckedNotebook;
  /** What the cell `index` is checked against: every table but its own. */
  readonly surroundingsOf: (index: number) => QuerySurroundings;
  /** Files and folders below the root whose names can complete a path, as the folder of the notebook sees them. */
  readonly listFolder: (folder: string) => Promise<readonly string[]>;
}
