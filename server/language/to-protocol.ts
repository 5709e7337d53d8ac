import { DiagnosticSeverity, type Diagnostic, type Position, type Range, type TextEdit as ProtocolEdit } from "vscode-languageserver";
import type { Severity } from "../../core/problem-kind";
import type { Problem, TextEdit } from "../../core/problem";
import type { TextPosition, TextRange } from "../../core/text-position";

/** The protocol's diagnostic of a problem; its message ends with the hint. */
export function toDiagnostic(found: Problem): Diagnostic {
  return {
    range: toRange(found.range),
    severity: severityOf(found.severity),
    code: found.code,
    // Several sessions may read one export, each in its own way.
    source: found.session === undefined ? "fairstrike" : `fairstrike: ${found.session}`,
    message: found.hint === "" ? found.message : `${found.message}\n${found.hint}`,
  };
}

/** Larger than any column; the protocol takes a character beyond a line's end for its end (LSP 3.17, Position). */
const lineEnd = 2 ** 31 - 1;

/** The protocol's range. Never more than one line, so that a long cell isn't all marked. */
function toRange(range: TextRange): Range {
  const { start, end } = toWholeRange(range);
  return { start, end: end.line === start.line ? end : { line: start.line, character: lineEnd } };
}

/** The protocol's place: line and character from 0. */
export function toPosition({ line, column }: TextPosition): Position {
  return { line: line - 1, character: column - 1 };
}

/** The place that the protocol's is. */
export function fromPosition({ line, character }: Position): TextPosition {
  return { line: line + 1, column: character + 1 };
}

/** The protocol's range of a stretch of text, however long. */
export function toWholeRange({ start, end }: TextRange): Range {
  return { start: toPosition(start), end: toPosition(end) };
}

/** The protocol's form of an edit. */
export function toProtocolEdit({ range, text }: TextEdit): ProtocolEdit {
  return { range: toWholeRange(range), newText: text };
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
