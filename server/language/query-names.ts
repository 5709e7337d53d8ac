import type { PlainConstant } from "../../core/query/check-row";
import { plainText, plainValue } from "../../core/query/check-literal";
import { isChartCall, type CellSyntax, type ChartCall, type Entry, type Span, type Syntax, type TextSyntax } from "../../core/query/syntax";
import { isTextEnding } from "../../core/query/text-forms";
import type { Options, Parameter, Verb, Vocabulary } from "../../core/query/vocabulary";
import { nothingKnown } from "../../core/table/schema";
import { originOf, originsAfter, originsMade, unknownOrigins, type Origin, type Origins, type Scope, type VerbUse } from "./column-origins";
import type { StepsOf } from "./query-steps";
import { withoutQuotes, type WrittenForm, type WrittenName } from "./written-name";

/** The names of one cell, and what was met on the way to them. */
export interface CellNames {
  /** In the order of the text; none is empty. */
  readonly names: readonly WrittenName[];
  /** The table that the cell gives; `null` for any other cell, and while nothing is known of it. */
  readonly result: Scope | null;
  /** The columns of every table in the cell, before and after each verb. */
  readonly tables: readonly Origins[];
  /** Calls that add columns to those of the table before, or put them in the place of one: what they declare. */
  readonly additions: readonly { readonly before: Origins; readonly declared: ReadonlyMap<string, Origin> }[];
  /** Verbs of the trade and charts, which look for columns by their usual names; `needs` are those of a chart's own. */
  readonly lookers: readonly { readonly name: string; readonly origins: Origins; readonly needs: readonly string[] }[];
  /** Declarations that verbs put into one column. */
  readonly merged: readonly (readonly [string, string])[];
  /** Constants whose text names several columns: the symbols of the later ones. */
  readonly shared: readonly string[];
  /** Names that a chart's own transforms give. */
  readonly fieldsMade: readonly string[];
}

/** What a query cell's names are read against. */
export interface QueryPlace {
  readonly index: number;
  readonly text: string;
  readonly vocabulary: Vocabulary;
  /** The schemas of each call in the cell, as it was checked. */
  readonly stepsOf: StepsOf;
  /** The table that a cell of this name, or `shots`, gives. */
  readonly tableOf: (name: string) => Scope;
  /** The table that a path as written gives. */
  readonly sessionsAt: (path: string) => Scope;
}

const unknownTable: Scope = { schema: nothingKnown, origins: unknownOrigins };
const noColumns: Scope = { schema: { columns: [], open: false, groupedBy: [], fromShots: false }, origins: { columns: new Map(), rest: "none" } };

/** Words that are part of the language where a table could stand. */
const places: ReadonlySet<string> = new Set(["op", "chart", "text", "session", "sessions"]);

type Call = Extract<Syntax, { kind: "call" }>;
type Extra = Partial<Pick<WrittenName, "symbol" | "isDeclaration" | "column" | "option" | "verb" | "ending" | "files" | "isUncertain">>;

/** A constant of the cell: where it is declared, what it is, and the table it stands for. */
interface Constant {
  readonly symbol: string;
  readonly value: Syntax;
  readonly table: Scope | null;
}

