/** Puts an entry at the end of a map, where what was put last stands. */
export function putLast<K, V>(entries: Map<K, V>, key: K, value: V): void {
  entries.delete(key);
  entries.set(key, value);
}

/**
 * Deletes entries of a map that are not used, those put first before all others, until no more than `spare` of them are left.
 *
 * @example dropUnused(new Map([["a", 1], ["b", 2], ["c", 3]]), (key) => key === "a", 1) // a and c are left
 */
export function dropUnused<K>(entries: Map<K, unknown>, isUsed: (key: K) => boolean, spare: number): void {
  if (entries.size <= spare) return;
  const unused = [...entries.keys()].filter((key) => !isUsed(key));
  for (const key of unused.slice(0, Math.max(0, unused.length - spare))) entries.delete(key);
}
