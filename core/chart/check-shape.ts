import type { Limits } from "../limits";
import type { Fix, Problem, ProblemCode, FactsOf } from "../problem";
import { problem } from "../problem";
import { shown } from "../problem-kind";
import { closestName } from "../closest-name";
import { onOneLine, type LineTable } from "../text-position";
import type { ColumnScope } from "./column-scope";
import { findName } from "./column-scope";
import { harmless, fieldName } from "./field-name";
import type { JsonEntry, JsonNode, Span } from "./json-tree";
import { ignoredKeys, refusedKeys, refusedWords } from "./refused-spec";
import type { Properties, Shape } from "./shape";
import { inWordsOf } from "./shape";

/** One use of a column in a specification. */
export interface ColumnUse {
  readonly name: string;
  readonly span: Span;
  /** True when the column is made by a transform and is not the table's own. */
  readonly isMade: boolean;
}

/** What one check of a specification gathers on its way. */
export interface ChartWalk {
  readonly text: string;
  readonly lines: LineTable;
  readonly limits: Limits;
  readonly problems: Problem[];
  readonly uses: ColumnUse[];
  /** Parts that were checked in their own way before the object they stand in, with what goes into the chart. */
  readonly done: Map<JsonNode, unknown>;
}

/** Where a value stands: its path in words for messages, and the columns that can be named there. */
export interface Place {
  readonly path: string;
  readonly scope: ColumnScope;
}

/** A checked value as it goes into the chart; `undefined` when it cannot. */
export type Checked = { readonly value: unknown } | undefined;

/** Adds a problem at a stretch of the cell's text, or at the first line of it. */
export function report<C extends ProblemCode>(walk: ChartWalk, code: C, facts: FactsOf<C>, span: Span, fix?: Fix): void {
  walk.problems.push(problem(code, facts, onOneLine(walk.lines.rangeAt(span.from, span.to), walk.lines), fix === undefined ? {} : { fix }));
}

/** A fix that puts `text` in the place of a stretch. */
export function replacing(walk: ChartWalk, span: Span, text: string, title: string): Fix {
  return { title, edits: [{ range: walk.lines.rangeAt(span.from, span.to), text }] };
}

/** The path in words: the specification itself, or a dotted path in it. */
export function whereOf(place: Place): string {
  return place.path === "" ? "the specification" : place.path;
}

/** Checks a value against a shape and gives what goes into the chart: fields under their data names, all else as it is. */
export function checkValue(node: JsonNode, shape: Shape, place: Place, walk: ChartWalk): Checked {
  const fitting = pick(shape, node);
  if (fitting === undefined) return mismatch(node, shape, place, walk);
  switch (fitting.is) {
    case "object":
      return node.kind === "object" ? checkObject(node, fitting.of, place, walk) : undefined;
    case "list":
      return node.kind === "list" ? checkList(node, fitting, place, walk) : undefined;
    case "column":
      return node.kind === "text" ? checkColumn(node, place, walk) : undefined;
    case "new column":
      return node.kind === "text" ? { value: fieldName(node.value) } : undefined;
    case "number":
      if (node.kind !== "number" || !(node.value >= fitting.least && node.value <= fitting.most)) return mismatch(node, shape, place, walk);
      return { value: node.value };
    case "choice":
      if (node.kind !== "text" || !fitting.of.includes(node.value)) return mismatch(node, shape, place, walk);
      return { value: node.value };
    case "pattern":
      if (node.kind !== "text" || !fitting.pattern.test(node.value)) return mismatch(node, shape, place, walk);
      return { value: node.value };
    case "null":
      return { value: null };
    default:
      return node.kind === "text" || node.kind === "truth" ? { value: node.value } : undefined;
  }
}

const jsonKind: Partial<Record<Shape["is"], JsonNode["kind"]>> = {
  number: "number", words: "text", pattern: "text", choice: "text", truth: "truth", null: "null", column: "text",
  "new column": "text", list: "list", object: "object",
};

/** The part of a shape that is meant for the kind of value at hand; of several kinds of text, the one that takes it. */
function pick(shape: Shape, node: JsonNode): Shape | undefined {
  if (shape.is === "later") return pick(shape.shape(), node);
  if (shape.is !== "union") return jsonKind[shape.is] === node.kind ? shape : undefined;
  const fitting = shape.of.map((each) => pick(each, node)).filter((each) => each !== undefined);
  return fitting.find((each) => each.is === "words" || (node.kind === "text" && takesText(each, node.value))) ?? fitting[0];
}

function takesText(shape: Shape, text: string): boolean {
  return (shape.is === "choice" && shape.of.includes(text)) || (shape.is === "pattern" && shape.pattern.test(text));
}

function checkList(node: JsonNode & { kind: "list" }, shape: Shape & { is: "list" }, place: Place, walk: ChartWalk): Checked {
  if (node.items.length > shape.most) {
    report(walk, "chart.beyond-limit", { count: node.items.length, what: `entries in ${whereOf(place)}`, most: shape.most }, node);
    return undefined;
  }
  const items = node.items.map((item, index) => checkValue(item, shape.of, { ...place, path: `${place.path}[${index}]` }, walk));
  return { value: items.flatMap((item) => (item === undefined ? [] : [item.value])) };
}

