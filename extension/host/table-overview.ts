import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import type { ColumnOverview, TableOverview } from "../../core/present/table-overview";
import { tablesRequest, type TableListed, type TablesAnswer } from "../../server/language/requests";
import type { CellResults } from "./cell-results";
import type { OutOfDate } from "./out-of-date";
import { revealCommand } from "./reveal-cell";
import { columnInWords, sizeInWords } from "./table-words";

type Ask = <T>(method: string, params: object) => Promise<T>;

const viewId = "fairstrike.tables";
/** Time after the last change before the tables are asked for again. */
const pauseMilliseconds = 300;

/** A table in the list, or one of its columns. */
type Node = { readonly kind: "table"; readonly table: Shown } | { readonly kind: "column"; readonly id: string; readonly column: ColumnOverview };

interface Shown {
  readonly listed: TableListed;
  readonly overview: TableOverview | null;
  readonly cell: vscode.NotebookCell | undefined;
  readonly isStale: boolean;
  readonly isFailed: boolean;
}

/**
 * Lists the tables of the notebook at hand: its shots and each named cell's, with their columns. What was run has the rows that
 * it gave; the rest is what the language server knows without running it.
 */
export function showTables(ask: Ask, results: CellResults, outOfDate: OutOfDate): vscode.Disposable {
  const changes = new vscode.EventEmitter<void>();
  let notebook: vscode.NotebookDocument | undefined;
  let listed: readonly TableListed[] = [];
  let timer: ReturnType<typeof setTimeout> | undefined;

  async function refresh(): Promise<void> {
    const asked = notebook;
    const found = asked === undefined ? [] : await ask<TablesAnswer>(tablesRequest, { uri: asked.uri.toString() }).then(({ tables }) => tables, () => null);
    if (asked !== notebook) return;
    // A server that is busy or was asked about an older text is asked again; the list stays as it was.
    if (found === null) return refreshSoon(1000);
    listed = found;
    view.description = asked === undefined ? "" : vscode.workspace.asRelativePath(asked.uri);
    changes.fire();
  }

  function refreshSoon(pause = pauseMilliseconds): void {
    clearTimeout(timer);
    timer = setTimeout(() => void refresh(), pause);
  }

  function turnTo(editor: vscode.NotebookEditor | undefined): void {
    // Another editor or a panel has the focus: the last notebook stays, as long as it is open.
    if (editor === undefined && isOpen(notebook)) return;
    notebook = editor?.notebook.notebookType === notebookType ? editor.notebook : undefined;
    refreshSoon(0);
  }

  function shown(table: TableListed): Shown {
    const cell = table.cell < 0 || notebook === undefined || table.cell >= notebook.cellCount ? undefined : notebook.cellAt(table.cell);
    const result = cell === undefined || table.kind !== "cell" ? undefined : results.of(cell);
    const isShown = result !== undefined && result.name === table.name;
    const isStale = cell !== undefined && isShown && outOfDate.changed(cell).length > 0;
    return { listed: table, overview: (isShown ? result.overview : null) ?? table.overview, cell, isStale, isFailed: isShown && result.status !== "ok" };
  }

  const view = vscode.window.createTreeView<Node>(viewId, {
    treeDataProvider: {
      onDidChangeTreeData: changes.event,
      getChildren: (node) => {
        if (node === undefined) return listed.map((table): Node => ({ kind: "table", table: shown(table) }));
        if (node.kind === "column") return [];
        return (node.table.overview?.columns ?? []).map((column): Node => ({ kind: "column", id: `${node.table.listed.name}/${column.name}`, column }));
      },
      getTreeItem: (node) => (node.kind === "table" ? tableItem(node.table) : columnItem(node.id, node.column)),
    },
    showCollapseAll: true,
  });
  const owned = vscode.Disposable.from(
    changes,
    view,
    vscode.window.onDidChangeActiveNotebookEditor(turnTo),
    vscode.window.tabGroups.onDidChangeTabs(({ closed }) => (closed.length > 0 && notebook !== undefined && !isOpen(notebook) ? turnTo(vscode.window.activeNotebookEditor) : undefined)),
    vscode.workspace.onDidChangeNotebookDocument(({ notebook: changed }) => (changed === notebook ? refreshSoon() : undefined)),
    vscode.workspace.onDidChangeTextDocument(({ document }) => (notebook?.getCells().some((cell) => cell.document === document) === true ? refreshSoon() : undefined)),
    results.onDidChange((changed) => (changed === notebook ? changes.fire() : undefined)),
    outOfDate.onDidChange((changed) => (changed === notebook ? refreshSoon() : undefined)),
    { dispose: () => clearTimeout(timer) },
  );
  void vscode.commands.executeCommand("setContext", "fairstrike.isActive", true);
  turnTo(vscode.window.activeNotebookEditor);
  return owned;
}

/** True while a tab shows the notebook; the editor may keep its document for a long time after the last tab. */
function isOpen(notebook: vscode.NotebookDocument | undefined): boolean {
  const shown = notebook?.uri.toString();
  return vscode.window.tabGroups.all.some(({ tabs }) => tabs.some(({ input }) => input instanceof vscode.TabInputNotebook && input.uri.toString() === shown));
}

function tableItem({ listed, overview, cell, isStale, isFailed }: Shown): vscode.TreeItem {
  const hasColumns = overview !== null && overview.columns.length > 0;
  const item = new vscode.TreeItem(listed.name, hasColumns ? vscode.TreeItemCollapsibleState.Collapsed : vscode.TreeItemCollapsibleState.None);
  const state = [isStale ? "out of date" : "", isFailed ? "no result" : ""].filter(Boolean);
  const words = [sizeInWords(overview), ...state].join(", ");
  item.id = `${listed.kind}/${listed.name}`;
  item.description = words;
  item.tooltip = `${listed.name}: ${words}`;
  item.iconPath = new vscode.ThemeIcon(isFailed ? "warning" : isStale ? "history" : listed.kind === "cell" ? "table" : "database");
  item.accessibilityInformation = { label: `${listed.kind === "cell" ? "Table" : "Shots"} ${listed.name}, ${words}` };
  if (cell !== undefined) item.command = { title: "Show the cell", command: revealCommand, arguments: [cell.document.uri.toString()] };
  return item;
}

function columnItem(id: string, column: ColumnOverview): vscode.TreeItem {
  const item = new vscode.TreeItem(column.name, vscode.TreeItemCollapsibleState.None);
  const words = columnInWords(column);
  item.id = `column/${id}`;
  item.description = words;
  item.tooltip = `${column.name}: ${words}`;
  item.iconPath = new vscode.ThemeIcon(column.kind === "number" ? "symbol-number" : column.kind === "text" ? "symbol-string" : "symbol-boolean");
  item.accessibilityInformation = { label: `Column ${column.name}, ${words}` };
  return item;
}
