import { frontMatterKeyHelp, frontMatterKeys, marginColumns } from "../../core/notebook/front-matter-keys";
import { headDefaults } from "../../core/session/head-defaults";
import { shotColumnFacts } from "../../core/table/shot-columns";
import { unitFor, unitSystems, type Measure } from "../../core/units";
import type { Suggestion } from "./answers";
import type { NotebookView } from "./notebook-view";
import { sessionPaths } from "./session-paths";

/** Where the cursor is in front matter: the key whose value it is in, or `null` where a key of the whole is written. */
interface FrontPlace {
  readonly parent: string | null;
  /** Within a margin: the column whose value is written, or `null` where a column is. */
  readonly column: string | null;
  readonly replace: Suggestion["replace"];
  /** True for a value that stands in quotes. */
  readonly quoted: boolean;
  /** True where a colon follows what is replaced. */
  readonly hasColon: boolean;
}

/** What can stand at `offset` in front matter. */
export async function completeFront(view: NotebookView, cell: number, offset: number): Promise<readonly Suggestion[]> {
  const { text } = view.cells[cell]!;
  const place = frontPlace(text, offset);
  if (place === null) return [];
  const { parent, replace } = place;
  switch (parent) {
    case null: {
      const given = new Set(text.split("\n").flatMap((line) => /^([\w-]+):/u.exec(line)?.[1] ?? []));
      const word = text.slice(replace.from, replace.to);
      return frontMatterKeys
        .filter((key) => !given.has(key) || key === word)
        .map((key): Suggestion => ({ label: key, kind: "key", replace, insert: place.hasColon ? key : `${key}: `, detail: frontMatterKeyHelp[key] }));
    }
    case "units":
      return unitSystems.map((system): Suggestion => ({ label: system, kind: "choice", replace, insert: system }));
    case "shots": {
      const { files, patterns } = await sessionPaths(view, text.slice(replace.from, offset));
      const named = new Set(view.notebook.front.shots.map(({ path }) => path));
      const write = (path: string): string => (place.quoted || /^[\w./-]+$/u.test(path) ? path : JSON.stringify(path));
      return [...files, ...patterns].map((path, i): Suggestion => ({ label: path, kind: "file", replace, insert: write(path), rank: (named.has(path) ? 2 : 0) + (i < files.length ? 0 : 1) }));
    }
    case "margin":
      return margins(place);
    case "seed":
    case "fairstrike":
      return [{ label: "1", kind: "choice", replace, insert: "1", detail: frontMatterKeyHelp[parent] }];
    default:
      return [];
  }
}

function margins({ column, replace, hasColon }: FrontPlace): readonly Suggestion[] {
  if (column !== null) {
    const margin = usualMargin(column);
    return margin === null ? [] : [{ label: inWords(margin), kind: "unit", replace, insert: inWords(margin), detail: column }];
  }
  return marginColumns.map((name, i): Suggestion => {
    const margin = usualMargin(name)!;
    const isUsual = Object.hasOwn(headDefaults.iron.margins, name);
    return { label: name, kind: "column", replace, insert: hasColon ? name : `${name}: ${inWords(margin)}`, detail: isUsual ? `${inWords(margin)} is common practice` : inWords(margin), rank: (isUsual ? 0 : 1000) + i };
  });
}

/** The margin that is usual for a column, or one of its unit to be changed; `null` for a column without a unit. */
export function usualMargin(column: string): Measure | null {
  const usual = Object.hasOwn(headDefaults.iron.margins, column) ? headDefaults.iron.margins[column]! : null;
  const quantity = shotColumnFacts(column)?.quantity ?? null;
  return usual ?? (quantity === null ? null : { value: 1, unit: unitFor(quantity, "yd-mph") });
}

function inWords({ value, unit }: Measure): string {
  return `${value} ${unit}`;
}

/** Reads the line of the cursor and those above it; `null` in a comment, and where nothing can be told. */
export function frontPlace(text: string, offset: number): FrontPlace | null {
  const from = text.lastIndexOf("\n", offset - 1) + 1;
  const next = text.indexOf("\n", offset);
  const line = text.slice(from, next < 0 ? text.length : next);
  const at = offset - from;
  if (/(?:^|\s)#/u.test(line.slice(0, at))) return null;
  const indent = /^\s*/u.exec(line)![0].length;
  const key = /^\s*([\w-]*)/u.exec(line)!;
  const colon = /^\s*[\w-]*\s*:(?:\s|$)/u.exec(line)?.[0].trimEnd().length ?? null;
  if (at < indent) return null;
  const isItem = line.startsWith("- ", indent) || line.trim() === "-";
  if (!isItem && at <= key[0].length && (colon === null || at < colon)) {
    const replace = { from: from + indent, to: from + key[0].length };
    if (indent === 0) return { parent: null, column: null, replace, quoted: false, hasColon: colon !== null };
    const parent = parentOf(text.slice(0, from), indent);
    return parent === null ? null : { parent, column: null, replace, quoted: false, hasColon: colon !== null };
  }
  const start = isItem ? indent + 1 : colon;
  if (start === null || at < start) return null;
  const parent = isItem || indent > 0 ? parentOf(text.slice(0, from), isItem ? indent + 1 : indent) : key[1]!;
  if (parent === null) return null;
  const isMargin = parent === "margin";
  const column = isMargin && indent > 0 && !isItem ? key[1]! : null;
  return valuePlace(line, from, start, at, parent, column);
}

/** A value on the line: plain, in quotes, or one of a list or map between brackets. */
function valuePlace(line: string, from: number, start: number, at: number, parent: string, column: string | null): FrontPlace {
  const opened = /[[{]/u.exec(line.slice(start, at));
  const isFlow = opened !== null;
  const stops = isFlow ? /[,[\]{}]/u : /$^/u;
  let left = at;
  while (left > start && !stops.test(line[left - 1]!)) left--;
  let right = at;
  while (right < line.length && !stops.test(line[right]!)) right++;
  const part = line.slice(left, right);
  const split = isFlow && opened[0] === "{" ? part.indexOf(":") : -1;
  const inKey = isFlow && opened[0] === "{" && (split < 0 || at <= left + split);
  const [begin, end] = inKey ? [left, split < 0 ? right : left + split] : [split < 0 ? left : left + split + 1, right];
  const body = line.slice(begin, end);
  const spaces = /^\s*/u.exec(body)![0].length;
  const quote = body.trim()[0] === '"' || body.trim()[0] === "'" ? 1 : 0;
  const closes = quote === 1 && body.trim().length > 1 && body.trim().endsWith(body.trim()[0]!) ? 1 : 0;
  const first = Math.min(at, begin + spaces + quote);
  const last = Math.max(at, begin + body.trimEnd().length - closes);
  const flowColumn = !inKey && split >= 0 ? line.slice(left, left + split).trim() : null;
  return { parent, column: column ?? flowColumn, replace: { from: from + first, to: from + Math.max(first, last) }, quoted: quote === 1, hasColon: split >= 0 };
}

/** The key of the map or list that a line indented by `indent` is in. */
function parentOf(above: string, indent: number): string | null {
  const lines = above.split("\n").slice(0, -1).reverse();
  for (const line of lines) {
    const found = /^(\s*)([\w-]+)\s*:/u.exec(line);
    if (found !== null && found[1]!.length < indent) return found[1] === "" ? found[2]! : null;
  }
  return null;
}
