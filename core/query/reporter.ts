import type { FactsOf, Fix, Problem, ProblemCode } from "../problem";
import { problem } from "../problem";
import type { LineTable, TextRange } from "../text-position";
import { closestName } from "../closest-name";
import { nameHere } from "./other-names";
import type { Span } from "./syntax";

/** Codes for a name that is not among those known. */
export type UnknownCode =
  | "query.unknown-table"
  | "query.unknown-name"
  | "query.unknown-verb"
  | "query.unknown-function"
  | "query.unknown-chart"
  | "query.unknown-column"
  | "query.unknown-option"
  | "query.unknown-choice"
  | "query.unknown-named-choice";

/** Gathers the problems of one cell, placing each in the cell's text. */
export interface Reporter {
  readonly problems: readonly Problem[];
  readonly rangeOf: (span: Span) => TextRange;
  readonly textOf: (span: Span) => string;
  readonly say: <C extends ProblemCode>(code: C, facts: FactsOf<C>, span: Span, fix?: Fix) => void;
  /** Says that a name is not known, with the nearest one that is as a fix that replaces `fixSpan` alone. */
  readonly unknown: (code: UnknownCode, name: string, span: Span, candidates: readonly string[], replace?: Replacement) => void;
  readonly add: (found: Problem) => void;
  /** A fix that replaces one stretch of the text. */
  readonly replacing: (title: string, span: Span, text: string) => Fix;
}

/** What a fix for an unknown name replaces, and how the right name is written there. */
export interface Replacement {
  readonly span: Span;
  readonly write: (name: string) => string;
}

/** Returns a reporter for a cell's text. */
export function createReporter(text: string, lines: LineTable): Reporter {
  const problems: Problem[] = [];
  const rangeOf = (span: Span): TextRange => lines.rangeAt(span.from, span.to);
  const textOf = (span: Span): string => text.slice(span.from, span.to);
  const replacing = (title: string, span: Span, replacement: string): Fix => ({
    title,
    edits: [{ range: rangeOf(span), text: replacement }],
  });
  return {
    problems,
    rangeOf,
    textOf,
    replacing,
    add: (found) => problems.push(found),
    say: (code, facts, span, fix) => problems.push(problem(code, facts, rangeOf(span), fix === undefined ? {} : { fix })),
    unknown: (code, name, span, candidates, replace = sameToken(textOf, span)) => {
      const nearest = otherwiseCalled(code, name, candidates) ?? closestName(name, candidates);
      if (nearest === null) problems.push(problem(code, { name, candidates }, rangeOf(span)));
      else {
        const fix = replacing(`Use ${nearest}`, replace.span, replace.write(nearest));
        problems.push(problem(code, { name, candidates, nearest }, rangeOf(span), { fix }));
      }
    },
  };
}

/** A function that has another name elsewhere. */
function otherwiseCalled(code: UnknownCode, name: string, candidates: readonly string[]): string | undefined {
  const here = code === "query.unknown-function" ? nameHere(name) : undefined;
  return here !== undefined && candidates.includes(here) ? here : undefined;
}

/** Replaces the token itself, in quotes where it was in quotes. */
function sameToken(textOf: (span: Span) => string, span: Span): Replacement {
  const quoted = /^(?:["']|chosen\.)/.test(textOf(span));
  return { span, write: (name) => (quoted ? JSON.stringify(name) : name) };
}
