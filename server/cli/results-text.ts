import { defaultLimits } from "../../core/limits";
import { fittedText } from "../../core/present/fitted-text";
import type { ResultPayload } from "../../core/present/payload";
import { presentOutcome } from "../../core/present/present-outcome";
import { presentResult } from "../../core/present/present-result";
import { inert } from "../../core/present/show-value";
import type { Table } from "../../core/table/table";
import { forTerminal } from "./say-problems";
import type { RanCell } from "./run-opened";

/** Rows of a table that a terminal gets; the count of all is said. */
const rowsPrinted = 20;
/** Lines that the rows of a table may take when it is shown in parts. */
const linesPrinted = 24;

/** What a cell gave, as text for a terminal of so many columns; ends with a line end. */
export function cellText({ outcome, chosen }: RanCell, columns: number): string {
  const { results } = presentOutcome(outcome, { ...defaultLimits, rowsShown: rowsPrinted });
  const status = outcome.status === "ok" ? "" : ` (${outcome.status})`;
  return forTerminal(`${[`── ${outcome.name}${status}`, ...chosen.map(inert), ...resultTexts(results, columns)].join("\n")}\n`);
}

/** A table as text for a terminal of so many columns; ends with a line end. */
export function tableText(table: Table, columns: number): string {
  return forTerminal(`${resultTexts(presentResult(table, { ...defaultLimits, rowsShown: rowsPrinted }), columns).join("\n")}\n`);
}

function resultTexts(results: readonly ResultPayload[], columns: number): readonly string[] {
  // The picture of a table shows the numbers of the table, in the order in which its sentences say them.
  const told = results.filter((result, _, all) => result.type !== "chart" || all.length === 1);
  return told.map((result) => fittedText(result, { columns, lines: linesPrinted, elsewhere: "all with --json" }));
}
