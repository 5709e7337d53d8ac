import { isRecord } from "../../core/is-record";
import { kindOfCell, languageOfKind } from "../../core/notebook/cell-languages";
import type { Cell, CellForm, NotebookDocument } from "../../core/notebook/document";
import { fenced } from "../../core/notebook/fence";
import { withLf } from "../../core/notebook/lines";

/** A cell as the editor has it, in plain data. `metadata` has the key `fairstrike`, a `CellForm`, or nothing of ours. */
export interface EditorCell {
  readonly kind: "code" | "markup";
  readonly language: string;
  readonly value: string;
  readonly metadata: Readonly<Record<string, unknown>>;
}

/** A notebook as the editor has it: `metadata.fairstrike` says how its lines end and whether it has a byte order mark. */
export interface EditorNotebook {
  readonly cells: readonly EditorCell[];
  readonly metadata: Readonly<Record<string, unknown>>;
}

/** The cells that the editor shows for a document, one for each; their lines end in LF. */
export function toEditorCells(document: NotebookDocument): EditorNotebook {
  const { lineEnd, mark } = document;
  return {
    cells: document.cells.map(({ kind, text, form }) => ({
      kind: kind === "prose" ? "markup" : "code",
      language: languageOfKind[kind],
      value: text,
      metadata: Object.keys(form).length === 0 ? {} : { fairstrike: { ...form } },
    })),
    metadata: { fairstrike: { lineEnd, mark } },
  };
}

/**
 * The document that the editor's cells make, one cell for each in the same order. Never throws.
 *
 * Metadata may be missing or be anything: what is no form is not used. A code cell in a language that is not ours is
 * a fenced block of that language in the prose, unless its first line is a header. A cell without a header line stays
 * without: printing adds one.
 */
export function fromEditorCells(notebook: { readonly cells: readonly EditorCell[]; readonly metadata?: unknown }): NotebookDocument {
  const own = ownPart(notebook.metadata);
  const lineEnd = own["lineEnd"];
  return {
    cells: notebook.cells.map((cell) => fromEditorCell(cell)),
    lineEnd: lineEnd === "\r\n" || lineEnd === "\r" ? lineEnd : "\n",
    mark: own["mark"] === true,
  };
}

function fromEditorCell(cell: EditorCell): Cell {
  const text = withLf(cell.value);
  const kind = cell.kind === "markup" ? "prose" : kindOfCell(cell.language, text);
  const isForeign = kind === "prose" && cell.kind === "code" && cell.language !== languageOfKind.prose;
  return isForeign ? { kind, text: fenced(cell.language, text), form: {} } : { kind, text, form: readForm(cell.metadata) };
}

/** The form in a cell's metadata: its known properties that have a value of the right type. */
function readForm(metadata: unknown): CellForm {
  const own = ownPart(metadata);
  const text = (name: string): string | undefined => (typeof own[name] === "string" ? own[name] : undefined);
  const { indent } = own;
  const form = {
    indent: typeof indent === "number" ? indent : undefined,
    fence: text("fence"),
    closing: text("closing"),
    word: text("word"),
    gap: text("gap"),
    trail: text("trail"),
    before: text("before"),
    after: text("after"),
    raw: text("raw"),
  };
  return Object.fromEntries(Object.entries(form).filter(([, value]) => value !== undefined));
}

/** What is ours in metadata; empty when nothing is. */
function ownPart(metadata: unknown): Readonly<Record<string, unknown>> {
  if (!isRecord(metadata) || !Object.hasOwn(metadata, "fairstrike")) return {};
  const own = metadata["fairstrike"];
  return isRecord(own) ? own : {};
}
