import type { BlockData } from "../../../core/stats/linear-fit";
import type { MeanContrast } from "../../../core/stats/mean-contrast";
import { symmetricEigen } from "../../../core/stats/symmetric-eigen";

type Matrix = readonly (readonly number[])[];

const times = (a: Matrix, b: Matrix): Matrix => a.map((row) => b[0]!.map((_, j) => row.reduce((total, value, k) => total + value * b[k]![j]!, 0)));
const turned = (a: Matrix): Matrix => a[0]!.map((_, j) => a.map((row) => row[j]!));
const combined = (a: Matrix, b: Matrix, weight: number): Matrix => a.map((row, i) => row.map((value, j) => value + weight * b[i]![j]!));
const trace = (a: Matrix): number => a.reduce((total, row, i) => total + row[i]!, 0);
const identity = (order: number): Matrix => Array.from({ length: order }, (_, i) => Array.from({ length: order }, (_value, j) => (i === j ? 1 : 0)));

/** Gauss and Jordan's elimination with the largest pivot of a column. */
function inverse(a: Matrix): Matrix {
  const order = a.length;
  const rows = a.map((row, i) => [...row, ...identity(order)[i]!]);
  for (let k = 0; k < order; k++) {
    let pivot = k;
    for (let i = k; i < order; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    rows[k] = rows[k]!.map((value) => value / rows[k]![k]!);
    for (let i = 0; i < order; i++) if (i !== k) rows[i] = rows[i]!.map((value, j) => value - rows[i]![k]! * rows[k]![j]!);
  }
  return rows.map((row) => row.slice(order));
}

/** Kenward and Roger's equations as they are written, with N × N matrices; the variances are given. */
export function denseKenwardRoger(data: BlockData, stintVariance: number, residualVariance: number, weights: readonly number[]): MeanContrast {
  const n = data.value.length;
  const x = turned(data.columns.map((column) => [...column]));
  const together: Matrix = Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_value, j) => (data.block[i] === data.block[j] ? 1 : 0)));
  const parts = [identity(n), together];
  const v = inverse(combined(parts[0]!.map((row) => row.map((value) => value * residualVariance)), together, stintVariance));
  const phi = inverse(times(turned(x), times(v, x)));
  const p = combined(v, times(times(v, x), times(phi, times(turned(x), v))), -1);
  const moved = parts.map((part) => times(p, part));
  const w = inverse(moved.map((a) => moved.map((b) => trace(times(a, b)) / 2)));
  const vx = times(v, x);
  const first = parts.map((part) => times(turned(vx), times(part, vx)).map((row) => row.map((value) => -value)));
  let sum = phi.map((row) => row.map(() => 0)) as Matrix;
  parts.forEach((a, i) =>
    parts.forEach((b, j) => {
      const q = times(turned(vx), times(a, times(v, times(b, vx))));
      sum = combined(sum, combined(q, times(first[i]!, times(phi, first[j]!)), -1), w[i]![j]!);
    }),
  );
  const l = weights.map((weight) => [weight]);
  const form = (a: Matrix): number => times(turned(l), times(a, l))[0]![0]!;
  const g = first.map((a) => -form(times(phi, times(a, phi))));
  const beta = times(phi, times(turned(vx), [...data.value].map((value) => [value])));
  return {
    difference: times(turned(l), beta)[0]![0]!,
    standardError: Math.sqrt(form(combined(phi, times(phi, times(sum, phi)), 2))),
    df: (2 * form(phi) ** 2) / g.reduce((total, a, i) => total + g.reduce((inner, b, j) => inner + a * w[i]![j]! * b, 0), 0),
  };
}

/** CR2 with Satterthwaite's df as its equations are written, with N × N matrices and K itself. */
export function denseClusterRobust(data: BlockData, weights: readonly number[]): MeanContrast {
  const n = data.value.length;
  const x = turned(data.columns.map((column) => [...column]));
  const m = inverse(times(turned(x), x));
  const rest = combined(identity(n), times(x, times(m, turned(x))), -1);
  const y = [...data.value].map((value) => [value]);
  const e = times(rest, y);
  const l = weights.map((weight) => [weight]);
  let variance = 0;
  const columns: number[][] = [];
  for (let b = 0; b < data.blockCount; b++) {
    const rows = [...data.block.keys()].filter((row) => data.block[row] === b);
    const own = rows.map((i) => rows.map((j) => rest[i]![j]!));
    const spread = times(times(inverseRoot(own), rows.map((i) => x[i]!)), times(m, l));
    variance += rows.reduce((total, row, i) => total + spread[i]![0]! * e[row]![0]!, 0) ** 2;
    columns.push(rest.map((row) => rows.reduce((total, j, i) => total + row[j]! * spread[i]![0]!, 0)));
  }
  const inner = columns.map((a) => columns.map((b) => a.reduce((total, value, i) => total + value * b[i]!, 0)));
  return {
    difference: times(turned(l), times(m, times(turned(x), y)))[0]![0]!,
    standardError: Math.sqrt(variance),
    df: trace(inner) ** 2 / trace(times(inner, inner)),
  };
}

function inverseRoot(a: Matrix): Matrix {
  const order = a.length;
  const { values, vectors } = symmetricEigen(Float64Array.from(a.flat()), order);
  return a.map((_, i) =>
    a.map((_row, j) =>
      values.reduce((total, value, k) => total + (value < 1e-10 ? 0 : (vectors[i * order + k]! * vectors[j * order + k]!) / Math.sqrt(value)), 0),
    ),
  );
}
