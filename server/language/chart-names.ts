import type { CheckedChart } from "../../core/chart/check-chart";
import type { JsonNode } from "../../core/chart/json-tree";
import { readJson } from "../../core/chart/json-tree";
import type { Span } from "../../core/query/syntax";
import type { ReadCell } from "../../core/read-cells";
import type { Scope } from "./column-origins";
import { columnFacts } from "./name-list";
import { withoutQuotes, type WrittenName } from "./written-name";

/** Keys of a specification whose text names a column of the table, alone or in a list. */
const columnKeys: ReadonlySet<string> = new Set(["field", "groupby", "on", "fold", "density", "regression", "loess", "quantile", "impute", "stack", "sort"]);
/** Channels and orders can stand where a column can. */
const sortWords: ReadonlySet<string> = new Set(["ascending", "descending", "x", "y", "-x", "-y", "color", "-color", "size", "-size"]);
/** As deep as a chart may be that is checked. */
const depth = 100;

/** What begins the symbol of a column that the chart in the cell `index` makes for itself; its name follows. */
export function symbolOfMade(index: number): string {
  return `column:${index}:field:`;
}

/**
 * Every column that a chart cell's specification names: those of the table, and those that its transforms make, which
 * are declared where a transform names them and are known in this cell alone.
 *
 * With a mistake in it there is no checked chart: then text stands for a column where one is expected. `scope` is the
 * table that the chart draws.
 */
export function namesOfChart({ index, text, bodyOffset }: ReadCell, checked: CheckedChart | null, scope: Scope): readonly WrittenName[] {
  const written = (name: string, span: Span): WrittenName => {
    const { from, to } = withoutQuotes(span);
    return { from, to, role: "column", name, isDeclaration: false, symbol: null, ending: "", files: [], form: "json", whole: span };
  };
  const inTable = ({ name, span }: Found): WrittenName => ({ ...written(name, span), ...columnFacts(name, scope) });
  const known = new Set(scope.schema.columns.map(({ name }) => name));
  const unescaped = (name: string): string => name.replace(/\\(.)/gsu, "$1");
  const meant = (name: string): string => (known.has(name) || scope.origins.columns.has(name) ? name : unescaped(name));
  const { columns, made } = textsOf(text, bodyOffset);
  const makes = new Set(made.map(({ name }) => name));
  const nameOfMade = (name: string): string | null => [name, unescaped(name)].find((each) => makes.has(each)) ?? null;
  const symbol = (name: string): string => `${symbolOfMade(index)}${name}`;
  const own = columns.flatMap(({ name, span }): WrittenName[] => {
    const of = nameOfMade(name);
    return of === null ? [] : [{ ...written(of, span), symbol: symbol(of) }];
  });
  const declared = made.map(({ name, span }): WrittenName => ({ ...written(name, span), symbol: symbol(name), isDeclaration: true, form: "json text" }));
  const others = checked?.uses ?? columns.filter(({ name }) => nameOfMade(name) === null).map(({ name, span }) => ({ name: meant(name), span }));
  // Where a transform gives a column of the table to something else, those who checked it know which is meant.
  const once = new Map([...own, ...declared, ...others.map(inTable)].filter(({ from, to }) => from < to).map((each) => [each.from, each]));
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

/** The texts of a specification that name columns, and those that name what a transform makes: none of these while it is no JSON. */
function textsOf(text: string, bodyOffset: number): { readonly columns: readonly Found[]; readonly made: readonly Found[] } {
  const read = readJson(text, bodyOffset, depth);
  if (!("value" in read)) return { columns: textsBesideFields(text, bodyOffset), made: [] };
  const columns: Found[] = [];
  const made: Found[] = [];
  eachText(read.value, (node, key) => {
    if (key === "as") made.push({ name: node.value, span: node });
    else if (columnKeys.has(key) && !(key === "sort" && sortWords.has(node.value))) columns.push({ name: node.value, span: node });
  });
  return { columns, made };
}

/** The names that the transforms of a specification give to what they make; none while it is no JSON. */
export function fieldsMade(text: string, bodyOffset: number): readonly string[] {
  return textsOf(text, bodyOffset).made.map(({ name }) => name);
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
