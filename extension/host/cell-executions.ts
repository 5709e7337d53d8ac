import type * as vscode from "vscode";

/** One cell's execution as the editor shows it, from waiting to ended. */
interface Entry {
  readonly cell: vscode.NotebookCell;
  readonly execution: vscode.NotebookCellExecution;
  hasStarted: boolean;
  isEnding: boolean;
}

/**
 * The executions of one notebook. The editor allows one execution a cell at a time, so runs share them: a cell that
 * already waits is not made to wait twice.
 */
export interface CellExecutions {
  /** Shows the cell as waiting, unless it waits, runs or is ending already. */
  readonly wait: (cell: vscode.NotebookCell) => void;
  readonly isOpen: (cell: vscode.NotebookCell) => boolean;
  readonly hasStarted: (cell: vscode.NotebookCell) => boolean;
  /** Shows the cell as running. A cell that was deleted is passed over. */
  readonly begin: (cell: vscode.NotebookCell) => void;
  /** Ends the cell's execution, with these outputs or, for `null`, with those it had. */
  readonly finish: (cell: vscode.NotebookCell, success: boolean | undefined, outputs: readonly vscode.NotebookCellOutput[] | null) => void;
  /** Resolves once everything that was finished has ended in the editor too. */
  readonly settled: () => Promise<void>;
}

/** Returns the executions of one notebook; `create` and `nextOrder` are the controller's. */
export function createCellExecutions(
  create: (cell: vscode.NotebookCell) => vscode.NotebookCellExecution,
  nextOrder: () => number,
): CellExecutions {
  const entries = new Map<string, Entry>();
  const endings = new Set<Promise<void>>();
  const keyOf = (cell: vscode.NotebookCell): string => cell.document.uri.toString();

  function open(cell: vscode.NotebookCell): Entry | undefined {
    const known = entries.get(keyOf(cell));
    if (known !== undefined || cell.index < 0) return known;
    const entry: Entry = { cell, execution: create(cell), hasStarted: false, isEnding: false };
    entries.set(keyOf(cell), entry);
    return entry;
  }

  function begin(cell: vscode.NotebookCell): void {
    const entry = open(cell);
    if (entry === undefined || entry.hasStarted || entry.isEnding) return;
    entry.hasStarted = true;
    entry.execution.executionOrder = nextOrder();
    entry.execution.start(Date.now());
  }

  async function end(entry: Entry, success: boolean | undefined, outputs: readonly vscode.NotebookCellOutput[] | null): Promise<void> {
    // Taken now: showing the output is not part of the time that the cell took.
    const ended = Date.now();
    try {
      if (outputs !== null && entry.cell.index >= 0) await entry.execution.replaceOutput([...outputs]);
    } finally {
      entry.execution.end(success, ended);
      entries.delete(keyOf(entry.cell));
    }
  }

  return {
    wait: (cell) => void open(cell),
    isOpen: (cell) => entries.get(keyOf(cell))?.isEnding === false,
    hasStarted: (cell) => entries.get(keyOf(cell))?.hasStarted === true,
    begin,
    finish: (cell, success, outputs) => {
      begin(cell);
      const entry = entries.get(keyOf(cell));
      if (entry === undefined || entry.isEnding) return;
      entry.isEnding = true;
      const ending = end(entry, success, outputs).catch((error: unknown) => {
        // The cell or its notebook is gone: there is nothing left to show it in.
        console.warn("fairstrike: an output could not be shown", error);
      });
      endings.add(ending);
      void ending.then(() => endings.delete(ending));
    },
    settled: async () => {
      await Promise.all(endings);
    },
  };
}
