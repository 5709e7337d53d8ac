import {
  CompletionItemKind,
  FoldingRangeKind,
  InlayHintKind,
  InsertTextFormat,
  MarkupKind,
  SemanticTokensBuilder,
  SymbolKind,
  type CompletionItem,
  type DocumentSymbol,
  type Hover,
  type InlayHint,
  type MarkupContent,
  type Range,
  type SemanticTokens,
  type SignatureHelp,
} from "vscode-languageserver";
import type { Span } from "../../core/query/syntax";
import { tokenKinds, type HintAnswer, type HoverAnswer, type SignatureAnswer, type Suggestion, type SuggestionKind, type SymbolAnswer, type TokenAnswer } from "./answers";

/** Gives the protocol's range of a stretch of the text that an answer is about. */
export type RangeOf = (span: Span) => Range;

const suggestionKinds: Readonly<Record<SuggestionKind, CompletionItemKind>> = {
  verb: CompletionItemKind.Method,
  function: CompletionItemKind.Function,
  option: CompletionItemKind.Property,
  choice: CompletionItemKind.EnumMember,
  column: CompletionItemKind.Field,
  value: CompletionItemKind.Value,
  cell: CompletionItemKind.Variable,
  constant: CompletionItemKind.Constant,
  chart: CompletionItemKind.Class,
  key: CompletionItemKind.Property,
  unit: CompletionItemKind.Unit,
  file: CompletionItemKind.File,
  snippet: CompletionItemKind.Snippet,
  word: CompletionItemKind.Keyword,
};

/** The most characters of a detail that a row of the list has room for beside the label. */
const mostInRow = 40;

/** The protocol's items of suggestions, sorted by rank and then as given. */
export function toCompletionItems(suggestions: readonly Suggestion[], rangeOf: RangeOf): CompletionItem[] {
  const ranked = suggestions.map((suggestion, place) => ({ suggestion, place })).sort((a, b) => (a.suggestion.rank ?? 0) - (b.suggestion.rank ?? 0) || a.place - b.place);
  return ranked.map(({ suggestion }, index) => ({
    label: suggestion.label,
    kind: suggestionKinds[suggestion.kind],
    textEdit: { range: rangeOf(suggestion.replace), newText: suggestion.insert },
    insertTextFormat: suggestion.isSnippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    sortText: String(index).padStart(5, "0"),
    ...(suggestion.detail === undefined ? {} : { detail: suggestion.detail }),
    // Seen in every row of the list and not in the chosen one alone: what tells columns and values apart.
    ...(suggestion.detail !== undefined && suggestion.detail.length <= mostInRow ? { labelDetails: { description: suggestion.detail } } : {}),
    ...(suggestion.documentation === undefined ? {} : { documentation: markdown(suggestion.documentation) }),
    ...(suggestion.filter === undefined ? {} : { filterText: suggestion.filter }),
    // Where a name is due next, what it can be is shown at once.
    ...(suggestion.isSnippet && /[."]\$\d/u.test(suggestion.insert) ? { command: { title: "Suggest", command: "editor.action.triggerSuggest" } } : {}),
  }));
}

/** The protocol's hover. */
export function toHover(answer: HoverAnswer, rangeOf: RangeOf): Hover {
  return { contents: markdown(answer.markdown), range: rangeOf(answer) };
}

/** The protocol's signature help of one call. */
export function toSignatureHelp({ label, documentation, parameters, active }: SignatureAnswer): SignatureHelp {
  const infos = parameters.map(({ from, to, documentation: words }) => ({ label: [from, to] as [number, number], documentation: markdown(words) }));
  return {
    signatures: [{ label, documentation: markdown(documentation), parameters: infos }],
    activeSignature: 0,
    // A number past the last parameter marks none.
    activeParameter: active ?? parameters.length,
  };
}

const symbolKinds: Readonly<Record<SymbolAnswer["kind"], SymbolKind>> = {
  cell: SymbolKind.Variable,
  chart: SymbolKind.Object,
  column: SymbolKind.Field,
  constant: SymbolKind.Constant,
  section: SymbolKind.String,
  head: SymbolKind.Class,
  key: SymbolKind.Key,
};

/** The protocol's symbol, with those within it. A symbol without a name is called by its kind: editors refuse an empty one. */
export function toDocumentSymbol(symbol: SymbolAnswer, rangeOf: RangeOf): DocumentSymbol {
  return {
    name: symbol.name.trim() === "" ? symbol.kind : symbol.name,
    detail: symbol.detail,
    kind: symbolKinds[symbol.kind],
    range: rangeOf(symbol),
    selectionRange: rangeOf(symbol.nameSpan),
    children: symbol.children.map((child) => toDocumentSymbol(child, rangeOf)),
  };
}

/** The protocol's inlay hint. */
export function toInlayHint({ at, label, tooltip }: HintAnswer, rangeOf: RangeOf): InlayHint {
  return { position: rangeOf({ from: at, to: at }).start, label, tooltip: markdown(tooltip), kind: InlayHintKind.Type, paddingLeft: true };
}

/** What colouring is made of, in the order of the numbers that stand for it. */
export const tokenLegend = { tokenTypes: [...tokenKinds], tokenModifiers: ["declaration"] };

/** The protocol's tokens of one document; those of several cells are given in the order of the document. */
export function toSemanticTokens(tokens: readonly { readonly token: TokenAnswer; readonly range: Range }[]): SemanticTokens {
  const builder = new SemanticTokensBuilder();
  for (const { token, range } of tokens) {
    const { line, character } = range.start;
    if (range.end.line === line && range.end.character > character)
      builder.push(line, character, range.end.character - character, tokenKinds.indexOf(token.type), token.isDeclaration ? 1 : 0);
  }
  return builder.build();
}

/** The protocol's fold of a stretch; `null` where it is on one line. */
export function toFold(span: Span, rangeOf: RangeOf): { startLine: number; endLine: number; kind: FoldingRangeKind } | null {
  const { start, end } = rangeOf(span);
  return end.line > start.line ? { startLine: start.line, endLine: end.line, kind: FoldingRangeKind.Region } : null;
}

function markdown(value: string): MarkupContent {
  return { kind: MarkupKind.Markdown, value };
}
