import type { Span } from "../../core/query/syntax";
import type { TextRange } from "../../core/text-position";

/** What a suggestion stands for: decides its symbol in the list. */
export type SuggestionKind =
  | "verb"
  | "function"
  | "option"
  | "choice"
  | "column"
  | "value"
  | "cell"
  | "constant"
  | "chart"
  | "key"
  | "unit"
  | "file"
  | "snippet"
  | "word";

/**
 * One suggestion, offered where the cursor is.
 *
 * `insert` stands in place of `replace`, which holds the cursor and lies on one line; it is a snippet (`$1`, `${2:name}`,
 * `$0`) where `isSnippet`. `detail` is plain text for one line; `documentation` is Markdown with names of the person's
 * escaped (see `markdown.ts`).
 */
export interface Suggestion {
  readonly label: string;
  readonly kind: SuggestionKind;
  readonly replace: Span;
  readonly insert: string;
  readonly isSnippet?: true;
  readonly detail?: string;
  readonly documentation?: string;
  /** What typing is matched against, where it is not the label. */
  readonly filter?: string;
  /** Smaller comes first; 0 where left out. Equal ones stay in the order given. */
  readonly rank?: number;
}

/** What hovering shows: Markdown, and the stretch it is about. */
export interface HoverAnswer extends Span {
  readonly markdown: string;
}

/** A call as it is being written, with the argument or option at the cursor. */
export interface SignatureAnswer {
  /** As it is written, `compare({ of, by, margin })`. */
  readonly label: string;
  readonly documentation: string;
  /** Each parameter: its stretch of the label, and what it is. */
  readonly parameters: readonly { readonly from: number; readonly to: number; readonly documentation: string }[];
  /** The number of the parameter at the cursor; `null` where it is at none. */
  readonly active: number | null;
}

/** A place in a cell of the same notebook. */
export interface CellPlace extends Span {
  readonly cell: number;
}

/** A place in another file below the root. */
export interface FilePlace {
  readonly path: string;
  readonly range: TextRange;
}

/** Where something is. */
export type Place = CellPlace | FilePlace;

/** A replacement in a cell. */
export interface CellEdit extends CellPlace {
  readonly text: string;
}

/** What renaming gives: all edits, or why there are none, in words for the person. */
export type RenameAnswer = { readonly ok: true; readonly edits: readonly CellEdit[] } | { readonly ok: false; readonly because: string };

/** A symbol for outline and search. */
export interface SymbolAnswer extends Span {
  readonly name: string;
  readonly detail: string;
  readonly kind: "cell" | "chart" | "column" | "constant" | "section" | "head" | "key";
  /** The part of the stretch that names it. */
  readonly nameSpan: Span;
  readonly children: readonly SymbolAnswer[];
}

/** A stretch that leads to a file: a path below the root. */
export interface LinkAnswer extends Span {
  readonly path: string;
}

/** A note shown between the characters at `at`. */
export interface HintAnswer {
  readonly at: number;
  readonly label: string;
  readonly tooltip: string;
}

/** What a stretch is, for colouring. Stretches are sorted, on one line each and never overlap. */
export interface TokenAnswer extends Span {
  readonly type: TokenKind;
  readonly isDeclaration: boolean;
}

/** Kinds of token, all of them standard ones of the protocol. */
export const tokenKinds = ["variable", "property", "method", "function", "parameter", "enumMember", "namespace", "string", "number", "keyword", "operator"] as const;

/** One of the kinds. */
export type TokenKind = (typeof tokenKinds)[number];
