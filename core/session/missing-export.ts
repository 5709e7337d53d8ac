import { closestName } from "../closest-name";
import type { FileFault } from "../file-port";
import { folderOf } from "../path";
import { problem, type Fix, type Problem } from "../problem";
import type { TextRange } from "../text-position";
import { yamlScalar } from "../yaml-scalar";
import type { SourceFile } from "./session";

/**
 * Says that an export cannot be had, with a fix where a file of nearly its name is beside it: in other letters, or with a
 * slip.
 *
 * @param names the files of the folder in which it would be; none where they are not known.
 */
export function missingExport({ file, fileRange }: SourceFile, reason: FileFault, names: readonly string[]): Problem {
  const folder = folderOf(file);
  const name = folder === "" ? file : file.slice(folder.length + 1);
  const near = reason === "missing" ? (names.find((other) => other.toLowerCase() === name.toLowerCase()) ?? closestName(name, names.filter(isExport))) : null;
  const path = near === null ? null : `${folder === "" ? "" : `${folder}/`}${near}`;
  return problem("run.file", { path: file, reason }, fileRange, path === null ? {} : pathFix(path, fileRange));
}

/** A problem of a source's path, put where the session gives it, with the path written as it should be where that is known. */
export function atSource(found: Problem, range: TextRange): Problem {
  const isMendable = found.code === "path.backslash" || found.code === "path.segment";
  return { ...found, range, ...(isMendable ? pathFix(found.facts.instead, range) : {}) };
}

/** True for the name of a file that can be an export. */
export function isExport(name: string): boolean {
  return /\.(?:csv|tsv|txt|parquet)$/iu.test(name);
}

function pathFix(path: string, range: TextRange): { readonly fix: Fix } {
  return { fix: { title: `Write ${path}`, edits: [{ range, text: yamlScalar(path, "flow") }] } };
}
