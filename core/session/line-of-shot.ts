import { defaultLimits, type Limits } from "../limits";
import { hittingOrder } from "./hitting-order";
import { beginDraft } from "./load-shots";
import { readExport } from "./read-export";
import type { Session } from "./session";

/** A line of an export, counted from 1. */
export interface ExportLine {
  /** The export, as the session names it. */
  readonly file: string;
  readonly line: number;
}

/**
 * The line of an export on which a shot stands.
 *
 * @param files the bytes of each export by the path that the session gives.
 * @param shot the shot's number in its session.
 * @returns `null` when there is no such shot, or an export is not there.
 */
export function lineOfShot(session: Session, files: ReadonlyMap<string, Uint8Array>, shot: number, limits: Limits = defaultLimits): ExportLine | null {
  const exports = session.sources.flatMap((source) => {
    const bytes = files.get(source.file);
    return bytes === undefined ? [] : [readExport(source, { bytes }, session, limits)];
  });
  if (exports.length < session.sources.length || exports.some(({ text }) => text.header.length === 0)) return null;
  const draft = beginDraft(exports, hittingOrder(exports, limits.problems).places);
  const row = draft.numbers.values.indexOf(shot);
  if (row < 0) return null;
  let at = draft.places === null ? row : draft.places[row]!;
  for (const { rows, text, source } of exports) {
    if (at < rows.length) return { file: source.file, line: text.lines[rows[at]!]! };
    at -= rows.length;
  }
  return null;
}
