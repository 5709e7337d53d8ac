import type { Span } from "../../core/query/syntax";
import { folderOf, resolvePath } from "../../core/path";
import { sessionKeyHelp } from "../../core/session/session-keys";
import type { Shape } from "../../core/session/session-shapes";
import { yamlScalar } from "../../core/yaml-scalar";
import type { Suggestion } from "./answers";
import { escaped } from "./markdown";
import { keysBeside, keysFor, writtenKey, type KeyChoice, type Style } from "./session-keys-here";
import { placeIn, shapesAt, type SessionPlace } from "./session-place";
import { cursorMark, readLoosely, type LooseScalar } from "./session-text";
import { mapSnippet, usualKeysOf } from "./session-typical";
import { valuesFor, type ValueChoice } from "./session-values";
import type { SessionView } from "./session-view";

/** The word at the cursor, as it is to be replaced. */
interface Word {
  /** What is replaced: all of a plain word, what is within quotes of a quoted one. */
  readonly span: Span;
  /** What is replaced, as text. */
  readonly typed: string;
  readonly quote: LooseScalar["quote"];
  readonly isClosed: boolean;
  /** A space that has to come first, behind a colon or a dash. */
  readonly lead: "" | " ";
  readonly style: Style;
}

/**
 * What can stand at an offset of a session file, in a text that need not be YAML yet: keys of the map there that it does
 * not have, and values. Where there is no place for either, as in a comment, there is nothing.
 */
export async function completeSession(view: SessionView, offset: number): Promise<readonly Suggestion[]> {
  const at = Math.max(0, Math.min(offset, view.text.length));
  const text = view.text.replaceAll(cursorMark, " ");
  const marked = `${text.slice(0, at)}${cursorMark}${text.slice(at)}`;
  const place = placeIn(readLoosely(marked), at);
  if (place === null || at < place.scalar.from || at >= place.scalar.to) return [];
  const word = wordAt(place, text, at);
  if (word === null) return [];
  if (place.role !== "key") return [...(await valueSuggestions(view, place, word, at)), ...keysAfterDash(view, place, word)];
  return [...keySuggestions(view, place, word), ...(await valuesBelowKey(view, place, word, at))];
}

/** True while an export that the session names was not read yet, or cannot be: there may be more to suggest when it was. */
export function awaitsExports({ path, session, exports }: SessionView): boolean {
  const known = new Set(exports.map((each) => each.path));
  return (session?.sources ?? []).some(({ file }) => !known.has(resolvePath(folderOf(path), file).value ?? ""));
}

function wordAt({ scalar, around }: SessionPlace, text: string, at: number): Word | null {
  const { from, to, quote, isClosed } = scalar;
  const style = around.at(-1)?.isFlow === true ? "flow" : "block";
  const span = quote === "" ? { from, to: to - 1 } : { from: from + 1, to: isClosed ? to - 2 : to - 1 };
  if (at < span.from || at > span.to) return null;
  const lead = quote === "" && from > 0 && ":-".includes(text[from - 1]!) ? " " : "";
  return { span, typed: text.slice(span.from, span.to), quote, isClosed, lead, style };
}

function keySuggestions(view: SessionView, place: SessionPlace, word: Word): readonly Suggestion[] {
  return keysFor(view, place.path, keysBeside(place), word.style).map((key) => keySuggestion(key, word, place.entry?.hasColon === true));
}

/** Behind the dash of a list in lines a map can begin without braces. */
function keysAfterDash(view: SessionView, place: SessionPlace, word: Word): readonly Suggestion[] {
  if (place.role !== "item" || word.style === "flow") return [];
  return keysFor(view, place.path, new Set(), "block").map((key) => keySuggestion(key, word, false));
}

function keySuggestion(key: KeyChoice, word: Word, hasColon: boolean): Suggestion {
  const { insert, isSnippet } = word.quote === "" ? writtenKey(key, hasColon, word.style) : { insert: inQuotes(key.name, word), isSnippet: false };
  return {
    label: key.label ?? key.name,
    kind: key.kind,
    replace: word.span,
    insert: `${word.lead}${insert}`,
    ...(isSnippet ? { isSnippet } : {}),
    detail: key.detail,
    ...(key.documentation === "" ? {} : { documentation: escaped(key.documentation) }),
  };
}

