import { plainText } from "../../core/query/check-literal";
import { isChosen } from "../../core/query/chosen-words";
import type { Syntax } from "../../core/query/syntax";
import type { Options, Verb } from "../../core/query/vocabulary";
import type { Scope } from "./column-origins";
import { columnFacts } from "./name-list";
import { isTableCall, type QueryReading } from "./query-reading";
import { addRowNames } from "./row-names";

/** Adds the name of a column, in quotes or in a constant, and gives it; `null` for anything else, whose names are added. */
export function columnName(reading: QueryReading, node: Syntax, scope: Scope): string | null {
  const name = reading.list.column(node, scope);
  if (name === null) addAnyNames(reading, node, scope);
  return name;
}

/** Adds the name of a choice of rows, in quotes or in a constant, or the names in whatever else it is given as. */
export function choiceName(reading: QueryReading, node: Syntax, scope: Scope): void {
  if (reading.list.namedChoice(node)) return;
  reading.choosesUnwritten = true;
  addAnyNames(reading, node, scope);
}

/** Whatever stands where nothing of its kind is expected: names of tables, functions, rows. */
export function addAnyNames(reading: QueryReading, node: Syntax, scope: Scope): void {
  switch (node.kind) {
    case "name":
      return reading.list.plainName(node);
    case "member":
      if (isChosen(node)) return reading.list.chosen(node);
      if (node.of.kind === "name" && node.of.name === "op") return reading.list.functionName(node);
      if (reading.place.vocabulary.verbs.has(node.name)) reading.list.verb(node.name, node.nameSpan);
      return addAnyNames(reading, node.of, scope);
    case "call":
      if (isTableCall(node)) return void reading.tableOf(node);
      if (node.callee.kind !== "name") addAnyNames(reading, node.callee, scope);
      return node.given.forEach((each) => addAnyNames(reading, each, scope));
    case "object":
      return node.entries.forEach((entry) => addAnyNames(reading, entry.value, scope));
    case "list":
      return node.items.forEach((item) => addAnyNames(reading, item, scope));
    case "row function":
      return addRowNames(node, scope, reading.place, reading.list);
    case "negate":
    case "not":
      return addAnyNames(reading, node.of, scope);
    case "binary":
      addAnyNames(reading, node.left, scope);
      return addAnyNames(reading, node.right, scope);
    case "choose":
      addAnyNames(reading, node.test, scope);
      addAnyNames(reading, node.yes, scope);
      return addAnyNames(reading, node.no, scope);
    case "number":
    case "text":
    case "truth":
    case "missing":
      return;
  }
}

/** Adds the names in an object of options, each with what it means. */
export function optionNames(reading: QueryReading, node: Syntax, options: Options, scope: Scope, verb: Verb | null): void {
  if (node.kind !== "object") return addAnyNames(reading, node, scope);
  for (const entry of node.entries) {
    const option = Object.hasOwn(options, entry.name) ? options[entry.name] : undefined;
    reading.list.key("option", entry, { ...(option === undefined ? {} : { option }), ...(verb === null ? {} : { verb }) });
    const { value } = entry;
    if (option?.kind === "column") columnName(reading, value, scope);
    else if (option?.kind === "columns") (value.kind === "list" ? value.items : [value]).forEach((item) => columnName(reading, item, scope));
    else if (option?.kind === "choice" || option?.kind === "text") {
      const written = reading.list.textBehind(value);
      if (written === null) addAnyNames(reading, value, scope);
      else if (option.kind === "choice") reading.list.quoted("choice", written.value, written, { option, ...(verb === null ? {} : { verb }) });
      else reading.list.value(value, columnFacts(groupedBy(reading, node, options) ?? "", scope));
    } else if (option?.kind === "windows" && value.kind === "object") {
      for (const window of value.entries) {
        reading.list.key("column", window, columnFacts(window.name, scope));
        addAnyNames(reading, window.value, scope);
      }
    } else addAnyNames(reading, value, scope);
  }
}

/** The column that the option `by` names, or that it stands for when it is left out. */
export function groupedBy(reading: QueryReading, node: Syntax | undefined, options: Options): string | null {
  if (!Object.hasOwn(options, "by")) return null;
  const entry = node?.kind === "object" ? node.entries.find(({ name }) => name === "by") : undefined;
  return entry === undefined ? "head" : (plainText(entry.value, reading.plain) ?? null);
}

/** Adds the names in `op.mean("carry")`. */
export function aggregateNames(reading: QueryReading, node: Syntax, scope: Scope): void {
  if (node.kind !== "call" || node.callee.kind !== "member" || node.callee.of.kind !== "name" || node.callee.of.name !== "op") return addAnyNames(reading, node, scope);
  const { name, nameSpan } = node.callee;
  const aggregate = reading.place.vocabulary.aggregates.get(name);
  reading.list.add(aggregate === undefined ? "function" : "aggregate", name, nameSpan);
  const [first, ...more] = node.given;
  if (first !== undefined) {
    if (first.kind === "row function" || aggregate?.of === "none") addAnyNames(reading, first, scope);
    else columnName(reading, first, scope);
  }
  more.forEach((each) => addAnyNames(reading, each, scope));
}

/** Adds the names in what rows are ordered by: a column, or `op.desc("carry")`. */
export function orderingName(reading: QueryReading, node: Syntax, scope: Scope): void {
  const isCall = node.kind === "call" && node.callee.kind === "member" && node.callee.of.kind === "name" && node.callee.of.name === "op";
  if (!isCall) return void columnName(reading, node, scope);
  addAnyNames(reading, node.callee, scope);
  const [first, ...more] = node.given;
  if (first !== undefined) columnName(reading, first, scope);
  more.forEach((each) => addAnyNames(reading, each, scope));
}
