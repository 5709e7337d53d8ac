import { chartKinds } from "./chart/chart-kinds";
import { aggregates, rowFunctions } from "./functions/registry";
import type { Vocabulary } from "./query/vocabulary";
import { sources } from "./sources/registry";
import { verbs } from "./verbs/registry";

/** Everything a cell can use: the verbs, functions, charts and sources of their registries, by name. */
export const vocabulary: Vocabulary = Object.freeze({
  verbs: byName(verbs),
  rowFunctions: byName(rowFunctions),
  aggregates: byName(aggregates),
  charts: byName(chartKinds),
  sources: byName(sources),
});

/** @throws {RangeError} when two entries have one name. */
function byName<T extends { readonly name: string }>(entries: readonly T[]): ReadonlyMap<string, T> {
  const map = new Map<string, T>();
  for (const entry of entries) {
    if (map.has(entry.name)) throw new RangeError(`two entries are called ${entry.name}`);
    map.set(entry.name, Object.freeze(entry));
  }
  return map;
}