/** A lone word below a key may also be its value, or become the first item of its list. */
async function valuesBelowKey(view: SessionView, place: SessionPlace, word: Word, at: number): Promise<readonly Suggestion[]> {
  const map = place.around.at(-1);
  const isAlone = map?.kind === "map" && !map.isFlow && map.entries.length === 1 && place.entry?.hasColon === false;
  if (!isAlone || place.path.length === 0) return [];
  const shapes = shapesAt(place.path);
  const list = shapes.find((shape) => shape.kind === "list");
  if (list === undefined) return suggestionsFor(view, place, shapes, word, at, "");
  // Behind a dash the braces of an item are its own, and it is one of the list's.
  return suggestionsFor(view, { ...place, path: [...place.path, null] }, shapesAt([...place.path, null]), word, at, word.quote === "" ? "- " : "");
}

async function valueSuggestions(view: SessionView, place: SessionPlace, word: Word, at: number): Promise<readonly Suggestion[]> {
  return suggestionsFor(view, place, shapesAt(place.path), word, at, "");
}

async function suggestionsFor(view: SessionView, place: SessionPlace, shapes: readonly Shape[], word: Word, at: number, dash: string): Promise<readonly Suggestion[]> {
  const beside = new Set(place.role === "item" ? itemsBeside(place) : []);
  const all: Suggestion[] = [];
  for (const shape of shapes) {
    if (shape.kind === "map") all.push(...mapSuggestion(shape, word, dash));
    for (const choice of await valuesFor(view, place, shape, word.typed)) {
      const suggestion = beside.has(choice.text) ? null : valueSuggestion(choice, word, at, dash);
      if (suggestion !== null) all.push(suggestion);
    }
  }
  return all;
}

function itemsBeside({ around, scalar }: SessionPlace): readonly string[] {
  const list = around.at(-1);
  return list?.kind === "list" ? list.items.flatMap((item) => (item?.kind === "scalar" && item !== scalar ? item.text : [])) : [];
}

/** A whole map between braces. */
function mapSuggestion({ map }: Shape & { readonly kind: "map" }, word: Word, dash: string): readonly Suggestion[] {
  if (word.quote !== "") return [];
  const keys = usualKeysOf(map);
  const help: Readonly<Record<string, string>> = sessionKeyHelp[map];
  const documentation = keys.map((key) => `${escaped(key)}: ${escaped(help[key] ?? "")}`).join("  \n");
  return [{ label: `{ ${keys.join(", ")} }`, kind: "snippet", replace: word.span, insert: `${word.lead}${dash}${mapSnippet(map)}`, isSnippet: true, documentation }];
}

function valueSuggestion(choice: ValueChoice, word: Word, at: number, dash: string): Suggestion | null {
  const { text, kind, detail, rank, snippet } = choice;
  const more = { ...(detail === undefined || detail === "" ? {} : { detail }), ...(rank === undefined ? {} : { rank }) };
  if (choice.isUnit === true) return unitSuggestion(text, word, at);
  if (snippet !== undefined) return word.quote === "" ? { label: text, kind, replace: word.span, insert: `${word.lead}${dash}${snippet}`, isSnippet: true, ...more } : null;
  if (word.quote !== "") return { label: text, kind, replace: word.span, insert: inQuotes(text, word), ...more };
  return { label: text, kind, replace: word.span, insert: `${word.lead}${dash}${choice.isPlain === true ? text : yamlScalar(text, word.style)}`, ...more };
}

/** A unit behind the number that is there; none while the cursor is within the number. */
function unitSuggestion(unit: string, { span, typed, quote, isClosed }: Word, at: number): Suggestion | null {
  const number = /^[-+\u2212]?\d+(?:[.,]\d+)?/u.exec(typed)?.[0] ?? "";
  const gap = /^\s*/u.exec(typed.slice(number.length))![0];
  const end = span.from + number.length;
  if (number === "" || at < end) return null;
  // A space that the cursor is behind stays as it is.
  const from = gap !== "" && at >= end + gap.length ? end + gap.length : end;
  return { label: unit, kind: "unit", replace: { from, to: span.to }, insert: `${from === end ? " " : ""}${unit}${quote === "" || isClosed ? "" : quote}` };
}

/** A text between quotes that are there, with the closing one where it is missing. */
function inQuotes(text: string, { quote, isClosed }: Word): string {
  const inside = quote === "'" ? text.replaceAll("'", "''") : JSON.stringify(text).slice(1, -1);
  return `${inside}${isClosed ? "" : quote}`;
}
