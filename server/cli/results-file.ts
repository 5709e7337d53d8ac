import type { Stats } from "node:fs";
import { realpath, stat } from "node:fs/promises";
import path from "node:path";
import { UsageError } from "./command";
import type { OpenNotebook } from "./open-notebook";
import { replaceFile } from "./replace-file";

/** Endings of what people write and monitors export: nothing of a run goes into such a file. */
const inputEndings = /\.(?:md|csv|tsv|txt|ya?ml|parquet)$/iu;

/**
 * The absolute path of the file that results are to be written to; a link is followed to the file it means.
 *
 * @throws {UsageError} before anything was run when `given` cannot be written to or could be somebody's input.
 */
export async function resultsFile(given: string, folder: string): Promise<string> {
  const shown = JSON.stringify(given);
  if (inputEndings.test(given)) throw new UsageError(`results are not written to ${shown}, which may be somebody's input; name a .json file, or - for standard output`);
  const file = path.resolve(folder, given);
  const there = await statOf(file);
  if (there !== null && !there.isFile()) throw new UsageError(`${shown} is not an ordinary file; name a .json file, or - for standard output`);
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
