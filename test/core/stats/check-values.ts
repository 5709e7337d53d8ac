import { readFileSync } from "node:fs";
import { expect } from "vitest";

const text = readFileSync(new URL("../../data/stats-checks.json", import.meta.url), "utf8");
const { checks: all, datasets } = JSON.parse(text) as {
  readonly checks: readonly CheckValue<unknown, unknown, unknown>[];
  readonly datasets: Readonly<Record<string, { readonly columns: Dataset }>>;
};

/** A published set of data, column by column. */
export type Dataset = Readonly<Record<string, readonly (number | string)[]>>;

/** The columns of a set of data that several check values share. */
export function datasetOf(name: string): Dataset {
  const found = datasets[name];
  if (found === undefined) throw new RangeError(`no data set ${name}`);
  return found.columns;
}

/** One published or independently computed value set of test/data/stats-checks.json, whose sources stand there. */
export interface CheckValue<D, A, E> {
  readonly id: string;
  readonly method: string;
  readonly data: D;
  readonly args: A;
  readonly expected: E;
  /** The tolerances that the entry itself asks for. */
  readonly rtol: number;
  readonly atol: number;
}

/** All check values of one method; a method without any is a mistake in the test. */
export function checksOf<D, A, E>(method: string): readonly CheckValue<D, A, E>[] {
  const found = (all as CheckValue<D, A, E>[]).filter((check) => check.method === method);
  expect(found.length).toBeGreaterThan(0);
  return found;
}

/** Expects `actual` within a relative or an absolute tolerance of `wanted`, whichever is wider. */
export function expectClose(actual: number, wanted: number, relative: number, absolute = 0, what = ""): void {
  const allowed = Math.max(absolute, relative * Math.abs(wanted));
  const off = Math.abs(actual - wanted);
  expect(off <= allowed, `${what} ${actual} is ${off} from ${wanted}; allowed ${allowed}`).toBe(true);
}

/** Splits values by their group labels, groups in order of first appearance. */
export function split(y: readonly number[], labels: readonly string[]): { names: string[]; groups: number[][] } {
  const names = [...new Set(labels)];
  return { names, groups: names.map((name) => y.filter((_, i) => labels[i] === name)) };
}

/** A seeded generator of uniform numbers in 0..1 (a 64-bit linear congruential one, high bits used). */
export function uniforms(seed: number): () => number {
  let state = BigInt(seed) * 2862933555777941757n + 3037000493n;
  return () => {
    state = BigInt.asUintN(64, state * 6364136223846793005n + 1442695040888963407n);
    return (Number(state >> 32n) + 0.5) / 2 ** 32;
  };
}

/** A seeded generator of standard normal numbers (Box and Muller 1958). */
export function normals(seed: number): () => number {
  const uniform = uniforms(seed);
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
