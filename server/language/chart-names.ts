import type { CheckedChart } from "../../core/chart/check-chart";
import type { JsonNode } from "../../core/chart/json-tree";
import { readJson } from "../../core/chart/json-tree";
import type { Span } from "../../core/query/syntax";
import type { Scope } from "./column-origins";
import { columnFacts } from "./name-list";
import { withoutQuotes, type WrittenName } from "./written-name";

/** Keys of a specification whose text names a column of the table, alone or in a list. */
const columnKeys: ReadonlySet<string> = new Set(["field", "groupby", "on", "fold", "density", "regression", "loess", "quantile", "impute", "stack", "sort"]);
/** Channels and orders can stand where a column can. */
const sortWords: ReadonlySet<string> = new Set(["ascending", "descending", "x", "y", "-x", "-y", "color", "-color", "size", "-size"]);
/** As deep as a chart may be that is checked. */
const depth = 100;

/**
 * Every column of the table that a chart cell's specification names.
 *
 * With a mistake in it there is no checked chart: then text stands for a column where one is expected. `scope` is the
 * table that the chart draws.
 */
export function namesOfChart(text: string, bodyOffset: number, checked: CheckedChart | null, scope: Scope): readonly WrittenName[] {
  const named = (name: string, span: Span): WrittenName => {
    const { from, to } = withoutQuotes(span);
    return { from, to, role: "column", name, isDeclaration: false, symbol: null, ending: "", files: [], form: "json", whole: span, ...columnFacts(name, scope) };
  };
  const known = new Set(scope.schema.columns.map(({ name }) => name));
  const meant = (name: string): string => (known.has(name) || scope.origins.columns.has(name) ? name : name.replace(/\\(.)/gsu, "$1"));
  const names = checked === null ? textsOf(text, bodyOffset).map(({ name, span }) => named(meant(name), span)) : checked.uses.map(({ name, span }) => named(name, span));
  const once = new Map(names.filter(({ from, to }) => from < to).map((each) => [each.from, each]));
  return [...once.values()].sort((a, b) => a.from - b.from);
}

/** True for a specification that is JSON, whatever else may be wrong with it. */
export function isJson(text: string, bodyOffset: number): boolean {
  return "value" in readJson(text, bodyOffset, depth);
}

interface Found {
  readonly name: string;
  readonly span: Span;
}

function textsOf(text: string, bodyOffset: number): readonly Found[] {
  const read = readJson(text, bodyOffset, depth);
  if (!("value" in read)) return textsBesideFields(text, bodyOffset);
  const found: Found[] = [];
  eachText(read.value, (node, key) => {
    if (columnKeys.has(key) && !(key === "sort" && sortWords.has(node.value))) found.push({ name: node.value, span: node });
  });
  const made = new Set(fieldsMade(text, bodyOffset));
  return found.filter(({ name }) => !made.has(name));
}

/** The names that the transforms of a specification give to what they make; none while it is no JSON. */
export function fieldsMade(text: string, bodyOffset: number): readonly string[] {
  const read = readJson(text, bodyOffset, depth);
  const made: string[] = [];
  if ("value" in read) eachText(read.value, (node, key) => key === "as" && made.push(node.value));
  return made;
}

/** Calls `use` with every text of a tree and the key that it stands behind, alone or in a list. */
function eachText(node: JsonNode, use: (node: Extract<JsonNode, { kind: "text" }>, key: string) => void, key = ""): void {
  if (node.kind === "text") use(node, key);
  else if (node.kind === "list") node.items.forEach((item) => eachText(item, use, key));
  else if (node.kind === "object") node.entries.forEach((entry) => eachText(entry.value, use, entry.key));
}

/** What stands behind `"field":` in a text that is no JSON. */
function textsBesideFields(text: string, bodyOffset: number): readonly Found[] {
  const found: Found[] = [];
  const field = /"field"\s*:\s*("(?:[^"\\\n]|\\.)*")/gu;
  field.lastIndex = bodyOffset;
  for (let match = field.exec(text); match !== null; match = field.exec(text)) {
    const to = match.index + match[0].length;
    const from = to - match[1]!.length;
    const name = readJson(text.slice(from, to), 0, 1);
    if ("value" in name && name.value.kind === "text") found.push({ name: name.value.value, span: { from, to } });
  }
  return found;
}
