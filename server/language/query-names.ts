import { plainValue } from "../../core/query/check-literal";
import { isChartCall, type CellSyntax, type ChartCall, type Syntax, type TextSyntax } from "../../core/query/syntax";
import { isTextEnding } from "../../core/query/text-forms";
import { nothingKnown } from "../../core/table/schema";
import { addAnyNames, columnName, optionNames } from "./argument-names";
import { originsMade, type Scope } from "./column-origins";
import { createNameList, places } from "./name-list";
import { isTableCall, noColumns, unknownTable, type CellNames, type MemberCall, type NamesPlace, type QueryReading } from "./query-reading";
import { afterVerb } from "./verb-names";

/** Every name in the body of a query cell that could be parsed. */
export function namesOfQuery(cell: CellSyntax, place: NamesPlace): CellNames {
  const { index, text, vocabulary, stepsOf } = place;
  const list = createNameList(index, text, vocabulary);
  const { constants } = list;
  const reading: QueryReading = { place, list, plain: new Map(), tables: [], additions: [], lookers: [], merged: [], choosesUnwritten: false, tableOf };
  const { plain } = reading;

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
        addAnyNames(reading, node.callee, unknownTable);
        node.given.forEach((each) => addAnyNames(reading, each, unknownTable));
      } else addAnyNames(reading, node, unknownTable);
      return unknownTable;
    }
    const { callee, given } = node;
    const [first, ...more] = given;
    const made = vocabulary.sources.get(callee.name);
    if (made === undefined && callee.name !== "session" && callee.name !== "sessions") {
      given.forEach((each) => addAnyNames(reading, each, unknownTable));
      return unknownTable;
    }
    list.add("source", callee.name, callee);
    more.forEach((each) => addAnyNames(reading, each, unknownTable));
    if (made !== undefined) {
      if (first !== undefined) optionNames(reading, first, made.options, noColumns, null);
      const schema = stepsOf.made(callee.from) ?? nothingKnown;
      return { schema, origins: originsMade(schema, `${index}:${callee.from}`) };
    }
    if (first?.kind !== "text") {
      if (first !== undefined) addAnyNames(reading, first, unknownTable);
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
    reading.tables.push(scope.origins);
    for (const call of calls.reverse()) {
      scope = afterVerb(reading, call, scope);
      reading.tables.push(scope.origins);
    }
    return scope;
  }

  function chartOf(node: ChartCall): Scope {
    const { name, nameSpan } = node.callee;
    const chart = vocabulary.charts.get(name);
    list.add("chart kind", name, nameSpan);
    const [first, options, ...more] = node.given;
    const scope = first === undefined ? unknownTable : tableOf(first);
    reading.lookers.push({ name: `chart.${name}`, origins: scope.origins, needs: chart?.needs ?? [] });
    if (options !== undefined) optionNames(reading, options, chart?.options ?? {}, scope, null);
    more.forEach((each) => addAnyNames(reading, each, scope));
    return unknownTable;
  }

  function holeNames(node: Syntax): void {
    if (node.kind !== "call" || node.callee.kind !== "member" || !isTextEnding(node.callee.name)) return void tableOf(node);
    const scope = tableOf(node.callee.of);
    list.verb(node.callee.name, node.callee.nameSpan);
    const [first, ...more] = node.given;
    if (first !== undefined) columnName(reading, first, scope);
    more.forEach((each) => addAnyNames(reading, each, scope));
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
      addAnyNames(reading, value, noColumns);
      plain.set(name, simple);
    }
    constants.set(name, { symbol, text: list.textBehind(value), table });
  }
  const result = resultOf(cell.result);
  const { tables, additions, lookers, merged, choosesUnwritten } = reading;
  return { names: list.sorted(), result, tables, additions, lookers, merged, shared: list.shared, choosesUnwritten, fieldsMade: [] };
}
