import type { Span } from "../../core/query/syntax";
import { placeIn, type SessionPlace } from "./session-place";
import { cursorMark, readLoosely } from "./session-text";

/** What is being written in front matter. */
export interface FrontPlace {
  readonly place: SessionPlace;
  /** What is replaced: all of a plain word, what is within quotes of a quoted one. */
  readonly span: Span;
  /** The same as text. */
  readonly typed: string;
  /** The quote that still has to close it; "" where none does. */
  readonly close: string;
  /** A space that has to come first, behind a colon or a dash. */
  readonly lead: "" | " ";
}

/** The name or value that is being written at an offset of front matter, which need not be YAML yet; `null` in a comment. */
export function frontPlace(given: string, offset: number): FrontPlace | null {
  const text = given.replaceAll(cursorMark, " ");
  const place = placeIn(readLoosely(`${text.slice(0, offset)}${cursorMark}${text.slice(offset)}`), offset);
  if (place === null) return null;
  const { from, to, quote, isClosed } = place.scalar;
  if (offset < from || offset >= to) return null;
  const span = quote === "" ? { from, to: to - 1 } : { from: from + 1, to: isClosed ? to - 2 : to - 1 };
  if (offset < span.from || offset > span.to) return null;
  const lead = quote === "" && from === offset && ":-".includes(text[from - 1] ?? " ") ? " " : "";
  return { place, span, typed: text.slice(span.from, span.to), close: isClosed ? "" : quote, lead };
}
