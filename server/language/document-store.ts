import type {
  DidChangeNotebookDocumentParams,
  DidChangeTextDocumentParams,
  DidOpenNotebookDocumentParams,
  NotebookCell,
  TextDocumentContentChangeEvent,
  TextDocumentItem,
} from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";

/** A notebook as it is open in an editor: its cells in order, each with its document. */
export interface OpenedNotebook {
  readonly uri: string;
  readonly version: number;
  readonly cells: readonly TextDocument[];
}

/** What a change touched: a notebook, or a text that is no cell. */
export interface Touched {
  readonly uri: string;
  readonly kind: "notebook" | "text";
  /** Cells whose text is another now. */
  readonly cells: readonly string[];
}

/** Documents as editors have them. Each method gives what was touched, `null` for nothing, or `out of step`. */
export interface DocumentStore {
  readonly openNotebook: (params: DidOpenNotebookDocumentParams) => Touched;
  readonly changeNotebook: (params: DidChangeNotebookDocumentParams) => Touched | OutOfStep | null;
  readonly closeNotebook: (uri: string) => Touched | null;
  readonly openText: (item: TextDocumentItem) => Touched;
  readonly changeText: (params: DidChangeTextDocumentParams) => Touched | OutOfStep | null;
  readonly closeText: (uri: string) => Touched | null;
  readonly notebook: (uri: string) => OpenedNotebook | null;
  readonly text: (uri: string) => TextDocument | null;
  readonly notebooks: () => readonly OpenedNotebook[];
  readonly texts: () => readonly TextDocument[];
  /** The notebook that a cell is in, and its number there; `null` when it is in none. */
  readonly notebookOf: (cell: string) => { readonly notebook: OpenedNotebook; readonly index: number } | null;
  /** The version of a cell or text that is open. */
  readonly versionOf: (uri: string) => number | undefined;
  /** The versions of all cells and texts, as they are now. */
  readonly versions: () => ReadonlyMap<string, number>;
}

/** A change that does not fit what is known of its document: the whole of it is needed. */
export interface OutOfStep {
  readonly outOfStep: string;
  readonly kind: "notebook" | "text";
}

/**
 * Returns an empty store.
 *
 * A message that was sent twice or is older than what is known changes nothing. One that cannot be applied as it stands
 * (an unknown document, a cell that is not there, a place outside the text) changes nothing either, and says that the
 * document is out of step. Nothing throws.
 */
