import { isRecord } from "../is-record";
import type { Problem } from "../problem";

/** The mime type of what is worth noting about a cell that has a result. */
export const notesMime = "application/vnd.fairstrike.notes+json";

/** One thing worth noting. */
export interface Note {
  readonly severity: "warning" | "info";
  readonly code: string;
  /** What is there, where, and what would be accepted. */
  readonly text: string;
}

/** What is worth noting about a cell, as an output holds it. */
export interface NotesPayload {
  readonly type: "notes";
  readonly notes: readonly Note[];
}

/** Notes that an output may bring at most. */
const mostNotes = 10_000;

/** The notes among problems, warnings first; errors are none. */
export function notesOf(problems: readonly Problem[]): NotesPayload {
  const of = (severity: Note["severity"]): readonly Note[] => problems.filter((found) => found.severity === severity).map((found) => ({ severity, code: found.code, text: `${placeInWords(found)}: ${found.message}; ${found.hint}` }));
  return { type: "notes", notes: [...of("warning"), ...of("info")] };
}

/** Where a problem is, for a person: `line 3, column 11`, in another file `spring.session.yaml, line 4`. */
export function placeInWords({ file, range: { start } }: Problem): string {
  return file === undefined ? `line ${start.line}, column ${start.column}` : `${file}, line ${start.line}`;
}

/** The word before a note. */
export function noteWord({ severity }: Note): string {
  return severity === "warning" ? "Warning" : "Note";
}

/** Notes as text, a line each. */
export function notesText({ notes }: NotesPayload): string {
  return notes.map((note) => `${noteWord(note)}, ${note.text} (${note.code})`).join("\n");
}

/** The notes in a value that another program may have written; `null` when anything in it is of the wrong sort. */
export function readNotesPayload(value: unknown): NotesPayload | null {
  if (!isRecord(value) || value["type"] !== "notes" || !Array.isArray(value["notes"]) || value["notes"].length > mostNotes) return null;
  const notes = value["notes"].map(readNote);
  return notes.includes(null) ? null : { type: "notes", notes: notes.filter((note) => note !== null) };
}

function readNote(value: unknown): Note | null {
  if (!isRecord(value)) return null;
  const { severity, code, text } = value;
  if ((severity !== "warning" && severity !== "info") || typeof code !== "string" || typeof text !== "string") return null;
  return { severity, code, text };
}
