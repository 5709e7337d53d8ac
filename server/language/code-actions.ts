import { CodeActionKind, type CodeAction, type Range } from "vscode-languageserver";
import { fixAllEdits, fixesTogether, needsNobody } from "../../core/fix-all";
import type { Fix, Problem } from "../../core/problem";
import { fileUri } from "./file-uri";
import { toDiagnostic, toProtocolEdit } from "./to-protocol";
import type { EditWriter } from "./workspace-edits";

/** The kind of the action that makes all fixes of a document that need no person. */
export const fixAllKind = `${CodeActionKind.SourceFixAll}.fairstrike`;

/** The kind of the action that does so in all cells of a notebook: editors ask for it once, and for the other cell by cell. */
export const fixNotebookKind = `notebook.${fixAllKind}`;

/** Problems by document. */
export type ProblemsAround = ReadonlyMap<string, readonly Problem[]>;

/** What is asked for: actions of some kinds about the problems of a document that a stretch of it touches. */
export interface AskedActions {
  readonly uri: string;
  /** Those of the document as it is now, and of the other cells of its notebook. */
  readonly around: ProblemsAround;
  /** True when the document is a cell. */
  readonly isCell: boolean;
  readonly range: Range;
  /** Quick fixes when it is left out. */
  readonly only: readonly string[] | undefined;
  readonly writer: EditWriter;
}

/**
 * What can be done about the problems of a document that a stretch of it touches: each of their fixes once, the fixes of
 * all problems of a code that is there several times, in all cells of a notebook, and all fixes of the document or of its
 * notebook where such an action is asked for.
 * A fix that says what only a person can know stands alone, and is not the preferred one.
 *
 * Fixes that begin with a copy of a file are not among them: see `copyActionsFor`.
 */
export function codeActionsFor(asked: AskedActions): CodeAction[] {
  const { uri, around, range, only } = asked;
  const actions: CodeAction[] = [];
  if (isAsked(CodeActionKind.QuickFix, only ?? [CodeActionKind.QuickFix])) {
    const here = (around.get(uri) ?? []).filter((found) => isFixable(found) && touches(toDiagnostic(found).range, range));
    actions.push(...quickFixes(asked, here), ...fixesOfCode(asked, here));
  }
  const own: ProblemsAround = new Map([[uri, around.get(uri) ?? []]]);
  if (isAsked(fixAllKind, only ?? [])) actions.push(...allFixes(asked, fixAllKind, own));
  if (isAsked(fixNotebookKind, only ?? []) && asked.isCell) actions.push(...allFixes(asked, fixNotebookKind, around));
  return actions;
}

/** True for a problem whose fix needs no copy of a file first. */
function isFixable({ fix }: Problem): boolean {
  return fix !== undefined && fix.copyOf === undefined;
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

/** Each fix once, with all problems that it removes. */
function quickFixes({ uri, writer }: AskedActions, here: readonly Problem[]): CodeAction[] {
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
    const edit = writer.write(new Map([[target, fix.edits.map(toProtocolEdit)]]));
    return [{ title: fix.title, kind: CodeActionKind.QuickFix, diagnostics: problems.map(toDiagnostic), isPreferred: fix.byPerson !== true, edit }];
  });
}

/** For each code at the place asked about that has several fixes around: all of them that can be made together. */
function fixesOfCode({ uri, around, writer }: AskedActions, here: readonly Problem[]): CodeAction[] {
  return [...new Set(here.map((found) => found.code))].flatMap((code) => {
    const byTarget = new Map<string, Problem[]>();
    for (const [document, problems] of around) {
      for (const found of problems) {
        const target = found.code === code && isFixable(found) && needsNobody(found) ? targetOf(document, found) : null;
        if (target !== null) byTarget.set(target, [...(byTarget.get(target) ?? []), found]);
      }
    }
    const together = [...byTarget].map(([target, own]) => ({ target, own, ...fixesTogether(own.map(({ fix }) => fix!)) }));
    // Several problems that one fix removes have that fix as their own already.
    if (together.reduce((sum, { different }) => sum + different, 0) < 2) return [];
    const mended = together.flatMap(({ own, made }) => own.filter(({ fix }) => made.includes(fix!)));
    const diagnostics = mended.filter((found) => around.get(uri)!.includes(found)).map(toDiagnostic);
    const edit = writer.write(new Map(together.map(({ target, edits }) => [target, edits.map(toProtocolEdit)])));
    return [{ title: `Fix all ${mended.length} of these (${code})`, kind: CodeActionKind.QuickFix, diagnostics, edit }];
  });
}

function allFixes({ writer }: AskedActions, kind: string, problems: ProblemsAround): CodeAction[] {
  const edits = [...problems].map(([document, own]) => [document, fixAllEdits(own.filter(isFixable)).map(toProtocolEdit)] as const).filter(([, own]) => own.length > 0);
  return edits.length === 0 ? [] : [{ title: "Make all fixes that need no decision", kind, edit: writer.write(new Map(edits)) }];
}

/** The document that a problem's fix edits; `null` where it is a file whose place cannot be told from the problem's. */
function targetOf(uri: string, { file, fix }: Problem): string | null {
  return fix?.file === undefined || fix.file === file ? uri : fileUri(uri, file, fix.file);
}
