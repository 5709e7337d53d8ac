import type { PlainConstant } from "../../core/query/check-row";
import { plainText, plainValue } from "../../core/query/check-literal";
import { isChartCall, type CellSyntax, type ChartCall, type Entry, type Syntax, type TextSyntax } from "../../core/query/syntax";
import { isTextEnding } from "../../core/query/text-forms";
import type { Options, Parameter, Verb, Vocabulary } from "../../core/query/vocabulary";
import { nothingKnown } from "../../core/table/schema";
import { originsAfter, originsMade, unknownOrigins, type Origin, type Origins, type Scope, type VerbUse } from "./column-origins";
import { columnFacts, createNameList, places } from "./name-list";
import type { StepsOf } from "./query-steps";
import { addRowNames } from "./row-names";
import type { WrittenName } from "./written-name";

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

type Call = Extract<Syntax, { kind: "call" }>;
/** Every name in the body of a query cell that could be parsed. */
export function namesOfQuery(cell: CellSyntax, place: QueryPlace): CellNames {
  const { index, text, vocabulary, stepsOf } = place;
  const list = createNameList(index, text, vocabulary);
  const { constants } = list;
  const tables: Origins[] = [];
  const additions: { before: Origins; declared: ReadonlyMap<string, Origin> }[] = [];
  const lookers: { name: string; origins: Origins; needs: readonly string[] }[] = [];
  const merged: (readonly [string, string])[] = [];
  const plain = new Map<string, PlainConstant>();

  function columnName(node: Syntax, scope: Scope): string | null {
    const name = list.column(node, scope);
    if (name === null) loose(node, scope);
    return name;
  }

  /** Whatever stands where nothing of its kind is expected: names of tables, functions, rows. */
  function loose(node: Syntax, scope: Scope): void {
    switch (node.kind) {
      case "name":
        return list.plainName(node);
      case "member":
        if (node.of.kind === "name" && node.of.name === "op") return list.functionName(node);
        if (vocabulary.verbs.has(node.name)) list.verb(node.name, node.nameSpan);
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
        return addRowNames(node, scope, place, list);
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

  function optionNames(node: Syntax, options: Options, scope: Scope, verb: Verb | null): void {
    if (node.kind !== "object") return loose(node, scope);
    for (const entry of node.entries) {
      const option = Object.hasOwn(options, entry.name) ? options[entry.name] : undefined;
      list.key("option", entry, { ...(option === undefined ? {} : { option }), ...(verb === null ? {} : { verb }) });
      const { value } = entry;
      if (option?.kind === "column") columnName(value, scope);
      else if (option?.kind === "columns") (value.kind === "list" ? value.items : [value]).forEach((item) => columnName(item, scope));
      else if (option?.kind === "choice" || option?.kind === "text") {
        const written = list.textBehind(value);
        if (written === null) loose(value, scope);
        else if (option.kind === "choice") list.quoted("choice", written.value, written, { option, ...(verb === null ? {} : { verb }) });
        else list.value(value, columnFacts(groupedBy(node, options) ?? "", scope));
      } else if (option?.kind === "windows" && value.kind === "object") {
        for (const window of value.entries) {
          list.key("column", window, columnFacts(window.name, scope));
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
      list.plainName(node);
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
    list.add("source", callee.name, callee);
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
    list.quoted("path", first.value, first);
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
      list.verb(name, nameSpan);
      call.given.forEach((each) => loose(each, before));
      return { schema: { ...before.schema, open: true }, origins: { ...before.origins, rest: "unknown" } };
    }
    list.verb(name, nameSpan);
    if (verb.family === "trade") lookers.push({ name, origins: before.origins, needs: [] });
    const step = stepsOf.step(nameSpan.from);
    const after = step?.after ?? { ...before.schema, open: true };
    const named: string[] = [];
    const declared = new Map<string, Origin>();
    const renamed = new Map<string, string>();
    const use = { verb, named, declared, renamed, place: `${index}:${nameSpan.from}`, by: "head" };
    let other: Scope | null = null;
    const declare = (entry: Entry): void => {
      const origin = list.declarationAt(entry.nameSpan);
      const column = after.columns.find((each) => each.name === entry.name);
      declared.set(entry.name, origin);
      list.key("column", entry, { ...origin, isDeclaration: true, ...(column === undefined ? {} : { column }) });
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
      list.key("column", entry, columnFacts(entry.name, before));
      const written = list.textBehind(entry.value);
      if (written === null) return loose(entry.value, before);
      const origin = list.declarationAt(written);
      const column = after.columns.find((each) => each.name === written.value);
      list.quoted("column", written.value, written, { ...origin, isDeclaration: true, ...(column === undefined ? {} : { column }) });
      renamed.set(entry.name, written.value);
      declared.set(written.value, origin);
    }
  }

  function aggregateNames(node: Syntax, scope: Scope): void {
    if (node.kind !== "call" || node.callee.kind !== "member" || node.callee.of.kind !== "name" || node.callee.of.name !== "op") return loose(node, scope);
    const { name, nameSpan } = node.callee;
    const aggregate = vocabulary.aggregates.get(name);
    list.add(aggregate === undefined ? "function" : "aggregate", name, nameSpan);
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
    list.add("chart kind", name, nameSpan);
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
    list.verb(node.callee.name, node.callee.nameSpan);
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
    list.add("constant", name, nameSpan, { symbol, isDeclaration: true });
    const simple = plainValue(value, plain);
    let table: Scope | null = null;
    if (simple === undefined) {
      table = tableOf(value);
      stepsOf.declare(name, value, plain);
    } else {
      loose(value, noColumns);
      plain.set(name, simple);
    }
    constants.set(name, { symbol, text: list.textBehind(value), table });
  }
  const result = resultOf(cell.result);
  return { names: list.sorted(), result, tables, additions, lookers, merged, shared: list.shared, fieldsMade: [] };
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
