import type { FileFault, FilePort } from "./file-port";
import { folderOf } from "./path";
import { problem, type Fix, type Problem } from "./problem";
import type { TextRange } from "./text-position";

/** How a path is written where it stands: in quotes, as YAML and cells both read it, unless told. */
export type WritePath = (path: string) => string;

const inQuotes: WritePath = (path) => JSON.stringify(path);

/** A problem of a path at the place where the path is written, with the way to write it as a fix where there is one. */
export function placedPath(found: Problem, range: TextRange, write: WritePath = inQuotes): Problem {
  if (found.code !== "path.backslash" && found.code !== "path.segment") return { ...found, range };
  const { instead } = found.facts;
  return instead === "" ? { ...found, range } : { ...found, range, fix: writing(instead, range, write) };
}

/** Makes the problem of a file that cannot be read at the place where its path is written. */
export type MakeFileProblem = (range: TextRange, write?: WritePath) => Problem;

/**
 * Returns what makes the problem of a file that cannot be read; where only capital letters or accents differ from a file
 * that is there, with that name as the fix.
 *
 * @param written the path as it is written.
 * @param path the same relative to the root.
 */
export async function unreadFile(written: string, path: string, reason: FileFault, files: FilePort): Promise<MakeFileProblem> {
  const name = reason === "missing" || reason === "other case" ? await nameThere(path, files) : null;
  const instead = name === null ? null : `${written.slice(0, written.lastIndexOf("/") + 1)}${name}`;
  const found: FileFault = instead === null ? reason : "other case";
  return (range, write = inQuotes) => problem("run.file", { path: written, reason: found }, range, instead === null ? {} : { fix: writing(instead, range, write) });
}

function writing(path: string, range: TextRange, write: WritePath): Fix {
  return { title: `Write ${path}`, edits: [{ range, text: write(path) }] };
}

/** The one name in the folder of `path` that differs from its own in nothing but capital letters and accents' spelling; `null` else. */
async function nameThere(path: string, files: FilePort): Promise<string | null> {
  const folder = folderOf(path);
  const wanted = path.slice(folder === "" ? 0 : folder.length + 1);
  const plain = (name: string): string => name.normalize("NFC").toLowerCase();
  const alike = ((await files.list(folder)) ?? []).filter((name) => name !== wanted && plain(name) === plain(wanted));
  return alike.length === 1 ? alike[0]! : null;
}
