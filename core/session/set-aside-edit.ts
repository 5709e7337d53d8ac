import type { Checked, TextEdit } from "../problem";
import type { ShotColumn } from "../table/shot-columns";

/** Values that a person wants to set aside, with the reason. */
export interface SetAsideRequest {
  /** Numbers of shots, in any order. */
  readonly shots: readonly number[];
  /** Columns, or `all` for every reading of the shots. */
  readonly columns: readonly ShotColumn[] | "all";
  /** Why; not blank. */
  readonly because: string;
}

/**
 * The edits that add entries to the `set_aside` of a session file, one for each request, comments and layout kept.
 */
export type MakeSetAsideEdits = (text: string, requests: readonly SetAsideRequest[]) => Checked<readonly TextEdit[] | null>;