/** Checks each entry of an object; what is wrong is reported and left out. */
export function checkObject(node: JsonNode & { kind: "object" }, properties: Properties, place: Place, walk: ChartWalk): Checked {
  const made: Record<string, unknown> = {};
  const known = new Set<string>();
  for (const entry of node.entries) {
    if (known.has(entry.key)) {
      report(walk, "chart.repeated-key", { key: entry.key }, entry.keySpan, removing(walk, node, entry));
      continue;
    }
    known.add(entry.key);
    const inside = { ...place, path: place.path === "" ? entry.key : `${place.path}.${entry.key}` };
    if (!Object.hasOwn(properties, entry.key)) {
      refuseKey(node, entry, Object.keys(properties), place, walk);
      continue;
    }
    const checked = walk.done.has(entry.value)
      ? { value: walk.done.get(entry.value) }
      : checkValue(entry.value, properties[entry.key]!, inside, walk);
    if (checked === undefined) continue;
    made[entry.key] = entry.key === "title" && typeof checked.value === "string" ? harmless(checked.value) : checked.value;
  }
  return { value: made };
}

function refuseKey(node: JsonNode & { kind: "object" }, entry: JsonEntry, accepted: readonly string[], place: Place, walk: ChartWalk): void {
  const { key } = entry;
  // A schema of Vega-Lite at the top says what this is already; any other was reported before.
  if (place.path === "" && key === "$schema") return;
  const remove = removing(walk, node, entry);
  if (place.path === "" && Object.hasOwn(ignoredKeys, key)) {
    report(walk, "chart.ignored", { what: key, because: ignoredKeys[key]! }, entry.keySpan, remove);
    return;
  }
  if (Object.hasOwn(refusedKeys, key)) {
    report(walk, "chart.refused", { what: key, where: whereOf(place), because: refusedKeys[key]! }, entry.keySpan, remove);
    return;
  }
  const nearest = closestName(key, accepted) ?? undefined;
  const fix = nearest === undefined ? undefined : replacing(walk, entry.keySpan, JSON.stringify(nearest), `Change to "${nearest}"`);
  report(walk, "chart.unknown-property", { key, where: whereOf(place), nearest, accepted }, entry.keySpan, fix);
}

/** A fix that takes an entry out together with one comma beside it. */
function removing(walk: ChartWalk, node: JsonNode & { kind: "object" }, entry: JsonEntry): Fix {
  const index = node.entries.indexOf(entry);
  const next = node.entries[index + 1];
  const before = node.entries[index - 1];
  const span =
    next !== undefined
      ? { from: entry.keySpan.from, to: next.keySpan.from }
      : { from: before === undefined ? entry.keySpan.from : before.value.to, to: entry.value.to };
  return replacing(walk, span, "", `Remove "${entry.key.slice(0, 40)}"`);
}

function checkColumn(node: JsonNode & { kind: "text" }, place: Place, walk: ChartWalk): Checked {
  const name = findName(place.scope, node.value);
  if (name === null) {
    const accepted = [...place.scope.columns.keys()];
    const nearest = closestName(node.value, accepted) ?? undefined;
    const fix = nearest === undefined ? undefined : replacing(walk, node, JSON.stringify(nearest), `Change to "${nearest}"`);
    report(walk, "chart.unknown-column", { name: node.value, nearest, accepted }, node, fix);
    return undefined;
  }
  walk.uses.push({ name, span: node, isMade: place.scope.columns.get(name)?.isMade ?? false });
  return { value: fieldName(name) };
}

function mismatch(node: JsonNode, shape: Shape, place: Place, walk: ChartWalk): undefined {
  const key = /[^.[\]]*$/.exec(place.path.replace(/\[\d+\]$/, ""))![0];
  if (node.kind === "text" && Object.hasOwn(refusedWords, node.value)) {
    // Times are text here, and what sorts as time does sorts as text does.
    const fix = node.value === "temporal" && choicesOf(shape).includes("ordinal") ? replacing(walk, node, '"ordinal"', 'Change to "ordinal"') : undefined;
    report(walk, "chart.refused", { what: node.value, where: whereOf(place), because: refusedWords[node.value]! }, node, fix);
    return undefined;
  }
  if (node.kind === "text" && (key === "test" || key === "filter")) {
    report(walk, "chart.refused", { what: node.value, where: whereOf(place), because: refusedKeys["filter"]! }, node);
    return undefined;
  }
  const asked = node.kind === "object" ? node.entries.find((entry) => entry.key === "expr" || entry.key === "signal") : undefined;
  if (asked !== undefined) {
    report(walk, "chart.refused", { what: asked.key, where: whereOf(place), because: refusedKeys["expr"]! }, asked.keySpan);
    return undefined;
  }
  const choices = choicesOf(shape);
  const nearest = node.kind === "text" ? (closestName(node.value, choices) ?? undefined) : undefined;
  const fix = nearest === undefined ? undefined : replacing(walk, node, JSON.stringify(nearest), `Change to "${nearest}"`);
  report(walk, "chart.wrong-value", { given: given(node, walk.text), where: whereOf(place), nearest, accepted: inWordsOf(shape) }, node, fix);
  return undefined;
}

function choicesOf(shape: Shape): readonly string[] {
  if (shape.is === "later") return choicesOf(shape.shape());
  if (shape.is === "union") return shape.of.flatMap(choicesOf);
  return shape.is === "choice" ? shape.of : [];
}

function given(node: JsonNode, text: string): string {
  if (node.kind === "object") return "an object";
  if (node.kind === "list") return "a list";
  return node.kind === "text" ? shown(node.value) : text.slice(node.from, node.to).slice(0, 40);
}
