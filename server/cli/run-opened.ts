import { defaultLimits } from "../../core/limits";
import { readHeader } from "../../core/notebook/read-header";
import { chosenLines } from "../../core/present/chosen-lines";
import type { Problem } from "../../core/problem";
import { createEngine, type CellOutcome, type RunOutcome } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../node-files";
import { UsageError, type Terminal } from "./command";
import type { OpenNotebook } from "./open-notebook";

/** A cell that was run. */
export interface RanCell {
  readonly outcome: CellOutcome;
  /** What is chosen behind its result, in sentences. */
  readonly chosen: readonly string[];
  /** Its problems, placed in the notebook's file. */
  readonly problems: readonly Problem[];
}

/** A notebook that was run, as far as it could be read. */
export interface RanNotebook {
  readonly opened: OpenNotebook;
  /** The cells that were run, in the order of the page. */
  readonly cells: readonly RanCell[];
  /** Problems outside of every cell that was run, placed in their files. */
  readonly problems: readonly Problem[];
  /** Files that the results come from, relative to the notebook's root. */
  readonly inputs: readonly string[];
  /** The run itself; `null` when the file cannot be read as a notebook. */
  readonly outcome: RunOutcome | null;
}

/**
 * Runs an opened notebook, or of it one cell and what that needs.
 *
 * @param cell the number of the cell; `null` for all.
 */
export async function runOpened(opened: OpenNotebook, cell: number | null, terminal: Terminal): Promise<RanNotebook> {
  const { document, place } = opened;
  if (document === null) return { opened, cells: [], problems: opened.problems, inputs: [], outcome: null };
  const files = nodeFiles(place.root, defaultLimits.fileBytes);
  const engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: terminal.clock, onFault: terminal.onFault });
  const outcome = await engine.run(document, place.path, cell === null ? {} : { only: [cell] });
  const { checked, cells, problems, inputs } = outcome;
  const placed = (index: number, found: readonly Problem[]): readonly Problem[] => found.map((each) => opened.inNotebook(index, each));
  const outside = checked.cells.filter(({ kind }) => kind !== "query" && kind !== "chart");
  return {
    opened,
    cells: [...cells].sort((a, b) => a.index - b.index).map((outcome) => ({ outcome, chosen: chosenLines(checked, outcome.index), problems: placed(outcome.index, outcome.problems) })),
    problems: [...opened.problems, ...outside.flatMap((each) => placed(each.index, each.problems)), ...problems],
    inputs: inputs.map((input) => input.path),
    outcome,
  };
}

/**
 * The number of the cell called `name`; of several, that of the first.
 *
 * @throws {UsageError} when there is none.
 */
export function indexOfCell(name: string, opened: OpenNotebook): number | null {
  if (opened.document === null) return null;
  const names = opened.document.cells.map(({ kind, text }) =>
    kind === "query" || kind === "chart" ? (readHeader(text.split("\n", 1)[0]!).value?.name ?? null) : null,
  );
  const index = names.indexOf(name);
  if (index >= 0) return index;
  const known = names.filter((each) => each !== null);
  throw new UsageError(`there is no cell ${JSON.stringify(name)}; ${known.length === 0 ? "the notebook has none" : `there are ${known.join(", ")}`}`);
}
