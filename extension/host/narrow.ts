import * as vscode from "vscode";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import type { Wanted } from "../../core/query/narrow-edits";
import type { Facet } from "../../core/query/narrow-facets";
import { narrowedRequest, narrowingRequest, type NarrowedAnswer, type NarrowedParams, type NarrowingAnswer, type NarrowingParams } from "../../server/language/requests";
import { askColumn } from "./narrow-inputs";
import { isNarrowed, shotCount, wantedAll, wantedAsItIs, wantedText } from "./narrow-words";

/** Asks the language server; rejected while it does not run, or where the document changed meanwhile. */
export type Ask = <T>(method: string, params: object) => Promise<T>;

/** The command; its name stands in `package.json`. */
const command = "fairstrike.narrow";

type Narrowing = Extract<NarrowingAnswer, { ok: true }>;
type Narrowed = Extract<NarrowedAnswer, { ok: true }>;

/**
 * Registers the command that narrows the shots of a cell without code, and the action of query and chart cells that calls
 * it. What a person ticks is written into the cell's text by one edit; nothing is changed before that.
 */
export function offerNarrowing(ask: Ask): vscode.Disposable {
  const languages: ReadonlySet<string> = new Set([languageOfKind.query, languageOfKind.chart]);
  return vscode.Disposable.from(
    vscode.commands.registerCommand(command, async (given?: unknown) => {
      const place = placeOfCommand(given);
      if (place === null) return say("put the cursor into a query or chart cell first");
      await narrow(place, ask).catch(() => say("the cell has changed, or the language server does not answer: try again"));
    }),
    vscode.notebooks.registerNotebookCellStatusBarItemProvider(notebookType, {
      provideCellStatusBarItems: (cell) => {
        if (!languages.has(cell.document.languageId)) return [];
        const item = new vscode.NotebookCellStatusBarItem("$(filter) Narrow", vscode.NotebookCellStatusBarAlignment.Right);
        item.tooltip = "Narrow the shots by head, zone, session or numbers";
        item.accessibilityInformation = { label: "Narrow the shots of this cell", role: "button" };
        item.command = { title: "Narrow the Shots…", command, arguments: [cell] };
        return [item];
      },
    }),
  );
}

/** A cell of a notebook, or a place in a notebook that is open as text. */
interface Place {
  readonly params: NarrowingParams;
  readonly cell: vscode.NotebookCell | null;
}

function placeOfCommand(given: unknown): Place | null {
  const ofCell = (cell: vscode.NotebookCell): Place => ({ params: { textDocument: { uri: cell.document.uri.toString() }, position: { line: 0, character: 0 } }, cell });
  const editor = vscode.window.activeNotebookEditor;
  const cells = editor === undefined || editor.notebook.notebookType !== notebookType ? [] : editor.notebook.getCells();
  const uri = uriOfCell(given);
  const named = cells.find((cell) => cell.document.uri.toString() === uri);
  if (named !== undefined) return ofCell(named);
  const selected = cells[editor?.selection.start ?? -1];
  if (selected !== undefined) return ofCell(selected);
  const text = vscode.window.activeTextEditor;
  if (text === undefined || !text.document.uri.path.endsWith(".shots.md")) return null;
  const { line, character } = text.selection.active;
  return { params: { textDocument: { uri: text.document.uri.toString() }, position: { line, character } }, cell: null };
}

/** The document of the cell that an action hands over, or a likeness of it. */
function uriOfCell(given: unknown): string | null {
  if (typeof given !== "object" || given === null || !("document" in given)) return null;
  const { document } = given;
  return typeof document === "object" && document !== null && "uri" in document ? String(document.uri) : null;
}

async function narrow(place: Place, ask: Ask): Promise<void> {
  const found = await ask<NarrowingAnswer>(narrowingRequest, place.params);
  if (!found.ok) return say(found.because);
  if (found.isNewCell && place.cell === null) return say("this chart draws shots itself: open the notebook as one, and a query cell is put before it");
  if (found.facets.length === 0) return say("there is nothing to choose from: all rows are alike, or nothing is known of them yet");
  const wanted = new Map<string, Wanted>();
  const askFor = (more: readonly Wanted[]): Promise<NarrowedAnswer> => {
    const all = new Map([...wanted, ...more.map((each) => [each.column, each] as const)]);
    return ask<NarrowedAnswer>(narrowedRequest, { ...place.params, version: found.version, wanted: [...all.values()] } satisfies NarrowedParams);
  };
  const count = async (each: Wanted): Promise<string> => {
    const answer = await askFor([each]).catch(() => null);
    return answer === null ? "" : answer.ok ? leftText(found, answer.kept) : answer.because;
  };
  let last: string | null = null;
  for (;;) {
    const answer = await askFor([]);
    if (!answer.ok) return say(answer.because);
    const chosen = await chooseColumn(found, wanted, answer, last);
    if (chosen === "left") return;
    if (chosen === "done") return apply(place, found, answer);
    if (chosen === "all") {
      for (const facet of found.facets) wanted.set(facet.column, wantedAll(facet));
      continue;
    }
    last = chosen.column;
    const given = await askColumn(chosen, wanted.get(chosen.column) ?? wantedAsItIs(chosen), count);
    if (given !== null) wanted.set(chosen.column, given);
  }
}

