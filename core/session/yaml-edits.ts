import type { TextEdit } from "../problem";
import type { LineTable } from "../text-position";
import type { YamlList, YamlMap, YamlNode } from "../yaml-text";
import { lineEndOf } from "./apply-edits";

/** A YAML text without its byte order mark, and its lines. */
export interface YamlSource {
  readonly body: string;
  readonly lines: LineTable;
}

/** The value of a key of a map; `null` where the node is no map or has no such key. */
export function entryOf(node: YamlNode | null, key: string): YamlNode | null {
  return node?.kind === "map" ? (node.entries.find((entry) => entry.key === key)?.value ?? null) : null;
}

/** True for a map or list between brackets. */
export function isFlow({ body, lines }: YamlSource, node: YamlMap | YamlList): boolean {
  return "{[".includes(body[lines.offsetAt(node.range.start)] ?? " ");
}

/** A scalar as it is written, in quotes where it could not stand between braces without them. */
export function writtenInFlow({ body, lines }: YamlSource, node: YamlNode & { readonly kind: "scalar" }): string {
  const written = body.slice(lines.offsetAt(node.range.start), lines.offsetAt(node.range.end));
  const isPlainInFlow = /^[^\s"'|>,[\]{}#&*!%@`?:-][^,[\]{}#:\r\n]*$/u.test(written);
  const isQuotedOnOneLine = node.quoted && /^(["']).*\1$/u.test(written);
  return isPlainInFlow || isQuotedOnOneLine ? written : JSON.stringify(node.text);
}

/** The edit that adds `key: value` to a map: after the last entry between braces, else in a line of its own under the key `under`. */
export function addEntry(source: YamlSource, map: YamlMap, under: string, entry: string): TextEdit | null {
  const first = map.entries[0];
  if (isFlow(source, map)) return appendInFlow(source, map, entry);
  const above = map.entries.find(({ key }) => key === under);
  if (above === undefined || first === undefined) return null;
  return lineBelow(source, above.value, `${" ".repeat(first.keyRange.start.column - 1)}${entry}`);
}

/** The edit that adds a value to a list: after the last item between brackets, else in a line of its own. */
export function addItem(source: YamlSource, list: YamlList, item: string): TextEdit | null {
  if (isFlow(source, list)) return appendInFlow(source, list, item);
  const last = list.items.at(-1);
  return last === undefined ? null : lineBelow(source, last, `${" ".repeat(list.range.start.column - 1)}- ${item}`);
}

function appendInFlow({ lines }: YamlSource, node: YamlMap | YamlList, text: string): TextEdit {
  const last = node.kind === "map" ? node.entries.at(-1)?.value : node.items.at(-1);
  if (last !== undefined) return { range: { start: last.range.end, end: last.range.end }, text: `, ${text}` };
  const at = lines.positionAt(lines.offsetAt(node.range.start) + 1);
  return { range: { start: at, end: at }, text: node.kind === "map" ? ` ${text} ` : text };
}

/** A new line below the line on which a value ends, behind a comment there; `null` where something else follows the value. */
function lineBelow({ body, lines }: YamlSource, value: YamlNode, text: string): TextEdit | null {
  const end = lines.offsetAt(value.range.end);
  const rest = /^[ ]*(?:#[^\r\n]*)?(?=\r|\n|$)/u.exec(body.slice(end));
  if (rest === null) return null;
  const at = lines.positionAt(end + rest[0].trimEnd().length);
  return { range: { start: at, end: at }, text: `${lineEndOf(body)}${text}` };
}
