import type { Stats } from "node:fs";
import { open, realpath, stat } from "node:fs/promises";
import path from "node:path";
import { UsageError } from "./command";
import type { OpenNotebook } from "./open-notebook";
import { replaceFile } from "./replace-file";

/** Endings of what people write and monitors export: nothing of a run goes into such a file. */
const inputEndings = /\.(?:md|csv|tsv|txt|ya?ml|parquet)$/iu;

/** What a file that is written must be called, and what it may replace. */
export interface FileForm {
  /** How its name ends. */
  readonly ending: RegExp;
  /** The ending in words: `.html`. */
  readonly words: string;
  /** What stands near the beginning of a file of this form: one without it is somebody's and stays. */
  readonly mark: string;
}

/**
 * The absolute path of the file that a report is to be written to; a link is followed to the file it means.
 *
 * @throws {UsageError} before anything was run when `given` is called otherwise, cannot be written to, or is a file that
 *   is no report.
 */
export async function reportFile(given: string, folder: string, form: FileForm): Promise<string> {
  const shown = JSON.stringify(given);
  if (!form.ending.test(given) || /\.shots\.md$/iu.test(given)) throw new UsageError(`a report is not written to ${shown}; name a ${form.words} file`);
  const file = await placeFor(given, folder, form.words);
  const begins = await beginningOf(file);
  if (begins !== null && !begins.includes(form.mark)) throw new UsageError(`${shown} is there and is no report of this program; name another file`);
  return file;
}

/** The first bytes of a file as text; `null` when it is not there or empty. */
async function beginningOf(file: string): Promise<string | null> {
  const opened = await open(file).catch(() => null);
  if (opened === null) return null;
  try {
    const { bytesRead, buffer } = await opened.read(Buffer.alloc(1024), 0, 1024, 0);
    return bytesRead === 0 ? null : buffer.toString("utf8", 0, bytesRead);
  } finally {
    await opened.close();
  }
}

/**
 * The absolute path of the file that results are to be written to; a link is followed to the file it means.
 *
 * @throws {UsageError} before anything was run when `given` cannot be written to or could be somebody's input.
 */
export async function resultsFile(given: string, folder: string): Promise<string> {
  const shown = JSON.stringify(given);
  if (inputEndings.test(given)) throw new UsageError(`results are not written to ${shown}, which may be somebody's input; name a .json file, or - for standard output`);
  return placeFor(given, folder, ".json");
}

/** @throws {UsageError} when `given` is a folder or a device, or is in no folder. */
async function placeFor(given: string, folder: string, ending: string): Promise<string> {
  const shown = JSON.stringify(given);
  const file = path.resolve(folder, given);
  const there = await statOf(file);
  if (there !== null && !there.isFile()) throw new UsageError(`${shown} is not an ordinary file; name a ${ending} file, or - for standard output`);
  const within = await statOf(path.dirname(file));
  if (within === null || !within.isDirectory()) throw new UsageError(`there is no folder for ${shown}`);
  return there === null ? file : realpath(file);
}

/**
 * Writes results to a file that `resultsFile` gave.
 *
 * @param opened the notebook or session that the results are of.
 * @param inputs what the results come from, relative to its root: none of them is ever written to, whatever
 *   its name.
 * @throws {UsageError} when it is one of the inputs, or cannot be written.
 */
export async function writeResults(file: string, text: string, opened: Pick<OpenNotebook, "place">, inputs: readonly string[]): Promise<void> {
  const shown = JSON.stringify(path.basename(file));
  const there = await statOf(file);
  for (const input of [opened.place.path, ...inputs]) {
    const other = await statOf(path.join(opened.place.root, input));
    if (there !== null && other !== null && there.dev === other.dev && there.ino === other.ino)
      throw new UsageError(`results are not written to ${shown}: they were made from it`);
  }
  try {
    await replaceFile(file, text);
  } catch (error) {
    throw new UsageError(`${shown} cannot be written: ${error instanceof Error && "code" in error ? String(error.code) : "it failed"}`);
  }
}

async function statOf(file: string): Promise<Stats | null> {
  return stat(file).catch(() => null);
}