/** Every name in the body of a query cell that could be parsed. */
export function namesOfQuery(cell: CellSyntax, place: QueryPlace): CellNames {
  const { index, text, vocabulary, stepsOf } = place;
  const names = new Map<string, WrittenName>();
  const tables: Origins[] = [];
  const additions: { before: Origins; declared: ReadonlyMap<string, Origin> }[] = [];
  const lookers: { name: string; origins: Origins; needs: readonly string[] }[] = [];
  const merged: (readonly [string, string])[] = [];
  const shared: string[] = [];
  const constants = new Map<string, Constant>();
  const plain = new Map<string, PlainConstant>();

  function add(role: WrittenName["role"], name: string, span: Span, form: WrittenForm, whole: Span, extra: Extra = {}): void {
    if (span.from >= span.to) return;
    const key = `${span.from}`;
    const before = names.get(key);
    if (before !== undefined) {
      if (before.symbol !== (extra.symbol ?? null)) for (const symbol of [before.symbol, extra.symbol]) if (symbol) shared.push(symbol);
      return;
    }
    names.set(key, { from: span.from, to: span.to, role, name, symbol: null, isDeclaration: false, form, whole, ending: "", files: [], ...extra });
  }

  function addQuoted(role: WrittenName["role"], name: string, node: Span, extra: Extra = {}): void {
    add(role, name, withoutQuotes(node), "quoted", node, extra);
  }

  function addKey(role: WrittenName["role"], { name, nameSpan }: Entry, extra: Extra = {}): void {
    add(role, name, isQuoted(nameSpan) ? withoutQuotes(nameSpan) : nameSpan, "key", nameSpan, extra);
  }

  function isQuoted({ from }: Span): boolean {
    return text[from] === '"' || text[from] === "'";
  }

  /** What a use of a column says of it. */
  function useOf(name: string, { schema, origins }: Scope): Extra {
    const column = schema.columns.find((each) => each.name === name);
    const origin = originOf(origins, name);
    const isUncertain = origin.symbol === null && origins.rest === "unknown";
    return { ...origin, ...(isUncertain ? { isUncertain } : {}), ...(column === undefined ? {} : { column }) };
  }

  function addName(node: Extract<Syntax, { kind: "name" }>): void {
    const constant = constants.get(node.name);
    if (constant !== undefined) add("constant", node.name, node, "bare", node, { symbol: constant.symbol });
    else if (vocabulary.sources.has(node.name)) add("source", node.name, node, "bare", node);
    else if (!places.has(node.name)) add("cell", node.name, node, "bare", node, { symbol: `cell:${node.name}` });
  }

  /** The text node behind a name in quotes or a constant that holds one; the constant's use is noted. */
  function textNode(node: Syntax): Extract<Syntax, { kind: "text" }> | null {
    if (node.kind === "text") return node;
    if (node.kind !== "name" || !constants.has(node.name)) return null;
    addName(node);
    const { value } = constants.get(node.name)!;
    return value.kind === "name" || value.kind === "text" ? textNode(value) : null;
  }

  function columnName(node: Syntax, scope: Scope): string | null {
    const written = textNode(node);
    if (written === null) {
      loose(node, scope);
      return null;
    }
    addQuoted("column", written.value, written, useOf(written.value, scope));
    return written.value;
  }

  /** A text that is compared with a column. */
  function valueName(node: Syntax, { column, symbol = null, files = [] }: Extra): void {
    if (column?.kind !== "text") return;
    const written = textNode(node);
    if (written !== null) addQuoted("value", written.value, written, { column, files, symbol: symbol === null ? null : `value:${symbol}:${written.value}` });
  }

  function declarationAt(span: Span): Origin {
    return { symbol: `column:${index}:${isQuoted(span) ? span.from + 1 : span.from}`, ending: "", files: [] };
  }

  /** Whatever stands where nothing of its kind is expected: names of tables, functions, rows. */
  function loose(node: Syntax, scope: Scope): void {
    switch (node.kind) {
      case "name":
        return addName(node);
      case "member":
        if (node.of.kind === "name" && node.of.name === "op") return functionName(node);
        if (vocabulary.verbs.has(node.name)) verbName(node.name, node.nameSpan);
        return loose(node.of, scope);
      case "call":
        if (isTableCall(node)) return void tableOf(node);
        if (node.callee.kind !== "name") loose(node.callee, scope);
        return node.given.forEach((each) => loose(each, scope));
      case "object":
        return node.entries.forEach((entry) => loose(entry.value, scope));
      case "list":
        return node.items.forEach((item) => loose(item, scope));
      case "row function":
        return rowFunction(node, scope);
      case "negate":
      case "not":
        return loose(node.of, scope);
      case "binary":
        loose(node.left, scope);
        return loose(node.right, scope);
      case "choose":
        loose(node.test, scope);
        loose(node.yes, scope);
        return loose(node.no, scope);
      case "number":
      case "text":
      case "truth":
      case "missing":
        return;
    }
  }

  function functionName({ name, nameSpan }: { readonly name: string; readonly nameSpan: Span }): void {
    const role = vocabulary.aggregates.has(name) && !vocabulary.rowFunctions.has(name) ? "aggregate" : "function";
    add(role, name, isQuoted(nameSpan) ? withoutQuotes(nameSpan) : nameSpan, "bare", nameSpan);
  }

  function verbName(name: string, span: Span): void {
    const verb = vocabulary.verbs.get(name);
    add("verb", name, isQuoted(span) ? withoutQuotes(span) : span, "bare", span, verb === undefined ? {} : { verb });
  }

  function rowFunction(node: Extract<Syntax, { kind: "row function" }>, scope: Scope): void {
    const { parameter } = node;
    const span = parameterSpan(text, node);
    const symbol = `row:${index}:${span.from}`;
    add("row", parameter, span, "bare", span, { symbol, isDeclaration: true });
    visit(node.body);

    function compare(a: Syntax, b: Syntax): void {
      if (a.kind === "member" && a.of.kind === "name" && a.of.name === parameter) valueName(b, useOf(a.name, scope));
    }

    function visit(each: Syntax): void {
      switch (each.kind) {
        case "name":
          if (constants.has(each.name)) addName(each);
          else if (each.name === parameter) add("row", parameter, each, "bare", each, { symbol });
          return;
        case "member": {
          const { of, name, nameSpan } = each;
          if (of.kind !== "name" || of.name !== parameter) return of.kind === "name" && of.name === "op" ? functionName(each) : visit(of);
          add("row", parameter, of, "bare", of, { symbol });
          add("column", name, isQuoted(nameSpan) ? withoutQuotes(nameSpan) : nameSpan, "member", { from: of.to, to: each.to }, useOf(name, scope));
          return;
        }
        case "call": {
          const { callee, given } = each;
          if (callee.kind !== "name") visit(callee);
          const [first, ...others] = given;
          if (callee.kind === "member" && vocabulary.rowFunctions.get(callee.name)?.matches === true && first !== undefined) others.forEach((other) => compare(first, other));
          return given.forEach(visit);
        }
        case "binary":
          visit(each.left);
          if (each.operator === "===" || each.operator === "!==") {
            compare(each.left, each.right);
            compare(each.right, each.left);
          }
          return visit(each.right);
        case "choose":
          visit(each.test);
          visit(each.yes);
          return visit(each.no);
        case "negate":
        case "not":
          return visit(each.of);
        case "object":
          return each.entries.forEach((entry) => visit(entry.value));
        case "list":
          return each.items.forEach(visit);
        case "row function":
          return rowFunction(each, scope);
        default:
          return;
      }
    }
  }

  function optionNames(node: Syntax, options: Options, scope: Scope, verb: Verb | null): void {
    if (node.kind !== "object") return loose(node, scope);
    for (const entry of node.entries) {
      const option = Object.hasOwn(options, entry.name) ? options[entry.name] : undefined;
      addKey("option", entry, { ...(option === undefined ? {} : { option }), ...(verb === null ? {} : { verb }) });
      const { value } = entry;
      if (option?.kind === "column") columnName(value, scope);
      else if (option?.kind === "columns") (value.kind === "list" ? value.items : [value]).forEach((item) => columnName(item, scope));
      else if (option?.kind === "choice" || option?.kind === "text") {
        const written = textNode(value);
        if (written === null) loose(value, scope);
        else if (option.kind === "choice") addQuoted("choice", written.value, written, { option, ...(verb === null ? {} : { verb }) });
        else valueName(value, useOf(groupedBy(node, options) ?? "", scope));
      } else if (option?.kind === "windows" && value.kind === "object") {
        for (const window of value.entries) {
          addKey("column", window, useOf(window.name, scope));
          loose(window.value, scope);
        }
      } else loose(value, scope);
    }
  }

  /** The column that the option `by` names, or that it stands for when it is left out. */
  function groupedBy(node: Syntax | undefined, options: Options): string | null {
    if (!Object.hasOwn(options, "by")) return null;
    const entry = node?.kind === "object" ? node.entries.find(({ name }) => name === "by") : undefined;
    return entry === undefined ? "head" : (plainText(entry.value, plain) ?? null);
  }

  function sourceOf(node: Syntax): Scope {
    if (node.kind === "name") {
      addName(node);
      const constant = constants.get(node.name);
      if (constant !== undefined) return constant.table ?? unknownTable;
      return places.has(node.name) || vocabulary.sources.has(node.name) ? unknownTable : place.tableOf(node.name);
    }
    if (node.kind !== "call" || node.callee.kind !== "name") {
      if (node.kind === "call") {
        if (isChartCall(node)) return chartOf(node);
        loose(node.callee, unknownTable);
        node.given.forEach((each) => loose(each, unknownTable));
      } else loose(node, unknownTable);
      return unknownTable;
    }
    const { callee, given } = node;
    const [first, ...more] = given;
    const made = vocabulary.sources.get(callee.name);
    if (made === undefined && callee.name !== "session" && callee.name !== "sessions") {
      given.forEach((each) => loose(each, unknownTable));
      return unknownTable;
    }
    add("source", callee.name, callee, "bare", callee);
    more.forEach((each) => loose(each, unknownTable));
    if (made !== undefined) {
      if (first !== undefined) optionNames(first, made.options, noColumns, null);
      const schema = stepsOf.made(callee.from) ?? nothingKnown;
      return { schema, origins: originsMade(schema, `${index}:${callee.from}`) };
    }
    if (first?.kind !== "text") {
      if (first !== undefined) loose(first, unknownTable);
      return unknownTable;
    }
    addQuoted("path", first.value, first);
    return place.sessionsAt(first.value);
  }

  function tableOf(node: Syntax): Scope {
    const calls: MemberCall[] = [];
    let base = node;
    while (isTableCall(base)) {
      calls.push(base);
      base = base.callee.of;
    }
    if (calls.length > 0) stepsOf.prepare(node, plain);
    let scope = sourceOf(base);
    tables.push(scope.origins);
    for (const call of calls.reverse()) {
      scope = afterVerb(call, scope);
      tables.push(scope.origins);
    }
    return scope;
  }

  function afterVerb(call: MemberCall, before: Scope): Scope {
    const { name, nameSpan } = call.callee;
    const verb = vocabulary.verbs.get(name);
    if (verb === undefined) {
      verbName(name, nameSpan);
      call.given.forEach((each) => loose(each, before));
      return { schema: { ...before.schema, open: true }, origins: { ...before.origins, rest: "unknown" } };
    }
    verbName(name, nameSpan);
    if (verb.family === "trade") lookers.push({ name, origins: before.origins, needs: [] });
    const step = stepsOf.step(nameSpan.from);
    const after = step?.after ?? { ...before.schema, open: true };
    const named: string[] = [];
    const declared = new Map<string, Origin>();
    const renamed = new Map<string, string>();
    const use = { verb, named, declared, renamed, place: `${index}:${nameSpan.from}`, by: "head" };
    let other: Scope | null = null;
    const declare = (entry: Entry): void => {
      const origin = declarationAt(entry.nameSpan);
      const column = after.columns.find((each) => each.name === entry.name);
      declared.set(entry.name, origin);
      addKey("column", entry, { ...origin, isDeclaration: true, ...(column === undefined ? {} : { column }) });
    };
    const given: VerbUse["given"] = matched(verb.parameters, call.given);
    for (const { parameter, nodes } of given) {
      const [first] = nodes;
      if (first === undefined) continue;
      switch (parameter.kind) {
        case "new columns":
        case "aggregates":
          if (first.kind !== "object") loose(first, before);
          else {
            if (parameter.kind === "new columns") additions.push({ before: before.origins, declared });
            for (const entry of first.entries) {
              declare(entry);
              if (parameter.kind === "aggregates") aggregateNames(entry.value, before);
              else loose(entry.value, before);
            }
          }
          break;
        case "columns":
          for (const each of nodes) {
            const column = columnName(each, before);
            if (column !== null) named.push(column);
          }
          break;
        case "ordering":
          for (const each of nodes) orderingName(each, before);
          break;
        case "renames":
          if (first.kind !== "object") loose(first, before);
          else for (const entry of first.entries) renameNames(entry);
          break;
        case "table":
          other = tableOf(first);
          break;
        case "options":
          use.by = groupedBy(first, parameter.options) ?? "";
          optionNames(first, parameter.options, before, verb);
          break;
        default:
          loose(first, before);
      }
    }
    const used = given.reduce((sum, { nodes }) => sum + nodes.length, 0);
    call.given.slice(used).forEach((each) => loose(each, before));
    const origins = originsAfter({ ...use, given, other }, before, after, merged);
    return { schema: after, origins };

    function renameNames(entry: Entry): void {
      addKey("column", entry, useOf(entry.name, before));
      const written = textNode(entry.value);
      if (written === null) return loose(entry.value, before);
      const origin = declarationAt(written);
      const column = after.columns.find((each) => each.name === written.value);
      addQuoted("column", written.value, written, { ...origin, isDeclaration: true, ...(column === undefined ? {} : { column }) });
      renamed.set(entry.name, written.value);
      declared.set(written.value, origin);
    }
  }

  function aggregateNames(node: Syntax, scope: Scope): void {
    if (node.kind !== "call" || node.callee.kind !== "member" || node.callee.of.kind !== "name" || node.callee.of.name !== "op") return loose(node, scope);
    const { name, nameSpan } = node.callee;
    const aggregate = vocabulary.aggregates.get(name);
    add(aggregate === undefined ? "function" : "aggregate", name, isQuoted(nameSpan) ? withoutQuotes(nameSpan) : nameSpan, "bare", nameSpan);
    const [first, ...more] = node.given;
    if (first !== undefined) {
      if (first.kind === "row function" || aggregate?.of === "none") loose(first, scope);
      else columnName(first, scope);
    }
    more.forEach((each) => loose(each, scope));
  }

  function orderingName(node: Syntax, scope: Scope): void {
    const isCall = node.kind === "call" && node.callee.kind === "member" && node.callee.of.kind === "name" && node.callee.of.name === "op";
    if (!isCall) return void columnName(node, scope);
    loose(node.callee, scope);
    const [first, ...more] = node.given;
    if (first !== undefined) columnName(first, scope);
    more.forEach((each) => loose(each, scope));
  }

  function chartOf(node: ChartCall): Scope {
    const { name, nameSpan } = node.callee;
    const chart = vocabulary.charts.get(name);
    add("chart kind", name, nameSpan, "bare", nameSpan);
    const [first, options, ...more] = node.given;
    const scope = first === undefined ? unknownTable : tableOf(first);
    lookers.push({ name: `chart.${name}`, origins: scope.origins, needs: chart?.needs ?? [] });
    if (options !== undefined) optionNames(options, chart?.options ?? {}, scope, null);
    more.forEach((each) => loose(each, scope));
    return unknownTable;
  }

  function holeNames(node: Syntax): void {
    if (node.kind !== "call" || node.callee.kind !== "member" || !isTextEnding(node.callee.name)) return void tableOf(node);
    const scope = tableOf(node.callee.of);
    verbName(node.callee.name, node.callee.nameSpan);
    const [first, ...more] = node.given;
    if (first !== undefined) columnName(first, scope);
    more.forEach((each) => loose(each, scope));
  }

  function resultOf(node: Syntax | TextSyntax): Scope | null {
    if (node.kind === "text with holes") {
      node.holes.forEach(holeNames);
      return null;
    }
    if (isChartCall(node)) {
      chartOf(node);
      return null;
    }
    return tableOf(node);
  }

  for (const { name, nameSpan, value } of cell.constants) {
    const symbol = `constant:${index}:${name}`;
    const simple = plainValue(value, plain);
    add("constant", name, nameSpan, "bare", nameSpan, { symbol, isDeclaration: true });
    if (simple !== undefined) loose(value, noColumns);
    const table = simple === undefined ? tableOf(value) : null;
    if (simple !== undefined) plain.set(name, simple);
    else stepsOf.declare(name, value, plain);
    constants.set(name, { symbol, value, table });
  }
  const result = resultOf(cell.result);
  return { names: [...names.values()].sort((a, b) => a.from - b.from), result, tables, additions, lookers, merged, shared, fieldsMade: [] };
}

