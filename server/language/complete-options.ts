import { standardAirs } from "../../core/flight/air";
import { airAsHit } from "../../core/flight/session-air";
import { whyNotAName } from "../../core/query/names";
import type { Option, Options } from "../../core/query/vocabulary";
import type { Schema } from "../../core/table/schema";
import { optionEntries, optionSnippet, type Likely } from "./call-snippets";
import { optionSentences } from "./call-words";
import { chosenOffers } from "./choice-offers";
import { plainSnippet } from "./chart-snippets";
import { measureOffers, windowOffers } from "./complete-measures";
import type { NotebookView } from "./notebook-view";
import { sessionsOf } from "./session-markdown";
import { isCloser, isOpener, textOfString } from "./query-pieces";
import { optionOf, type QueryPlace } from "./query-place";
import { columnOffers, quoted, valueConstantOffers, valueOffers, without, writtenIn, type Offer } from "./query-offers";

/** What can stand in the string at the cursor, which is the value of an option or the column of a window. */
export function optionTexts(place: QueryPlace, view: NotebookView): readonly Offer[] {
  const { frame, options, columns } = place.options!;
  const innermost = place.context.frames.length - 1;
  const name = place.entryOf(frame);
  const option = optionOf(options, name);
  if (option === null) return [];
  if (option.kind === "windows") return innermost > frame ? inWindows(place, columnOffers(columns, "number"), (offers) => offers) : [];
  const offers = textsOf(option, name!, place, view);
  return innermost > frame ? without(offers, writtenIn(place, innermost)) : offers;
}

/** What can stand among options where no quote is: names of those not yet written, or the value of one. */
export function optionWords(place: QueryPlace, view: NotebookView): readonly Offer[] {
  const { frame, options, columns } = place.options!;
  const innermost = place.context.frames.length - 1;
  const name = place.entryOf(frame);
  const option = optionOf(options, name);
  if (option === null) return name === null && innermost === frame ? optionNames(options, place, { columns, table: "shots" }) : [];
  if (option.kind === "windows") return innermost > frame ? inWindows(place, columnKeys(columnOffers(columns, "number"), place), quoted) : [];
  if (option.kind === "truth") return ["true", "false"].map((word) => ({ label: word, kind: "choice", insert: word, detail: name! }));
  const fitting = textsOf(option, name!, place, view);
  const texts = quoted(fitting);
  return [...(innermost > frame ? without(texts, writtenIn(place, innermost).map((text) => JSON.stringify(text))) : texts), ...chosenOffers(view.notebook.front.choices, fitting), ...valueConstantOffers(place)];
}

/** Among windows: columns where a key is due, else windows of the column that is named, written as `write` does. */
function inWindows(place: QueryPlace, keys: readonly Offer[], write: (offers: readonly Offer[]) => readonly Offer[]): readonly Offer[] {
  const name = place.entryOf(place.context.frames.length - 1);
  if (name === null) return keys;
  const column = place.options!.columns.columns.find((each) => each.name === name && each.kind === "number");
  return column === undefined ? [] : write(windowOffers(column));
}

/** All options of a call at once, where its braces are yet to be written. */
export function optionsObject(options: Options, likely: Likely): readonly Offer[] {
  if (Object.keys(options).length === 0) return [];
  const entries = optionEntries(options, likely);
  return [{ label: "{ … }", kind: "snippet", insert: entries === "" ? "{ $0 }" : `{ ${entries} }$0`, isSnippet: true, filter: "{", detail: Object.keys(options).join(", ") }];
}

function optionNames(options: Options, place: QueryPlace, likely: Likely): readonly Offer[] {
  const given = keysBeside(place);
  return Object.entries(options)
    .filter(([option]) => !given.has(option))
    .map(([label, option]) => ({
      label,
      kind: "option",
      ...asEntry(label, optionSnippet(option, likely), place),
      detail: option.required ? "needed" : "",
      documentation: optionSentences(option),
      rank: option.required ? 0 : 1,
    }));
}

