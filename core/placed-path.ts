import { closestName } from "./closest-name";
import type { FileFault, FilePort } from "./file-port";
import { folderOf, resolvePath } from "./path";
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

/** Folders in which a file may be that was not found where its path leads, as they are written from the folder `base`. */
export interface OtherFolders {
  readonly base: string;
  readonly written: readonly string[];
}

/**
 * Returns what makes the problem of a file that cannot be read, with the name of the file that was meant as the fix: one
 * of which only capital letters, accents or the end differ, else one that is near, if a person says so.
 *
 * @param written the path as it is written.
 * @param path the same relative to the root.
 * @param others further folders to look in for what is named without its folder.
 */
export async function unreadFile(written: string, path: string, reason: FileFault, files: FilePort, others?: OtherFolders): Promise<MakeFileProblem> {
  const folder = written.slice(0, written.lastIndexOf("/") + 1);
  const meant = reason === "missing" || reason === "other case" ? await meantFile(path, folder, files, others) : null;
  if (meant === null) return (range) => problem("run.file", { path: written, reason }, range);
  const facts = { path: written, reason: meant.kind === "other case" ? meant.kind : reason, ...(meant.kind === "other case" ? {} : { near: meant.path }) };
  return (range, write = inQuotes) => {
    const fix = writing(meant.path, range, write);
    return problem("run.file", facts, range, { fix: meant.kind === "near" ? { ...fix, byPerson: true } : fix });
  };
}

function writing(path: string, range: TextRange, write: WritePath): Fix {
  return { title: `Write ${path}`, edits: [{ range, text: write(path) }] };
}

/** A file that was most likely meant, as it is to be written, and in what its name differs. */
interface MeantFile {
  readonly path: string;
  readonly kind: "other case" | "other end" | "near";
}

const sessionEnd = ".session.yaml";
const plain = (name: string): string => name.normalize("NFC").toLowerCase();

async function meantFile(path: string, writtenFolder: string, files: FilePort, others: OtherFolders | undefined): Promise<MeantFile | null> {
  const folder = folderOf(path);
  const wanted = path.slice(folder === "" ? 0 : folder.length + 1);
  const names = (await files.list(folder)) ?? [];
  const isSession = others !== undefined;
  const beside = names.filter((name) => name !== wanted && (!isSession || name.endsWith(sessionEnd)));
  const alike = names.filter((name) => name !== wanted && plain(name) === plain(wanted));
  if (alike.length > 0) return alike.length === 1 ? { path: `${writtenFolder}${alike[0]!}`, kind: "other case" } : null;
  const there = beside.map((name) => `${writtenFolder}${name}`);
  for (const other of writtenFolder === "" ? new Set(others?.written) : []) {
    const place = other === "" ? null : resolvePath(others!.base, other.replace(/\/$/u, "")).value;
    const listed = place === null ? [] : ((await files.list(place)) ?? []);
    there.push(...listed.filter((name) => name.endsWith(sessionEnd)).map((name) => `${other}${name}`));
  }
  const stem = (name: string): string => plain(isSession ? name.slice(name.lastIndexOf("/") + 1).replace(/(?:\.session)?(?:\.ya?ml)?$/iu, "") : name.slice(name.lastIndexOf("/") + 1));
  const same = isSession ? there.filter((name) => stem(name) === stem(wanted)) : [];
  if (same.length > 0) return same.length === 1 ? { path: same[0]!, kind: "other end" } : null;
  const near = nearest(wanted, there, stem);
  return near === null ? null : { path: near, kind: "near" };
}

/** The file whose name without its end is nearest; of an export the end must be the same. */
function nearest(wanted: string, there: readonly string[], stem: (name: string) => string): string | null {
  const end = (name: string): string => /(?:\.session\.yaml|\.[^./]*)$/u.exec(stem(name))?.[0] ?? "";
  const alike = there.filter((name) => end(name) === end(wanted));
  const bare = (name: string): string => stem(name).slice(0, stem(name).length - end(name).length);
  const near = closestName(bare(wanted), alike.map(bare));
  const found = near === null ? [] : alike.filter((name) => bare(name) === near);
  return found.length === 1 ? found[0]! : null;
}
