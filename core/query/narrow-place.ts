import type { Limits } from "../limits";
import type { Schema } from "../table/schema";
import type { CheckedQuery } from "./check-query";
import { readAllowed, type Allowed } from "./narrow-allowed";
import { maskComments, outerSpan } from "./narrow-layout";
import { parseQuery } from "./parse-query";
import type { Span, Syntax } from "./syntax";
import type { Step, TableExpression } from "./table-expression";

/** One of the conditions that a filter joins with `&&`. */
export interface Condition {
  /** Where it stands, with the brackets around it. */
  readonly span: Span;
  /** The `&&` before it; `null` for the first. */
  readonly joint: Span | null;
  /** What it lets through of one column; `null` for a condition that is kept as it is. */
  readonly allowed: Allowed | null;
  /** True where `&&` behind it would take only its end. */
  readonly isLoose: boolean;
}

/** A filter of a cell. */
export interface FilterPlace {
  /** The verb with its dot. */
  readonly span: Span;
  /** What its row is called. */
  readonly row: string;
  readonly conditions: readonly Condition[];
}

/** Where a cell's table is narrowed: by filters that follow one another, or where one would be put. */
export interface NarrowPlace {
  /** The whole text of the cell. */
  readonly text: string;
  readonly bodyOffset: number;
  /** The table before the first filter. */
  readonly before: Schema;
  readonly filters: readonly FilterPlace[];
  /** Where a filter would be put where there is none, and what stands before and after it. */
  readonly insert: { readonly at: number; readonly lead: string; readonly trail: string };
  /** The text of a cell that gives the table before the filters, and of one that gives it after them, header line included. */
  readonly tableText: string;
  readonly narrowedText: string;
}

/** Verbs that leave rows what they are, so that narrowing after them means what it means before them. */
const keepingRows: ReadonlySet<string> = new Set(["filter", "derive", "select", "orderby", "rename"]);

/**
 * Where a checked query cell narrows its table, or could: after the table that its chain begins with and before the first
 * verb that changes what a row is. A constant that only this chain uses is a part of it.
 *
 * `because` says in words why there is no such place.
 */
export function narrowPlace(checked: CheckedQuery, bodyOffset: number, limits: Limits): NarrowPlace | { readonly because: string } {
  if (!checked.runnable) return { because: "the cell has an error: put it right first" };
  const { expression } = checked;
  if (expression.kind === "text") return { because: "a text has no table of its own: narrow the cells that it takes its numbers from" };
  const table = chainOf(expression.kind === "table" ? expression.table : expression.chart.table, checked);
  const { text } = checked;
  const masked = maskComments(text, bodyOffset);
  const steps = leadingSteps(table);
  const first = steps.findIndex(({ verb }) => verb.name === "filter");
  const dotOf = (step: Step): number => masked.lastIndexOf(".", step.nameSpan.from);
  const after = first < 0 ? [] : steps.slice(first);
  const others = after.findIndex(({ verb }) => verb.name !== "filter");
  const own = others < 0 ? after : after.slice(0, others);
  const filters = own.map((step) => readFilter(step, dotOf(step), masked));
  if (filters.some((filter) => filter === null)) return { because: "the filter of this cell has no condition that can be changed here" };
  const before = own[0]?.before ?? table.steps[0]?.before ?? table.schema;
  if (before.columns.length === 0) return { because: "the columns of its table are not known before it runs" };
  const last = own.at(-1);
  const lead = first > 0 ? steps[first - 1]! : null;
  const cellOf = (to: number | null): string | null => cellText(checked, table, to, bodyOffset, limits);
  const tableText = cellOf(lead?.to ?? null);
  const narrowedText = last === undefined ? tableText : cellOf(last.to);
  if (tableText === null || narrowedText === null) return { because: "the brackets around its table are not understood here" };
  return { text, bodyOffset, before, filters: filters as FilterPlace[], insert: insertAt(table, masked, text), tableText, narrowedText };
}

/** What the conditions that are understood let through of a column, one by one. */
export function allowedIn({ filters }: NarrowPlace, column: string): readonly Allowed[] {
  return filters.flatMap(({ conditions }) => conditions.flatMap(({ allowed }) => (allowed?.column === column ? [allowed] : [])));
}