/** `42 of 96 shots left`; empty where they were not counted. */
function leftText({ rows }: Narrowing, kept: number | null): string {
  return rows === null || kept === null ? "" : `${kept} of ${shotCount(rows.all)} left`;
}

interface ColumnItem extends vscode.QuickPickItem {
  readonly chosen: Facet | "done" | "all" | null;
}

/** What a person does next: a column to narrow, or one of the ends. */
async function chooseColumn(found: Narrowing, wanted: ReadonlyMap<string, Wanted>, answer: Narrowed, last: string | null): Promise<Facet | "done" | "all" | "left"> {
  const now = (facet: Facet): Wanted => wanted.get(facet.column) ?? wantedAsItIs(facet);
  const itemsOf = (kind: Facet["kind"]): readonly ColumnItem[] =>
    found.facets.filter((facet) => facet.kind === kind).map((facet) => ({ label: `${isNarrowed(facet, now(facet)) ? "$(filter-filled)" : "$(blank)"} ${facet.column}`, description: wantedText(facet, now(facet)), chosen: facet }));
  const separator = (label: string, items: readonly ColumnItem[]): readonly ColumnItem[] => (items.length === 0 ? [] : [{ label, kind: vscode.QuickPickItemKind.Separator, chosen: null }, ...items]);
  const changes = answer.edits.length > 0 || answer.newCell !== null;
  const left = leftText(found, answer.kept);
  const done: ColumnItem = {
    label: "$(check) Done",
    description: changes ? left : "nothing is changed",
    ...(changes ? { detail: `${found.isNewCell ? `a new cell ${found.name} before the chart: ` : ""}${answer.text.replace(/\s+/gu, " ").trim()}` } : {}),
    chosen: "done",
  };
  const isAny = found.facets.some((facet) => isNarrowed(facet, now(facet)));
  const pick = vscode.window.createQuickPick<ColumnItem>();
  pick.title = `Narrow the shots of ${found.name}${left === "" ? "" : `: ${left}`}`;
  pick.placeholder = "Choose a column to narrow by, or Done to write the filter";
  pick.matchOnDescription = true;
  pick.ignoreFocusOut = true;
  const all: readonly ColumnItem[] = isAny ? [{ label: "$(clear-all) Keep all", description: "take away what is narrowed here", chosen: "all" }] : [];
  pick.items = [done, ...all, ...separator("values", itemsOf("choice")), ...separator("numbers", itemsOf("range"))];
  const active = pick.items.filter(({ chosen }) => typeof chosen === "object" && chosen !== null && chosen.column === last);
  if (active.length > 0 && !changes) pick.activeItems = active;
  return new Promise((resolve) => {
    pick.onDidAccept(() => {
      const chosen = pick.activeItems[0]?.chosen ?? null;
      if (chosen === null) return;
      resolve(chosen);
      pick.hide();
    });
    pick.onDidHide(() => {
      resolve("left");
      pick.dispose();
    });
    pick.show();
  });
}

/** Writes the filter by one edit, and runs the cell that it is in with the one that was asked about. */
async function apply({ cell }: Place, { uri, version }: Narrowing, { edits, newCell }: Narrowed): Promise<void> {
  if (edits.length === 0 && newCell === null) return;
  const document = vscode.workspace.textDocuments.find((each) => each.uri.toString() === uri);
  if (document?.version !== version) return say("the cell has changed meanwhile: try again");
  const edit = new vscode.WorkspaceEdit();
  if (newCell !== null && cell !== null) {
    const query = new vscode.NotebookCellData(vscode.NotebookCellKind.Code, newCell.text, languageOfKind.query);
    const chart = new vscode.NotebookCellData(vscode.NotebookCellKind.Code, newCell.chart, cell.document.languageId);
    chart.metadata = { ...cell.metadata };
    edit.set(cell.notebook.uri, [vscode.NotebookEdit.replaceCells(new vscode.NotebookRange(cell.index, cell.index + 1), [query, chart])]);
  } else {
    for (const { range: { start, end }, newText } of edits) edit.replace(document.uri, new vscode.Range(start.line, start.character, end.line, end.character), newText);
  }
  const index = cell?.index ?? 0;
  if (!(await vscode.workspace.applyEdit(edit))) return say("the editor did not take the change");
  if (cell === null || !vscode.workspace.isTrusted) return;
  const { notebook } = cell;
  const own = notebook.getCells().findIndex((each) => each.document.uri.toString() === uri);
  const indexes = newCell !== null ? [index, index + 1] : [...new Set([own, index])].filter((each) => each >= 0).sort((a, b) => a - b);
  await vscode.commands.executeCommand("notebook.cell.execute", { ranges: indexes.map((start) => ({ start, end: start + 1 })), document: notebook.uri });
}

function say(because: string): void {
  void vscode.window.showInformationMessage(`Nothing was narrowed: ${because}.`);
}
