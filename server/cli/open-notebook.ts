import { readFile, stat } from "node:fs/promises";
import path from "node:path";
import { defaultLimits } from "../../core/limits";
import type { NotebookDocument } from "../../core/notebook/document";
import { locateCells, toFile, type CellLocation } from "../../core/notebook/locate";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { inFile, problem, type Problem } from "../../core/problem";
import { decodeText } from "../../core/table/decode-text";
import { textStart } from "../../core/text-position";
import { UsageError } from "./command";
import { findRoot, type FilePlace } from "./find-root";

/** A notebook file, read from disk. */
export interface OpenNotebook {
  readonly place: FilePlace;
  /** `null` when the file cannot be read as a notebook. */
  readonly document: NotebookDocument | null;
  /** Problems of the text itself, placed in the file. */
  readonly problems: readonly Problem[];
  /** A problem of cell `index`, placed in the notebook's file. */
  readonly inNotebook: (index: number, found: Problem) => Problem;
}

/**
 * Reads the notebook at `given`, relative to `folder`.
 *
 * @throws {UsageError} when there is no such file, or it cannot be read.
 */
export async function openNotebook(given: string, folder: string): Promise<OpenNotebook> {
  const file = path.resolve(folder, given);
  const place = findRoot(file);
  const found = await stat(file).catch(() => null);
  if (found === null) throw new UsageError(`there is no file ${JSON.stringify(given)}`);
  if (!found.isFile()) throw new UsageError(`${JSON.stringify(given)} is not a file; name a notebook (NAME.shots.md)`);
  const unread = (problems: readonly Problem[]): OpenNotebook => ({
    place,
    document: null,
    problems: problems.map((each) => inFile(each, place.path)),
    inNotebook: (_, each) => inFile(each, place.path),
  });
  if (found.size > defaultLimits.notebookText * 4)
    return unread([problem("nb.too-large", { length: found.size, most: defaultLimits.notebookText }, textStart)]);
  const bytes = await readFile(file).catch(() => {
    throw new UsageError(`${JSON.stringify(given)} cannot be read`);
  });
  const text = decodeText(new Uint8Array(bytes));
  if (text.value === null) return unread(text.problems);
  const parsed = parseNotebook(text.value);
  if (parsed.problems.some((each) => each.code === "nb.newer-format" || each.code === "nb.too-large")) return unread(parsed.problems);
  const locations: readonly CellLocation[] = locateCells(text.value, parsed.value);
  return {
    place,
    document: parsed.value,
    problems: parsed.problems.map((each) => inFile(each, place.path)),
    inNotebook: (index, each) =>
      each.file === undefined ? { ...each, file: place.path, range: toFile(locations[index]!, each.range) } : each,
  };
}
