import type { Fix } from "../problem";
import type { YamlEntry, YamlMap, YamlNode } from "../yaml-text";
import { isLeftOut } from "./node-reader";

/**
 * The fix that leaves an entry of a map out, with its line where it has one of its own; none where what would be left is
 * no map, or where other things stand on the same lines.
 */
export function leavingOut(map: YamlNode | undefined, entry: YamlEntry): { readonly fix?: Fix } {
  if (map?.kind !== "map") return {};
  const range = isFlowMap(map) ? rangeInFlow(map, entry) : rangeOfLine(map, entry);
  return range === null ? {} : { fix: { title: `Leave ${entry.key} out`, edits: [{ range, text: "" }] } };
}

/** True for a map between braces that has entries. */
export function isFlowMap({ range, entries: [first] }: YamlMap): boolean {
  const [brace, key] = [range.start, first?.keyRange.start ?? range.start];
  return brace.line < key.line || brace.column < key.column;
}

type Range = YamlEntry["keyRange"];

function rangeInFlow({ entries }: YamlMap, entry: YamlEntry): Range | null {
  const at = entries.indexOf(entry);
  const [before, next] = [entries[at - 1], entries[at + 1]];
  if (isLeftOut(entry.value)) return null;
  if (before !== undefined) return isLeftOut(before.value) ? null : { start: before.value.range.end, end: entry.value.range.end };
  return next === undefined ? null : { start: entry.keyRange.start, end: next.keyRange.start };
}

/** The first entry may share its line with the dash of a list, so it is never left out. */
function rangeOfLine({ entries }: YamlMap, entry: YamlEntry): Range | null {
  const { line } = entry.keyRange.start;
  const before = entries[entries.indexOf(entry) - 1];
  if (before === undefined || before.value.range.end.line >= line || entry.value.range.end.line !== line) return null;
  return { start: { line, column: 1 }, end: { line: line + 1, column: 1 } };
}