export function createDocumentStore(): DocumentStore {
  const notebooks = new Map<string, OpenedNotebook>();
  const cellOwners = new Map<string, string>();
  const texts = new Map<string, TextDocument>();
  const touchedIn = (uri: string, kind: Touched["kind"], cells: readonly string[] = []): Touched => ({ uri, kind, cells });

  function put(notebook: OpenedNotebook): void {
    for (const cell of notebooks.get(notebook.uri)?.cells ?? []) cellOwners.delete(cell.uri);
    for (const cell of notebook.cells) cellOwners.set(cell.uri, notebook.uri);
    notebooks.set(notebook.uri, notebook);
  }

  function openNotebook({ notebookDocument, cellTextDocuments }: DidOpenNotebookDocumentParams): Touched {
    const documents = new Map(cellTextDocuments.map((item) => [item.uri, documentOf(item)]));
    const cells = once(notebookDocument.cells).flatMap(({ document }) => documents.get(document) ?? []);
    put({ uri: notebookDocument.uri, version: notebookDocument.version, cells });
    return touchedIn(notebookDocument.uri, "notebook", cells.map((cell) => cell.uri));
  }

  function changeNotebook({ notebookDocument: { uri, version }, change }: DidChangeNotebookDocumentParams): Touched | OutOfStep | null {
    const before = notebooks.get(uri);
    const outOfStep: OutOfStep = { outOfStep: uri, kind: "notebook" };
    if (before === undefined) return outOfStep;
    if (version < before.version) return null;
    const documents = new Map(before.cells.map((cell) => [cell.uri, cell]));
    let order = before.cells.map((cell) => cell.uri);
    const touched = new Set<string>();
    const { structure, data, textContent } = change.cells ?? {};
    // Sent twice it would move the cells twice. The text of a cell may come before the notebook is counted up.
    if (structure !== undefined && version <= before.version) return null;
    if (structure !== undefined) {
      const { start, deleteCount, cells = [] } = structure.array;
      if (!isCount(start) || !isCount(deleteCount) || start + deleteCount > order.length) return outOfStep;
      for (const item of structure.didOpen ?? []) documents.set(item.uri, documentOf(item));
      order.splice(start, deleteCount, ...cells.map((cell) => cell.document));
      // What was only moved keeps its document; what was closed and is not in the notebook any more loses it.
      for (const { uri: closed } of structure.didClose ?? []) if (!order.includes(closed)) documents.delete(closed);
      if (new Set(order).size < order.length || order.some((cell) => !documents.has(cell))) return outOfStep;
      for (const { document } of cells) touched.add(document);
    }
    // The kind of a cell is told by its text and language, which come with its document.
    for (const { document } of data ?? []) if (documents.has(document)) touched.add(document);
    for (const { document, changes } of textContent ?? []) {
      const known = documents.get(document.uri);
      if (known === undefined) return outOfStep;
      if (document.version <= known.version) continue;
      const changed = update(known, changes, document.version);
      if (changed === null) return outOfStep;
      documents.set(document.uri, changed);
      touched.add(document.uri);
    }
    order = order.filter((cell) => documents.has(cell));
    put({ uri, version, cells: order.map((cell) => documents.get(cell)!) });
    return touchedIn(uri, "notebook", [...touched]);
  }

  function closeNotebook(uri: string): Touched | null {
    const before = notebooks.get(uri);
    if (before === undefined) return null;
    for (const cell of before.cells) cellOwners.delete(cell.uri);
    notebooks.delete(uri);
    return touchedIn(uri, "notebook");
  }

  function changeText({ textDocument: { uri, version }, contentChanges }: DidChangeTextDocumentParams): Touched | OutOfStep | null {
    const before = texts.get(uri);
    const outOfStep: OutOfStep = { outOfStep: uri, kind: "text" };
    if (before === undefined) return outOfStep;
    if (version <= before.version) return null;
    const changed = update(before, contentChanges, version);
    if (changed === null) return outOfStep;
    texts.set(uri, changed);
    return touchedIn(uri, "text");
  }

  function notebookOf(cell: string): { readonly notebook: OpenedNotebook; readonly index: number } | null {
    const notebook = notebooks.get(cellOwners.get(cell) ?? "");
    const index = notebook?.cells.findIndex((each) => each.uri === cell) ?? -1;
    return notebook === undefined || index < 0 ? null : { notebook, index };
  }

  return {
    openNotebook,
    changeNotebook,
    closeNotebook,
    openText: (item) => {
      texts.set(item.uri, documentOf(item));
      return touchedIn(item.uri, "text");
    },
    changeText,
    closeText: (uri) => (texts.delete(uri) ? touchedIn(uri, "text") : null),
    notebook: (uri) => notebooks.get(uri) ?? null,
    text: (uri) => texts.get(uri) ?? null,
    notebooks: () => [...notebooks.values()],
    texts: () => [...texts.values()],
    notebookOf,
    versionOf: (uri) => {
      const cell = notebookOf(uri);
      return cell === null ? texts.get(uri)?.version : cell.notebook.cells[cell.index]!.version;
    },
    versions: () => new Map([...texts.values(), ...[...notebooks.values()].flatMap(({ cells }) => cells)].map(({ uri, version }) => [uri, version])),
  };
}

function documentOf({ uri, languageId, version, text }: TextDocumentItem): TextDocument {
  return TextDocument.create(uri, languageId, version, text);
}

function once(cells: readonly NotebookCell[]): readonly NotebookCell[] {
  const seen = new Set<string>();
  return cells.filter(({ document }) => !seen.has(document) && seen.add(document));
}

function isCount(value: number): boolean {
  return Number.isInteger(value) && value >= 0;
}

/** A new document with the changes applied; `null` when one of them is not within the text. */
function update(before: TextDocument, changes: readonly TextDocumentContentChangeEvent[], version: number): TextDocument | null {
  let document = TextDocument.create(before.uri, before.languageId, before.version, before.getText());
  for (const change of changes) {
    if ("range" in change && !isWithin(document, change.range)) return null;
    document = TextDocument.update(document, [change], version);
  }
  return document;
}

function isWithin(document: TextDocument, { start, end }: { readonly start: Place; readonly end: Place }): boolean {
  const isPlace = ({ line, character }: Place): boolean => {
    if (!isCount(line) || !isCount(character) || line >= document.lineCount) return false;
    return document.offsetAt({ line, character }) - document.offsetAt({ line, character: 0 }) === character;
  };
  return isPlace(start) && isPlace(end) && document.offsetAt(start) <= document.offsetAt(end);
}

type Place = { readonly line: number; readonly character: number };