type MemberCall = Call & { readonly callee: Extract<Syntax, { kind: "member" }> };

/** True for a verb on a table: a call of a member that belongs to neither `op` nor `chart`. */
function isTableCall(node: Syntax): node is MemberCall {
  if (node.kind !== "call" || node.callee.kind !== "member") return false;
  const { of } = node.callee;
  return of.kind !== "name" || (of.name !== "op" && of.name !== "chart");
}

/** The parameter of each argument, as far as the arguments go. */
function matched(parameters: readonly Parameter[], nodes: readonly Syntax[]): VerbUse["given"] {
  let used = 0;
  return parameters.map((parameter) => {
    const takesRest = parameter.kind === "columns" || parameter.kind === "ordering";
    const taken = takesRest ? nodes.slice(used) : nodes.slice(used, used + 1);
    used += taken.length;
    return { parameter, nodes: taken };
  });
}

/** Where a row function's parameter stands: behind brackets, space and comments at its beginning. */
function parameterSpan(text: string, { from, to }: Span): Span {
  const before = /(?:[\s(]|\/\*[^]*?\*\/|\/\/[^\n]*\n)*/y;
  before.lastIndex = from;
  const start = from + before.exec(text)![0].length;
  const name = /(?:[\p{ID_Continue}$]|\\u\{?[0-9a-fA-F]+\}?)+/uy;
  name.lastIndex = start;
  const length = name.exec(text)?.[0].length ?? 0;
  return { from: start, to: Math.min(to, start + length) };
}
