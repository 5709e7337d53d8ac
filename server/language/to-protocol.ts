import { DiagnosticSeverity, type Diagnostic, type Range } from "vscode-languageserver";
import type { Severity } from "../../core/problem-kind";
import type { Problem } from "../../core/problem";
import type { TextRange } from "../../core/text-position";

/** The protocol's diagnostic of a problem; its message ends with the hint. */
export function toDiagnostic(found: Problem): Diagnostic {
  return {
    range: toRange(found.range),
    severity: severityOf(found.severity),
    code: found.code,
    source: "fairstrike",
    message: found.hint === "" ? found.message : `${found.message}\n${found.hint}`,
  };
}

/** Larger than any column; the protocol takes a character beyond a line's end for its end (LSP 3.17, Position). */
const lineEnd = 2 ** 31 - 1;

/** The protocol's range: lines and characters from 0. Never more than one line, so that a long cell isn't all marked. */
function toRange(range: TextRange): Range {
  const { start, end } = range;
  return {
    start: { line: start.line - 1, character: start.column - 1 },
    end: end.line === start.line ? { line: end.line - 1, character: end.column - 1 } : { line: start.line - 1, character: lineEnd },
  };
}

/** The protocol's range of a stretch of text, however long. */
export function toWholeRange({ start, end }: TextRange): Range {
  return { start: { line: start.line - 1, character: start.column - 1 }, end: { line: end.line - 1, character: end.column - 1 } };
}

function severityOf(severity: Severity): DiagnosticSeverity {
  switch (severity) {
    case "error":
      return DiagnosticSeverity.Error;
    case "warning":
      return DiagnosticSeverity.Warning;
    case "info":
      return DiagnosticSeverity.Information;
  }
}
