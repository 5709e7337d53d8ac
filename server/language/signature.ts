import { bodyOffset } from "../../core/notebook/read-header";
import { textForms } from "../../core/query/text-forms";
import type { Vocabulary } from "../../core/query/vocabulary";
import type { SignatureAnswer } from "./answers";
import {
  shapeOfAggregate,
  shapeOfChart,
  shapeOfDesc,
  shapeOfEnding,
  shapeOfFunction,
  shapeOfSource,
  shapesOfOpening,
  shapeOfVerb,
  signatureOf,
  type CallShape,
} from "./call-words";
import { cursorContext, type CursorContext, type Frame } from "./cursor-context";
import type { NotebookView } from "./notebook-view";
import { piecesFrom, type Piece } from "./query-pieces";

/**
 * The call that `offset` stands in, the innermost one that is known, with the parameter or option there; `null` outside
 * of all. Only what stands before the cursor counts, so that it may be unfinished.
 */
export function signatureAt(view: NotebookView, cell: number, offset: number): SignatureAnswer | null {
  const { text } = view.cells[cell]!;
  const body = bodyOffset(text);
  if (offset < body) return null;
  const last = piecesFrom(text.slice(0, offset), body).at(-1);
  // Within a number nothing can be suggested, but it is an argument like any other.
  const end = last?.kind === "number" && last.to === offset ? last.from : offset;
  const context = cursorContext(text.slice(0, end), body, end);
  const { vocabulary } = view.surroundingsOf(cell);
  for (let frame = context.frames.length - 1; frame >= 0; frame--) {
    if (context.frames[frame]!.open === "${") return null;
    const shape = shapeAt(context, context.frames[frame]!, vocabulary);
    if (shape !== null) return signatureOf(shape, activePart(shape, context, frame, wordFrom(text, context)));
  }
  return null;
}

/** The whole word that the cursor is in, in quotes or not; "" where there is none. */
function wordFrom(text: string, { replace, where }: CursorContext): string {
  if (where === "none") return "";
  return /^[\p{ID_Continue}$]*/u.exec(text.slice(replace.from))![0];
}

/** What the bracket of a frame calls; `null` when it calls nothing that is known. */
function shapeAt({ before }: CursorContext, { at, open }: Frame, vocabulary: Vocabulary): CallShape | null {
  const name = before[at - 1];
  if (open !== "(" || name?.kind !== "name") return null;
  if (before[at - 2]?.text !== ".") {
    if (name.text === "session" || name.text === "sessions") return shapesOfOpening[name.text];
    return shaped(vocabulary.sources.get(name.text), shapeOfSource);
  }
  const owner = before[at - 3];
  const isPlace = owner?.kind === "name" && before[at - 4]?.text !== ".";
  if (isPlace && owner.text === "op") return shapeOfOp(name.text, isAggregated(before, at), vocabulary);
  if (isPlace && owner.text === "chart") return shaped(vocabulary.charts.get(name.text), shapeOfChart);
  const form = textForms.find(({ ending }) => ending === name.text);
  return shaped(vocabulary.verbs.get(name.text), shapeOfVerb) ?? (form === undefined ? null : shapeOfEnding(name.text, form.help));
}

/** How `op.NAME` is called: of the two functions of one name, the one that fits its place. */
export function shapeOfOp(name: string, isOfMany: boolean, { rowFunctions, aggregates }: Vocabulary): CallShape | null {
  if (name === "desc") return shapeOfDesc;
  const [row, many] = [shaped(rowFunctions.get(name), shapeOfFunction), shaped(aggregates.get(name), shapeOfAggregate)];
  return isOfMany ? (many ?? row) : (row ?? many);
}

/** True where a function of many rows can stand: behind a colon, and not inside a row function. */
function isAggregated(before: readonly Piece[], at: number): boolean {
  return before[at - 4]?.text === ":";
}

function shaped<T>(entry: T | undefined, shape: (entry: T) => CallShape): CallShape | null {
  return entry === undefined ? null : shape(entry);
}

/** The number of the part that the cursor is at; `null` among options where it is at none. */
function activePart({ parts }: CallShape, context: CursorContext, frame: number, word: string): number | null {
  const { commas } = context.frames[frame]!;
  const found = parts.findIndex((part) => part.option === null && (part.place === commas || (part.takesRest && part.place <= commas)));
  if (found >= 0) return found;
  const braces = context.frames[frame + 1];
  if (braces?.open !== "{") return null;
  const key = keyAt(context, braces) ?? word;
  const option = parts.findIndex((part) => part.option === key && part.place === commas);
  return option < 0 ? null : option;
}

/** The key of the entry at the cursor; `null` where it is not written yet. */
function keyAt({ before }: CursorContext, { part }: Frame): string | null {
  const key = before[part];
  return key !== undefined && before[part + 1]?.text === ":" ? key.text.replace(/^(["'])(.*)\1$/u, "$2") : null;
}
