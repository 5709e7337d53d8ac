import { noteWord, type NotesPayload } from "../../core/present/notes";
import { inert } from "../../core/present/show-value";
import { makeElement } from "./make-element";

/** Returns what is worth noting about a cell as a list, in words that wrap. */
export function makeNotesView({ notes }: NotesPayload): HTMLElement {
  const items = notes.map((note) =>
    makeElement("li", "", {}, makeElement("strong", "", {}, noteWord(note)), `, ${inert(note.text)} `, makeElement("span", "fairstrike-small", {}, `(${inert(note.code)})`)),
  );
  return makeElement("ul", "fairstrike-notes", {}, ...items);
}
