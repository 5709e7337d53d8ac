import type { ShotColumn } from "../table/shot-columns";

/** One entry of `set_aside`: shots ascending and each once. */
export interface SetAsideEntry {
  readonly shots: readonly number[];
  readonly columns: readonly (ShotColumn | "all")[];
  readonly because: string;
}

/** The entry on one line: `{ shots: 52-78, column: face_angle, because: "…" }`. */
export function flowEntry(entry: SetAsideEntry): string {
  return `{ ${entryLines(entry).join(", ")} }`;
}

/** The entry as lines of keys and values. */
export function entryLines({ shots, columns, because }: SetAsideEntry): readonly string[] {
  const ranges = rangesOf(shots);
  const key = shots.length === 1 ? "shot" : "shots";
  return [`${key}: ${asList(ranges)}`, `column: ${asList(columns)}`, `because: ${asYamlText(because)}`];
}

function asList(parts: readonly string[]): string {
  return parts.length === 1 ? parts[0]! : `[${parts.join(", ")}]`;
}

/** Ascending numbers as ranges: `41`, `52-78`. */
function rangesOf(shots: readonly number[]): readonly string[] {
  const ranges: string[] = [];
  for (let i = 0; i < shots.length; ) {
    let end = i;
    while (end + 1 < shots.length && shots[end + 1] === shots[end]! + 1) end++;
    ranges.push(end === i ? String(shots[i]) : `${shots[i]}-${shots[end]}`);
    i = end + 1;
  }
  return ranges;
}

/** The text as YAML reads it back, in quotes unless it is plain words. */
function asYamlText(text: string): string {
  const isPlain = /^\p{L}[\p{L}\p{M}\p{N}°.%()/=' −–-]*$/u.test(text) && !/[ -]$/u.test(text);
  // Characters that end a line for some readers, or cannot be seen, are written by their numbers.
  return isPlain ? text : JSON.stringify(text).replace(/[\u007f-\u009f\u2028\u2029\ufeff]/gu, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);
}
