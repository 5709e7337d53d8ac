import { chartProblems } from "./chart/chart-problems";
import { notebookProblems } from "./notebook/notebook-problems";
import { pathProblems } from "./path-problems";
import type { Facts, ProblemKind, Severity } from "./problem-kind";
import { queryProblems } from "./query/query-problems";
import { runProblems } from "./run-problems";
import { sessionProblems } from "./session/session-problems";
import { csvProblems } from "./table/csv-problems";
import type { ReadOptions } from "./table/read-options";
import { valueProblems } from "./table/value-problems";
import type { TextRange } from "./text-position";
import { tradeProblems } from "./verbs/trade-problems";
import { yamlProblems } from "./yaml-problems";

/** Every kind of problem, by code. Each area keeps its own kinds; this table only joins them. */
export const problemCatalogue = {
  ...csvProblems,
  ...valueProblems,
  ...yamlProblems,
  ...sessionProblems,
  ...notebookProblems,
  ...queryProblems,
  ...tradeProblems,
  ...chartProblems,
  ...pathProblems,
  ...runProblems,
} as const;

type Catalogue = typeof problemCatalogue;

/** Every code that a problem can have, such as `query.unknown-column`. */
export type ProblemCode = keyof Catalogue;

/** The facts that a problem of code `C` carries. */
export type FactsOf<C extends ProblemCode> = Catalogue[C] extends ProblemKind<infer F> ? F : never;

/** One replacement of a stretch of the text in which a problem was found. */
export interface TextEdit {
  readonly range: TextRange;
  readonly text: string;
}

/** A change that would remove a problem: a title for the person, and edits of the problem's own text or of `file`. */
export interface Fix {
  readonly title: string;
  readonly edits: readonly TextEdit[];
  /** The file that the edits are in, named as the problem's own; absent where it is the problem's own text. */
  readonly file?: string;
  /** True where the fix says what only a person can know: it is made when it is asked for, and with no others. */
  readonly byPerson?: true;
  /** The export of which a corrected copy is to be made first; the edits then put its name in place of the export's. */
  readonly copyOf?: ExportCopy;
}

/** An export of which a corrected copy can be made, and how it is read. */
export interface ExportCopy {
  /** Named as a problem's file. */
  readonly file: string;
  /** The digest it had when the problem was found. */
  readonly digest: string;
  readonly reading: ReadOptions;
}

/**
 * Something that is wrong, said where the person looks.
 *
 * `range` is in the text the problem was found in (a cell's text, or the file `file`); lines and columns are
 * 1-based and columns count UTF-16 units. `message` and `hint` come from the catalogue and from nowhere else.
 */
export type Problem = {
  [C in ProblemCode]: {
    readonly code: C;
    readonly severity: Severity;
    readonly message: string;
    readonly hint: string;
    readonly facts: FactsOf<C>;
    readonly range: TextRange;
    /** The file as the notebook or session names it; absent while the text is a cell's or the file at hand. */
    readonly file?: string;
    /** For a problem in an export: the session file by which it was read, named as `file`; several may name one export. */
    readonly session?: string;
    readonly fix?: Fix;
    /** Edits of the problem's own text for a corrected copy, where the text is an export and is never changed itself. */
    readonly mends?: readonly TextEdit[];
  };
}[ProblemCode];

/** A value as complete as it could be made, and everything that was wrong on the way. */
export interface Checked<T> {
  readonly value: T;
  readonly problems: readonly Problem[];
}

/** Returns a problem of the given code, its message and hint built from the facts. */
export function problem<C extends ProblemCode>(
  code: C,
  facts: FactsOf<C>,
  range: TextRange,
  more: { readonly file?: string; readonly fix?: Fix; readonly mends?: readonly TextEdit[] } = {},
): Problem {
  const kind = problemCatalogue[code] as ProblemKind<Facts>;
  return {
    code,
    severity: kind.severity,
    message: kind.says(facts),
    hint: kind.hint(facts),
    facts,
    range,
    ...more,
  } as unknown as Problem;
}

/** True when at least one of the problems is an error. */
export function hasError(problems: readonly Problem[]): boolean {
  return problems.some((p) => p.severity === "error");
}

/** The same problem, said to be in the file `file` unless it already names one. */
export function inFile(found: Problem, file: string): Problem {
  return found.file === undefined ? { ...found, file } : found;
}
