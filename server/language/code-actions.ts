import { CodeActionKind, type CodeAction, type Range, type TextEdit as ProtocolEdit } from "vscode-languageserver";
import { editsTogether, fixAllEdits } from "../../core/fix-all";
import type { Fix, Problem, TextEdit } from "../../core/problem";
import { fileUri } from "./file-uri";
import { toDiagnostic, toWholeRange } from "./to-protocol";

/** The kind of the action that makes all fixes of a document that need no person. */
export const fixAllKind = `${CodeActionKind.SourceFixAll}.fairstrike`;

/**
 * What can be done about the problems of a document that a stretch of it touches: each of their fixes once, the fixes of
 * all problems of a code that is there several times, and all fixes of the document where a source action is asked for.
 *
 * Fixes that begin with a copy of a file are not among them: see `copyActionsFor`.
 *
 * @param only the kinds that are asked for; quick fixes when it is left out.
 */
export function codeActionsFor(uri: string, problems: readonly Problem[], asked: Range, only: readonly string[] | undefined): CodeAction[] {
  const fixable = problems.filter(({ fix }) => fix !== undefined && fix.copyOf === undefined);
  const actions: CodeAction[] = [];
  if (isAsked(CodeActionKind.QuickFix, only ?? [CodeActionKind.QuickFix])) {
    const here = fixable.filter((found) => touches(toDiagnostic(found).range, asked));
    actions.push(...quickFixes(uri, here), ...fixesOfCode(uri, here, fixable));
  }
  if (isAsked(fixAllKind, only ?? [])) actions.push(...allFixes(uri, fixable));
  return actions;
}

/** True for a kind that is one of those asked for, or below one of them. */
export function isAsked(kind: string, only: readonly string[]): boolean {
  return only.some((wanted) => kind === wanted || kind.startsWith(`${wanted}.`) || wanted === "");
}

/** True when two ranges have a place in common, their ends included. */
export function touches(a: Range, b: Range): boolean {
  const isBefore = (x: Range["start"], y: Range["start"]): boolean => x.line < y.line || (x.line === y.line && x.character < y.character);
  return !isBefore(a.end, b.start) && !isBefore(b.end, a.start);
}

/** The protocol's form of an edit. */
export function toProtocolEdit({ range, text }: TextEdit): ProtocolEdit {
  return { range: toWholeRange(range), newText: text };
}

/** Each fix once, with all problems that it removes. */
function quickFixes(uri: string, here: readonly Problem[]): CodeAction[] {
  const byFix = new Map<string, { readonly fix: Fix; readonly problems: Problem[] }>();
  for (const found of here) {
    const fix = found.fix!;
    const key = JSON.stringify([fix.title, fix.file, fix.edits]);
    const same = byFix.get(key);
    if (same === undefined) byFix.set(key, { fix, problems: [found] });
    else same.problems.push(found);
  }
  return [...byFix.values()].flatMap(({ fix, problems }) => {
    const target = targetOf(uri, problems[0]!);
    if (target === null) return [];
    const diagnostics = problems.map(toDiagnostic);
    return [{ title: fix.title, kind: CodeActionKind.QuickFix, diagnostics, isPreferred: true, edit: { changes: { [target]: fix.edits.map(toProtocolEdit) } } }];
  });
}

/** For each code at the place asked about that has several fixes in the document: all of them together. */
function fixesOfCode(uri: string, here: readonly Problem[], fixable: readonly Problem[]): CodeAction[] {
  return [...new Set(here.map((found) => found.code))].flatMap((code) => {
    const all = fixable.filter((found) => found.code === code);
    const byTarget = new Map<string, Fix[]>();
    for (const found of all) {
      const target = targetOf(uri, found);
      if (target !== null) byTarget.set(target, [...(byTarget.get(target) ?? []), found.fix!]);
    }
    const changes = Object.fromEntries([...byTarget].map(([target, fixes]) => [target, editsTogether(fixes).map(toProtocolEdit)]));
    // Several problems that one edit removes have that edit as their quick fix already.
    if (Object.values(changes).reduce((sum, edits) => sum + edits.length, 0) < 2) return [];
    return [{ title: `Fix all ${all.length} of these (${code})`, kind: CodeActionKind.QuickFix, diagnostics: all.map(toDiagnostic), edit: { changes } }];
  });
}

function allFixes(uri: string, fixable: readonly Problem[]): CodeAction[] {
  const edits = fixAllEdits(fixable);
  return edits.length === 0 ? [] : [{ title: "Make all fixes that need no decision", kind: fixAllKind, edit: { changes: { [uri]: edits.map(toProtocolEdit) } } }];
}

/** The document that a problem's fix edits; `null` where it is a file whose place cannot be told from the problem's. */
function targetOf(uri: string, { file, fix }: Problem): string | null {
  return fix?.file === undefined || fix.file === file ? uri : fileUri(uri, file, fix.file);
}
