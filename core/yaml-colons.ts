import { isAlias, isMap, isScalar, isSeq } from "yaml";

/** A pair of a map as the library has it. */
export interface Pair {
  readonly key: unknown;
  readonly value: unknown;
}

/**
 * Where the text stands that is the value of a key where a colon in it makes a map that cannot stand there, as in
 * `note: a: b`, and the pairs on the lines below it that the library takes for that map's; `null` for any other value.
 */
export function colonInValue({ key, value }: Pair, source: string): { readonly span: readonly [number, number]; readonly below: readonly Pair[] } | null {
  const below: Pair[] = [];
  let last = value;
  while (isMap(last) && last.flow !== true && last.items.length > 0) {
    below.unshift(...last.items.slice(1));
    const [first] = last.items;
    last = first!.value ?? first!.key;
  }
  if (last === value || !isScalar(last)) return null;
  const [start, from] = [startOf(key), startOf(value)];
  const end = last.range?.[1] ?? from;
  if (source.slice(start, end).includes("\n") || below.some((pair) => columnAt(startOf(pair.key), source) !== columnAt(start, source))) return null;
  const colon = /^[ :]*/u.exec(source.slice(end))![0].trimEnd();
  return { span: [from, end + colon.length], below };
}

function columnAt(offset: number, source: string): number {
  return offset - source.lastIndexOf("\n", offset - 1);
}

function startOf(node: unknown): number {
  if (isMap(node) && node.flow !== true && node.items.length > 0) return startOf(node.items[0]!.key);
  return isMap(node) || isScalar(node) || isSeq(node) || isAlias(node) ? (node.range?.[0] ?? 0) : 0;
}
