import { CodeActionKind, type CodeAction } from "vscode-languageserver";
import type { FileRead } from "../../core/file-port";
import type { ExportCopy, Fix, Problem } from "../../core/problem";
import { correctedName } from "../../core/session/export-fixes";
import { correctedCopy, largestCopied } from "../../core/table/corrected-copy";
import { isAsked, touches, type AskedActions } from "./code-actions";
import { fileUri } from "./file-uri";
import { toDiagnostic, toProtocolEdit } from "./to-protocol";
import type { EditsByDocument } from "./workspace-edits";

/** How the makers of copies get at files; paths are below the root of the document they are asked for. */
export interface CopyFiles {
  /** @param most bytes that are wanted: of a longer file its beginning may be given alone. */
  readonly read: (path: string, most: number) => Promise<FileRead>;
  /** The names in a folder; `null` when they cannot be had. */
  readonly list: (folder: string) => Promise<readonly string[] | null>;
}

/**
 * For an export with problems that its session cannot say: the action that makes a corrected copy beside it, under a name
 * that is free, and points the session file to the copy. The export itself is not touched.
 *
 * None where the export is larger than 5 MB, cannot be read or is another by now than the one the problems were found in,
 * where the names beside it are not known, or for a client that makes no files.
 */
export async function copyActionsFor({ uri, around, range, only, writer }: AskedActions, files: CopyFiles): Promise<CodeAction[]> {
  if (!isAsked(CodeActionKind.QuickFix, only ?? [CodeActionKind.QuickFix])) return [];
  const problems = around.get(uri) ?? [];
  const here = problems.filter((found) => found.fix?.copyOf !== undefined && touches(toDiagnostic(found).range, range));
  // One export may be that of several sessions, each of which has to be pointed to the copy.
  const fixes = [...new Map(here.map(({ fix }) => [JSON.stringify([fix!.file, fix!.edits]), fix!])).values()];
  const [first] = fixes;
  if (first?.copyOf === undefined) return [];
  const { file } = first.copyOf;
  const text = await textOfCopy(first.copyOf, problems, files);
  const copy = text === null ? null : await freeName(file, files);
  const copyUri = copy === null ? null : fileUri(uri, file, copy.path);
  if (text === null || copy === null || copyUri === null) return [];
  const edit = writer.writeWithFile(copyUri, text, sessionEdits(uri, file, fixes.map((fix) => pointedTo(fix, copy.n))));
  return edit === null ? [] : [{ title: first.title, kind: CodeActionKind.QuickFix, diagnostics: here.map(toDiagnostic), edit }];
}

/** The text of the copy; `null` where none can be made of the export as it was when the problems were found. */
async function textOfCopy({ file, digest, reading }: ExportCopy, problems: readonly Problem[], files: CopyFiles): Promise<string | null> {
  const read = await files.read(file, largestCopied + 1);
  return read.ok && read.digest === digest ? correctedCopy(read.bytes, reading, problems) : null;
}

/** The edits of the session files that name the export `file`. */
function sessionEdits(uri: string, file: string, fixes: readonly Fix[]): EditsByDocument {
  const byTarget = new Map<string, Fix[]>();
  for (const fix of fixes) {
    const target = fileUri(uri, file, fix.file!);
    if (target !== null) byTarget.set(target, [...(byTarget.get(target) ?? []), fix]);
  }
  return new Map([...byTarget].map(([target, own]) => [target, own.flatMap(({ edits }) => edits.map(toProtocolEdit))]));
}

/** Copies of one export that are looked for before giving up. */
const mostCopies = 1000;

/** The first name of a corrected copy that no file has, and its number. */
async function freeName(file: string, files: CopyFiles): Promise<{ readonly path: string; readonly n: number } | null> {
  const folder = file.includes("/") ? file.slice(0, file.lastIndexOf("/")) : "";
  const names = await files.list(folder);
  if (names === null) return null;
  // Some systems do not tell small letters from capital ones.
  const taken = new Set(names.map((name) => name.toLowerCase()));
  for (let n = 1; n <= mostCopies; n++) {
    const path = correctedName(file, n);
    if (!taken.has(path.slice(path.lastIndexOf("/") + 1).toLowerCase())) return { path, n };
  }
  return null;
}

/** The fix with the name of the n-th copy in it. */
function pointedTo(fix: Fix, n: number): Fix {
  return { ...fix, edits: fix.edits.map((edit) => ({ ...edit, text: JSON.stringify(correctedName(JSON.parse(edit.text) as string, n)) })) };
}