/** Columns as the keys of an object of texts, those not yet written alone. */
export function columnKeys(offers: readonly Offer[], place: QueryPlace): readonly Offer[] {
  const given = keysBeside(place);
  return offers.flatMap((offer) => {
    if (given.has(offer.insert)) return [];
    const key = whyNotAName(offer.insert) === null ? offer.insert : JSON.stringify(offer.insert);
    return [{ ...offer, ...asEntry(key, '"$1"', place), filter: offer.filter ?? offer.label }];
  });
}

/** An entry as it is inserted: the key alone where its colon follows, and a comma where another entry does. */
export function asEntry(key: string, value: string, { context: { next, after } }: QueryPlace): { readonly insert: string; readonly isSnippet?: true } {
  if (next === ":") return { insert: key };
  const goesOn = after[0]?.kind === "name" || after[0]?.kind === "string";
  return { insert: `${plainSnippet(key)}: ${value}${goesOn ? "," : ""}$0`, isSnippet: true };
}

/** Keys of the object at the cursor, before and behind it. */
function keysBeside({ context: { before, after, frames } }: QueryPlace): ReadonlySet<string> {
  const keys = new Set<string>();
  for (const pieces of [before.slice((frames.at(-1)?.at ?? -1) + 1), after]) {
    let depth = 0;
    for (const [at, piece] of pieces.entries()) {
      if (piece.kind === "sign" && isOpener(piece.text)) depth++;
      else if (piece.kind === "sign" && isCloser(piece.text) && --depth < 0) break;
      if (depth > 0 || pieces[at + 1]?.text !== ":") continue;
      if (piece.kind === "name") keys.add(piece.text);
      else if (piece.kind === "string") keys.add(textOfString(piece));
    }
  }
  return keys;
}

/** Texts that an option can be. */
function textsOf(option: Option, name: string, place: QueryPlace, view: NotebookView): readonly Offer[] {
  const { columns, options } = place.options!;
  switch (option.kind) {
    case "column":
    case "columns":
      return columnOffers(columns, option.of);
    case "choice":
      return option.choices.map((choice) => ({ label: choice, kind: "choice", insert: choice, detail: name }));
    case "quantity":
      return [{ label: option.example, kind: "unit", insert: option.example, detail: name }];
    case "measure":
      return measureOffers({ option: name, help: option.help, of: writtenText(place, option.unitOf) ?? option.unless ?? option.unitOf }, columns, view);
    case "text": {
      // A verb without `by` has no groups that a text could name: the only other such option is an air.
      if (!Object.hasOwn(options, "by")) return name === "air" ? airs(columns, view) : [];
      const told = writtenText(place, "by") ?? "head";
      const column = columns.columns.find((each) => each.name === told);
      return column === undefined ? [] : valueOffers(column);
    }
    case "number":
    case "truth":
    case "windows":
      return [];
  }
}

/** Airs by name: the standard ones, and the sessions of the table that state theirs. */
function airs({ columns }: Schema, view: NotebookView): readonly Offer[] {
  const standard = Object.keys(standardAirs).map((label): Offer => ({ label, kind: "choice", insert: label, detail: "a standard air" }));
  const sessions = columns.find(({ name }) => name === "session");
  if (sessions === undefined) return standard;
  const stating = new Set(sessionsOf(view).flatMap((session) => (airAsHit(session).isStated ? [session.name] : [])));
  return [...standard, ...valueOffers(sessions).filter(({ insert }) => stating.has(insert))];
}

/** The text that another option is given as, before or behind the cursor; the first where there are several. */
function writtenText({ context: { before, after, frames }, options }: QueryPlace, name: string): string | null {
  for (const pieces of [before.slice(frames[options!.frame]!.at + 1), after]) {
    const at = pieces.findIndex((piece, i) => piece.text === name && pieces[i + 1]?.text === ":");
    if (at < 0) continue;
    const value = pieces[at + 2]?.text === "[" ? pieces[at + 3] : pieces[at + 2];
    if (value?.kind === "string") return textOfString(value);
  }
  return null;
}