/** The chain that is narrowed: that of the result, or of the constant that it begins with where nothing else uses that. */
function chainOf(result: TableExpression, checked: CheckedQuery): TableExpression {
  const { source } = result;
  const constant = source.kind === "constant" ? checked.tables.get(source.name) : undefined;
  if (source.kind !== "constant" || constant === undefined || usesOf(source.name, checked) !== 1) return result;
  const changes = constant.steps.length > leadingSteps(constant).length;
  return changes || !leadingSteps(result).some(({ verb }) => verb.name === "filter") ? chainOf(constant, checked) : result;
}

function usesOf(name: string, { tables, expression }: CheckedQuery): number {
  const count = ({ source, steps }: TableExpression): number =>
    (source.kind === "constant" && source.name === name ? 1 : 0) + steps.flatMap(({ given }) => given).reduce((sum, { table }) => sum + (table === undefined ? 0 : count(table)), 0);
  const results = expression.kind === "table" ? [expression.table] : expression.kind === "chart" ? [expression.chart.table] : expression.text.holes.map(({ table }) => table);
  return [...tables.values(), ...results].reduce((sum, table) => sum + count(table), 0);
}

function leadingSteps({ steps }: TableExpression): readonly Step[] {
  const end = steps.findIndex(({ verb }) => !keepingRows.has(verb.name));
  return end < 0 ? steps : steps.slice(0, end);
}

function readFilter(step: Step, dot: number, masked: string): FilterPlace | null {
  const node = step.given[0]?.nodes[0];
  if (node?.kind !== "row function" || step.given.length !== 1) return null;
  return { span: { from: dot, to: step.to }, row: node.parameter, conditions: conditionsOf(node, masked) };
}

function conditionsOf(node: Extract<Syntax, { kind: "row function" }>, masked: string): readonly Condition[] {
  const { body, parameter } = node;
  const parts: { readonly node: Syntax; readonly joint: Span | null }[] = [];
  const split = (part: Syntax): void => {
    if (part.kind !== "binary" || part.operator !== "&&") return void parts.push({ node: part, joint: null });
    const { left, right, operatorSpan } = part;
    if (masked.slice(left.to, operatorSpan.from).includes(")")) parts.push({ node: left, joint: null });
    else split(left);
    parts.push({ node: right, joint: operatorSpan });
  };
  split(body);
  const isOne = parts.length === 1;
  const start = isOne ? masked.indexOf("=>", node.from) + 2 : body.from;
  const end = isOne ? node.to : body.to;
  return parts.map(({ node: part, joint }, index) => {
    const span = outerSpan(masked, part, joint?.to ?? start, parts[index + 1]?.joint?.from ?? end);
    const isBare = span.from === part.from && span.to === part.to;
    const isLoose = isBare && (part.kind === "choose" || (part.kind === "binary" && part.operator === "||"));
    return { span, joint, allowed: readAllowed(part, parameter), isLoose };
  });
}

/** After the table that the chain begins with: on a line of its own where the verbs have one. */
function insertAt({ source, steps: [first] }: TableExpression, masked: string, text: string): NarrowPlace["insert"] {
  if (first === undefined) return { at: source.to, lead: "", trail: "" };
  const dot = masked.lastIndexOf(".", first.nameSpan.from);
  const gap = /\s*$/u.exec(text.slice(source.to, dot))![0];
  const line = gap.lastIndexOf("\n");
  return line < 0 ? { at: dot, lead: "", trail: "" } : { at: dot, lead: "", trail: gap.slice(line) };
}

/** The text of a cell that gives the chain up to `to`, or the table it begins with; `null` where that cannot be cut out. */
function cellText({ text }: CheckedQuery, table: TableExpression, to: number | null, bodyOffset: number, limits: Limits): string | null {
  const syntax = parseQuery(text, bodyOffset, limits).value;
  if (syntax === null) return null;
  const constants = syntax.constants.filter(({ value }) => value.to < table.from).map(({ name, value }) => `const ${name} = ${text.slice(value.from, value.to)};\n`);
  const { source } = table;
  for (let from = to === null ? source.from : table.from; from <= source.from; from++) {
    const cut = text.slice(0, bodyOffset) + constants.join("") + text.slice(from, to ?? source.to);
    if (parseQuery(cut, bodyOffset, limits).value !== null) return cut;
  }
  return null;
}
