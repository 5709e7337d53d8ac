import type { BlockData } from "../../../core/stats/linear-fit";
import type { Dataset } from "./check-values";

/** A data set's column of numbers. */
export function numbersOf(data: Dataset, name: string): Float64Array {
  return Float64Array.from(data[name]!, Number);
}

/** The labels of a column, sorted, and for each row the place of its own among them. */
export function levelsOf(data: Dataset, name: string): { readonly labels: readonly string[]; readonly index: Int32Array } {
  const own = data[name]!.map(String);
  const labels = [...new Set(own)].sort();
  return { labels, index: Int32Array.from(own, (label) => labels.indexOf(label)) };
}

/** The column of a model's term, named as R names it: "(Intercept)", "Days", "SexMale", "age:SexMale". */
export function termColumn(data: Dataset, term: string): Float64Array {
  const rows = Object.values(data)[0]!.length;
  if (term === "(Intercept)") return new Float64Array(rows).fill(1);
  const parts = term.split(":").map((part) => {
    if (data[part] !== undefined) return numbersOf(data, part);
    const name = Object.keys(data).find((column) => part.startsWith(column))!;
    return Float64Array.from(data[name]!, (label) => (name + String(label) === part ? 1 : 0));
  });
  return Float64Array.from({ length: rows }, (_, i) => parts.reduce((all, part) => all * part[i]!, 1));
}

/** The columns of a model's terms, and blocks by the labels of one column; without it each row is its own. */
export function designOf(data: Dataset, formula: string, terms: readonly string[], cluster: string | null): BlockData {
  const value = numbersOf(data, formula.split("~")[0]!.trim());
  const block = cluster === null ? Int32Array.from(value, (_, i) => i) : levelsOf(data, cluster).index;
  return { columns: terms.map((term) => termColumn(data, term)), value, block, blockCount: Math.max(...block) + 1 };
}

/** Weights that are 0 but for the places given. */
export function weightsOf(length: number, at: Readonly<Record<number, number>>): readonly number[] {
  return Array.from({ length }, (_, i) => at[i] ?? 0);
}
