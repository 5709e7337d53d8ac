import type { Basis } from "../basis";
import type { CellInputs } from "../inputs-of-cell";
import type { Limits } from "../limits";
import type { Problem } from "../problem";
import type { CellOutcome } from "../run-notebook";
import type { ResultPayload } from "./payload";
import { schemaOf } from "../table/schema";
import { presentResult } from "./present-result";
import { questionOf, type Question } from "./question";
import { overviewOf, type TableOverview } from "./table-overview";

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
  /** What went into it; `null` where it was not computed. */
  readonly inputs: CellInputs | null;
  /** The resulting table in short; `null` for anything else. */
  readonly overview: TableOverview | null;
  /** What it says of the question that it answers; `null` where it answers none. */
  readonly question: Question | null;
  /** Names of what it needs and what has no result, in the order of the text: cells, or `shots`. */
  readonly blockedBy: readonly string[];
}

/** A cell's outcome as plain data, with at most `limits.rowsShown` rows of each table. */
export function presentOutcome(outcome: CellOutcome, limits: Limits): PresentedCell {
  const { index, name, status, kept, problems, value, basis, inputs } = outcome;
  const table = value?.type === "table" ? value : null;
  return {
    index,
    name,
    status,
    kept,
    problems,
    results: value === null ? [] : presentResult(value, limits),
    rowCount: table?.rowCount ?? null,
    basis,
    inputs,
    overview: table === null ? null : overviewOf(schemaOf(table)),
    question: table === null ? null : questionOf(table),
    blockedBy: status === "blocked" ? [...new Set(problems.flatMap(blockerOf))] : [],
  };
}

function blockerOf(found: Problem): readonly string[] {
  if (found.code === "run.blocked") return [found.facts.name];
  return found.code === "run.no-front-shots" || found.code === "run.no-shots" ? ["shots"] : [];
}
