import { dot } from "./matrix";

/** Eigenvalues of a symmetric matrix with their vectors. */
export interface SymmetricEigen {
  /** In no particular order. */
  readonly values: Float64Array;
  /** order × order, row by row: column j is the vector of value j, of length 1. */
  readonly vectors: Float64Array;
}

/** Sweeps after which nothing is left off the diagonal beyond doubt; about 8 do for matrices of order 100. */
const mostSweeps = 60;

/** An entry off the diagonal below this share of the whole matrix is rounding. */
const negligible = 1e-17;

/**
 * The eigenvalues and eigenvectors of a symmetric matrix, by Jacobi's rotations.
 *
 * @param matrix order × order numbers, row by row; not modified.
 * @returns values accurate to about 1e-15 of the largest.
 * Source: C. G. J. Jacobi, Crelle's Journal 30 (1846) 51, swept in rows; the stable form of the rotation by
 * H. Rutishauser, Numerische Mathematik 9 (1966) 1.
 */
export function symmetricEigen(matrix: Float64Array, order: number): SymmetricEigen {
  const a = Float64Array.from(matrix);
  const vectors = new Float64Array(order * order);
  for (let i = 0; i < order; i++) vectors[i * order + i] = 1;
  const least = negligible * Math.sqrt(dot(a, a));
  for (let sweep = 0, turns = 1; sweep < mostSweeps && turns > 0; sweep++) {
    turns = 0;
    for (let p = 0; p < order; p++) {
      for (let q = p + 1; q < order; q++) {
        if (Math.abs(a[p * order + q]!) <= least) continue;
        rotate(a, vectors, order, p, q);
        turns++;
      }
    }
  }
  return { values: Float64Array.from({ length: order }, (_, i) => a[i * order + i]!), vectors };
}

/** Turns the axes p and q so that their entry off the diagonal is 0. */
function rotate(a: Float64Array, vectors: Float64Array, order: number, p: number, q: number): void {
  const half = (a[q * order + q]! - a[p * order + p]!) / (2 * a[p * order + q]!);
  const tangent = (half < 0 ? -1 : 1) / (Math.abs(half) + Math.hypot(half, 1));
  const cosine = 1 / Math.hypot(tangent, 1);
  const sine = tangent * cosine;
  turn(a, p, q, order, cosine, sine);
  turn(vectors, p, q, order, cosine, sine);
  // The same for the rows, of the matrix alone: the vectors are turned from one side.
  for (let k = 0; k < order; k++) {
    const x = a[p * order + k]!;
    const y = a[q * order + k]!;
    a[p * order + k] = cosine * x - sine * y;
    a[q * order + k] = sine * x + cosine * y;
  }
  a[p * order + q] = 0;
  a[q * order + p] = 0;
}

/** Turns the columns p and q of a matrix. */
function turn(matrix: Float64Array, p: number, q: number, order: number, cosine: number, sine: number): void {
  for (let at = 0; at < matrix.length; at += order) {
    const x = matrix[at + p]!;
    const y = matrix[at + q]!;
    matrix[at + p] = cosine * x - sine * y;
    matrix[at + q] = sine * x + cosine * y;
  }
}
