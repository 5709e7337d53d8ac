import type { Basis } from "../basis";
import type { Limits } from "../limits";
import type { Problem } from "../problem";
import type { CellOutcome } from "../run-notebook";
import type { ResultPayload } from "./payload";
import { presentResult } from "./present-result";

/** What running a cell gave, as it travels to an editor or into a file: plain data only. */
export interface PresentedCell {
  readonly index: number;
  readonly name: string;
  readonly status: CellOutcome["status"];
  /** True when the result of an earlier run still holds and nothing was computed. */
  readonly kept: boolean;
  readonly problems: readonly Problem[];
  /** The results to show, in order: a verb of the trade gives its picture and its table. */
  readonly results: readonly ResultPayload[];
  /** Rows of the resulting table; `null` for anything else. */
  readonly rowCount: number | null;
  /** What it was computed from. */
  readonly basis: Basis;
}

/** A cell's outcome as plain data, with at most `limits.rowsShown` rows of each table. */
export function presentOutcome(outcome: CellOutcome, limits: Limits): PresentedCell {
  const { index, name, status, kept, problems, value, basis } = outcome;
  return {
    index,
    name,
    status,
    kept,
    problems,
    results: value === null ? [] : presentResult(value, limits),
    rowCount: value?.type === "table" ? value.rowCount : null,
    basis,
  };
}
