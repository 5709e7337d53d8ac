import { CodeActionKind, type CodeAction, type Range } from "vscode-languageserver";
import type { Fix, Problem } from "../../core/problem";
import { correctedName } from "../../core/session/export-fixes";
import { correctedCopy } from "../../core/table/corrected-copy";
import { isAsked, touches, toProtocolEdit } from "./code-actions";
import { fileUri } from "./file-uri";
import { toDiagnostic } from "./to-protocol";

/** How the makers of copies get at files; paths are below the root of the document they are asked for. */
export interface CopyFiles {
  /** `null` for a file that cannot be read. */
  readonly read: (path: string) => Promise<Uint8Array | null>;
  /** The names in a folder; `null` when they cannot be had. */
  readonly list: (folder: string) => Promise<readonly string[] | null>;
}

/**
 * For an export with problems that its session cannot say: the action that makes a corrected copy beside it, under a name
 * that is free, and points the session file to the copy. The export itself is not touched.
 *
 * None where the export is larger than 5 MB or cannot be read, or where the names beside it are not known.
 */
export async function copyActionsFor(
  uri: string,
  problems: readonly Problem[],
  asked: Range,
  only: readonly string[] | undefined,
  files: CopyFiles,
): Promise<CodeAction[]> {
  if (!isAsked(CodeActionKind.QuickFix, only ?? [CodeActionKind.QuickFix])) return [];
  const here = problems.filter((found) => found.fix?.copyOf !== undefined && touches(toDiagnostic(found).range, asked));
  // One export may be that of several sessions, each of which has to be pointed to the copy.
  const fixes = [...new Map(here.map(({ fix }) => [JSON.stringify([fix!.file, fix!.edits]), fix!])).values()];
  const [first] = fixes;
  if (first?.copyOf === undefined) return [];
  const { file, reading } = first.copyOf;
  const bytes = await files.read(file);
  const text = bytes === null ? null : correctedCopy(bytes, reading, problems);
  const copy = text === null ? null : await freeName(file, files);
  const copyUri = copy === null ? null : fileUri(uri, file, copy.path);
  if (text === null || copy === null || copyUri === null) return [];
  const sessions = fixes.flatMap((fix) => {
    const target = fileUri(uri, file, fix.file!);
    return target === null ? [] : [{ textDocument: { uri: target, version: null }, edits: pointedTo(fix, copy.n).edits.map(toProtocolEdit) }];
  });
  const start = { line: 0, character: 0 };
  return [
    {
      title: first.title,
      kind: CodeActionKind.QuickFix,
      diagnostics: here.map(toDiagnostic),
      isPreferred: true,
      edit: {
        documentChanges: [
          { kind: "create", uri: copyUri, options: { overwrite: false, ignoreIfExists: false } },
          { textDocument: { uri: copyUri, version: null }, edits: [{ range: { start, end: start }, newText: text }] },
          ...sessions,
        ],
      },
    },
  ];
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
