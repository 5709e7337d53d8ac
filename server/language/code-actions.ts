import { CodeActionKind, type CodeAction, type Range } from "vscode-languageserver";
import type { Problem } from "../../core/problem";
import { toDiagnostic, toWholeRange } from "./to-protocol";

/** The fixes of those problems of a document that a stretch of it touches, in the order of the problems. */
export function codeActionsFor(uri: string, problems: readonly Problem[], asked: Range): CodeAction[] {
  return problems.flatMap((found) => {
    const { fix } = found;
    const diagnostic = toDiagnostic(found);
    if (fix === undefined || !touches(diagnostic.range, asked)) return [];
    const edits = fix.edits.map(({ range, text }) => ({ range: toWholeRange(range), newText: text }));
    return [{ title: fix.title, kind: CodeActionKind.QuickFix, diagnostics: [diagnostic], edit: { changes: { [uri]: edits } } }];
  });
}

function touches(a: Range, b: Range): boolean {
  const isBefore = (x: Range["start"], y: Range["start"]): boolean => x.line < y.line || (x.line === y.line && x.character < y.character);
  return !isBefore(a.end, b.start) && !isBefore(b.end, a.start);
}
