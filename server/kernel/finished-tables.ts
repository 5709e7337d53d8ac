import type { PresentedCell } from "../../core/present/present-outcome";
import type { TablePayload } from "../../core/present/payload";
import { keptTable } from "../../core/results/kept-table";
import type { CellOutcome } from "../../core/run-notebook";
import type { FinishedTable } from "../results/messages";
import type { ToKernel } from "./messages";

/** Where the tables of a kernel go when they are finished, so that they can be paged through without it. */
export interface FinishedTables {
  readonly sendTo: (results: Extract<ToKernel, { type: "results" }>) => void;
  /** The cell with a handle in its table, or in that of its chart, which is sent, where not all rows are shown. Without a store nothing happens. */
  readonly withHandles: (presented: PresentedCell, value: CellOutcome["value"]) => PresentedCell;
}

/** Returns the way of a kernel's finished tables, which at first lead nowhere. */
export function finishedTables(): FinishedTables {
  let to: Extract<ToKernel, { type: "results" }> | null = null;
  let sent = 0;
  return {
    sendTo: (results) => (to = results),
    withHandles: (presented, value) => {
      const table = value?.type === "chart" ? value.table : value;
      if (to === null || table?.type !== "table") return presented;
      const { prefix, port } = to;
      const withHandle = (shown: TablePayload): TablePayload => {
        if (shown.rows.length === shown.row_count) return shown;
        const handle = `${prefix}-${++sent}`;
        return post(port, { handle, table: keptTable(table) }) ? { ...shown, handle } : shown;
      };
      const results = presented.results.map((result) => {
        if (result.type === "chart") return { ...result, table: withHandle(result.table) };
        return result.type === "table" ? withHandle(result) : result;
      });
      return { ...presented, results };
    },
  };
}

/** Sends a copy; `false` where there is no memory for one, and then the table is shown without its other rows. */
function post(port: { readonly postMessage: (message: unknown) => void }, message: FinishedTable): boolean {
  try {
    port.postMessage(message);
    return true;
  } catch {
    return false;
  }
}
