import type { TextEdit } from "../problem";
import { replaceSpans } from "../replace-spans";
import { lineTable } from "../text-position";

/**
 * The text with edits made in it. Their ranges are in the text as it is given, without its byte order mark, and do not
 * overlap.
 */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  const mark = text.startsWith("\ufeff") ? "\ufeff" : "";
  const body = text.slice(mark.length);
  const lines = lineTable(body);
  const placed = edits.map((edit) => ({ from: lines.offsetAt(edit.range.start), to: lines.offsetAt(edit.range.end), text: edit.text }));
  // Of two insertions at one place the later one stands first.
  return mark + replaceSpans(body, placed.reverse());
}

/** How the lines of a text end: as the first one does; LF for a text of one line. */
export function lineEndOf(text: string): string {
  return /\r\n|\n|\r/u.exec(text)?.[0] ?? "\n";
}
