import * as vscode from "vscode";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import type { CellResults } from "./cell-results";
import type { OutOfDate } from "./out-of-date";
import { revealCommand } from "./reveal-cell";
import { changedInWords, rowsInWords, setAsideInWords, type StatusWords } from "./status-words";

/** What following the exports adds to the status of cells. */
export interface Followed {
  /** What is told of a cell's question while its exports are followed. */
  readonly questionOf: (cell: vscode.NotebookCell) => StatusWords | null;
  readonly onDidChange: vscode.Event<vscode.NotebookDocument>;
}

const languages: ReadonlySet<string> = new Set([languageOfKind.query, languageOfKind.chart]);

/** Shows below each cell what keeps its result from holding, then what went in and came out, the time, and what is set aside. */
export function showCellStatus(results: CellResults, outOfDate: OutOfDate, followed: Followed): vscode.Disposable {
  const changes = new vscode.EventEmitter<void>();
  const fire = (): void => changes.fire();
  return vscode.Disposable.from(
    changes,
    results.onDidChange(fire),
    outOfDate.onDidChange(fire),
    followed.onDidChange(fire),
    vscode.notebooks.registerNotebookCellStatusBarItemProvider(notebookType, {
      onDidChangeCellStatusBarItems: changes.event,
      provideCellStatusBarItems: (cell) => (languages.has(cell.document.languageId) ? itemsOf(cell, results, outOfDate, followed) : []),
    }),
  );
}

function itemsOf(cell: vscode.NotebookCell, results: CellResults, outOfDate: OutOfDate, followed: Followed): vscode.NotebookCellStatusBarItem[] {
  const result = results.of(cell);
  // Of a notebook that was opened again nothing is shown, whatever is remembered.
  if (result === undefined || (cell.outputs.length === 0 && cell.executionSummary?.timing === undefined)) return [];
  const changed = outOfDate.changed(cell);
  const items: vscode.NotebookCellStatusBarItem[] = [];
  if (changed.length > 0) {
    const item = itemOf("history", changedInWords(changed), 100);
    item.command = {
      title: "Run the cell",
      command: "notebook.cell.execute",
      arguments: [{ ranges: [{ start: cell.index, end: cell.index + 1 }], document: cell.notebook.uri }],
    };
    items.push(item);
  }
  if (result.blockedBy.length > 0) items.push(blockedItem(cell, result.blockedBy, results));
  const question = followed.questionOf(cell);
  if (question !== null) items.push(itemOf("target", question, 80));
  const rows = rowsInWords(result, result.milliseconds);
  if (rows !== null && rows.short !== "") items.push(itemOf(null, rows, 70));
  const aside = setAsideInWords(result);
  if (aside !== null) items.push(itemOf("circle-slash", aside, 60));
  return items;
}

function blockedItem(cell: vscode.NotebookCell, names: readonly string[], results: CellResults): vscode.NotebookCellStatusBarItem {
  const [first = ""] = names;
  const target = results.named(cell.notebook, first);
  const where = first === "shots" ? "the front matter" : first;
  const long = `Blocked: ${names.join(", ")} ${names.length === 1 ? "has" : "have"} no result, and this cell needs ${names.length === 1 ? "it" : "them"}.${target === undefined ? "" : ` Go to ${where}.`}`;
  const item = itemOf("debug-disconnect", { short: `Blocked by ${names.join(", ")}`, long }, 90);
  if (target !== undefined) item.command = { title: `Go to ${where}`, command: revealCommand, arguments: [target.document.uri.toString()] };
  return item;
}

function itemOf(icon: string | null, { short, long }: StatusWords, priority: number): vscode.NotebookCellStatusBarItem {
  const item = new vscode.NotebookCellStatusBarItem(`${icon === null ? "" : `$(${icon}) `}${short}`, vscode.NotebookCellStatusBarAlignment.Left);
  item.tooltip = long;
  item.priority = priority;
  item.accessibilityInformation = { label: long };
  return item;
}
