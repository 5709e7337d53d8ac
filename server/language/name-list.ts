import type { Entry, Span, Syntax } from "../../core/query/syntax";
import type { Vocabulary } from "../../core/query/vocabulary";
import { originOf, type Origin, type Scope } from "./column-origins";
import { symbolOfChoice } from "./named-choices";
import { withoutQuotes, type WrittenForm, type WrittenName } from "./written-name";

/** A constant of the cell: where it is declared, and the text or the table that it stands for. */
export interface Constant {
  readonly symbol: string;
  readonly text: Extract<Syntax, { kind: "text" }> | null;
  readonly table: Scope | null;
}

/** What is known of a name besides its place. */
export type NameFacts = Partial<Pick<WrittenName, "symbol" | "isDeclaration" | "column" | "option" | "verb" | "ending" | "files" | "isUncertain">>;

/** Words that are part of the language where a table could stand. */
export const places: ReadonlySet<string> = new Set(["op", "chart", "chosen", "text", "session", "sessions"]);

/** The names that were found in one query cell so far, and the one way to add each kind. */
export interface NameList {
  /** In the order of the text; none is empty, no two begin at one place. */
  readonly sorted: () => readonly WrittenName[];
  /** Symbols of texts that name several things. */
  readonly shared: readonly string[];
  /** Constants of the cell that stand before what is looked at. */
  readonly constants: Map<string, Constant>;
  readonly add: (role: WrittenName["role"], name: string, span: Span, facts?: NameFacts) => void;
  /** A name in quotes. */
  readonly quoted: (role: WrittenName["role"], name: string, span: Span, facts?: NameFacts) => void;
  readonly key: (role: WrittenName["role"], entry: Entry, facts?: NameFacts) => void;
  /** A column of a row, `.carry` or `["Ball speed"]`. */
  readonly member: (node: Extract<Syntax, { kind: "member" }>, facts: NameFacts) => void;
  /** The word of a choice, `chosen.what`. */
  readonly chosen: (node: Extract<Syntax, { kind: "member" }>) => void;
  /** A choice of rows in quotes, or in a constant that holds one; false for anything else, which is left to the caller. */
  readonly namedChoice: (node: Syntax) => boolean;
  /** A name by itself: a constant, a table made from options, or else a cell. */
  readonly plainName: (node: Extract<Syntax, { kind: "name" }>) => void;
  /** A name in quotes, or in a constant that holds one; `null` for anything else, which is left to the caller. */
  readonly column: (node: Syntax, scope: Scope) => string | null;
  /** A text that is compared with a column of text. */
  readonly value: (node: Syntax, column: NameFacts) => void;
  readonly functionName: (node: { readonly name: string; readonly nameSpan: Span }) => void;
  readonly verb: (name: string, span: Span) => void;
  /** The text behind quotes or a constant; the constant's use is added. */
  readonly textBehind: (node: Syntax) => Extract<Syntax, { kind: "text" }> | null;
  /** The declaration of a column at a key or a text. */
  readonly declarationAt: (span: Span) => Origin;
}

/** What a use of a column of a table says of it. */
export function columnFacts(name: string, { schema, origins }: Scope): NameFacts {
  const column = schema.columns.find((each) => each.name === name);
  const origin = originOf(origins, name);
  const isUncertain = origin.symbol === null && origins.rest === "unknown";
  return { ...origin, ...(isUncertain ? { isUncertain } : {}), ...(column === undefined ? {} : { column }) };
}

/** Returns an empty list for the cell `index` with this text. */
export function createNameList(index: number, text: string, vocabulary: Vocabulary): NameList {
  const names = new Map<number, WrittenName>();
  const shared: string[] = [];
  const constants = new Map<string, Constant>();
  const isQuoted = ({ from }: Span): boolean => text[from] === '"' || text[from] === "'";
  const inner = (span: Span): Span => (isQuoted(span) ? withoutQuotes(span) : span);

  function put(role: WrittenName["role"], name: string, span: Span, form: WrittenForm, whole: Span, facts: NameFacts = {}): void {
    if (span.from >= span.to) return;
    const before = names.get(span.from);
    // A constant's text is met once for each use of it.
    if (before === undefined) {
      names.set(span.from, { from: span.from, to: span.to, role, name, symbol: null, isDeclaration: false, form, whole, ending: "", files: [], ...facts });
    } else if (before.symbol !== (facts.symbol ?? null)) for (const symbol of [before.symbol, facts.symbol]) if (symbol) shared.push(symbol);
  }

  const add: NameList["add"] = (role, name, span, facts) => put(role, name, inner(span), "bare", span, facts);
  const quoted: NameList["quoted"] = (role, name, span, facts) => put(role, name, withoutQuotes(span), "quoted", span, facts);

  const plainName: NameList["plainName"] = (node) => {
    const constant = constants.get(node.name);
    if (constant !== undefined) add("constant", node.name, node, { symbol: constant.symbol });
    else if (vocabulary.sources.has(node.name)) add("source", node.name, node);
    else if (!places.has(node.name)) add("cell", node.name, node, { symbol: `cell:${node.name}` });
  };

  const textBehind: NameList["textBehind"] = (node) => {
    if (node.kind === "text") return node;
    const constant = node.kind === "name" ? constants.get(node.name) : undefined;
    if (node.kind !== "name" || constant === undefined) return null;
    plainName(node);
    return constant.text;
  };

  return {
    sorted: () => [...names.values()].sort((a, b) => a.from - b.from),
    shared,
    constants,
    add,
    quoted,
    key: (role, { name, nameSpan }, facts) => put(role, name, inner(nameSpan), "key", nameSpan, facts),
    member: ({ of, to, name, nameSpan }, facts) => put("column", name, inner(nameSpan), "member", { from: of.to, to }, facts),
    chosen: ({ of, to, name, nameSpan }) => put("named choice", name, inner(nameSpan), "member", { from: of.to, to }, { symbol: symbolOfChoice(name) }),
    namedChoice: (node) => {
      const written = textBehind(node);
      if (written !== null) quoted("named choice", written.value, written, { symbol: symbolOfChoice(written.value) });
      return written !== null;
    },
    plainName,
    column: (node, scope) => {
      const written = textBehind(node);
      if (written === null) return null;
      quoted("column", written.value, written, columnFacts(written.value, scope));
      return written.value;
    },
    value: (node, { column, symbol = null, files = [] }) => {
      const written = column?.kind === "text" ? textBehind(node) : null;
      if (column === undefined || written === null) return;
      quoted("value", written.value, written, { column, files, symbol: symbol === null ? null : `value:${symbol}:${written.value}` });
    },
    functionName: ({ name, nameSpan }) => add(vocabulary.aggregates.has(name) && !vocabulary.rowFunctions.has(name) ? "aggregate" : "function", name, nameSpan),
    verb: (name, span) => {
      const verb = vocabulary.verbs.get(name);
      add("verb", name, span, verb === undefined ? {} : { verb });
    },
    textBehind,
    declarationAt: (span) => ({ symbol: `column:${index}:${inner(span).from}`, ending: "", files: [] }),
  };
}
