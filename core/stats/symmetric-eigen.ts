/** Eigenvalues of a symmetric matrix with their vectors. */
export interface SymmetricEigen {
  /** In no particular order. */
  readonly values: Float64Array;
  /** order × order, row by row: column j is the vector of value j, of length 1. */
  readonly vectors: Float64Array;
}

/** Sweeps after which nothing is left off the diagonal beyond doubt; about 8 do for matrices of order 100. */
const mostSweeps = 60;

/**
 * The eigenvalues and eigenvectors of a symmetric matrix, by Jacobi's rotations.
 *
 * @param matrix order × order numbers, row by row; not modified.
 * Source: C. G. J. Jacobi, Crelle's Journal 30 (1846) 51, swept in rows; the stable form of the rotation by
 * H. Rutishauser, Numerische Mathematik 9 (1966) 1.
 */
export function symmetricEigen(matrix: Float64Array, order: number): SymmetricEigen {
  const a = Float64Array.from(matrix);
  const vectors = new Float64Array(order * order);
  for (let i = 0; i < order; i++) vectors[i * order + i] = 1;
  for (let sweep = 0; sweep < mostSweeps && !isDiagonal(a, order); sweep++) {
    for (let p = 0; p < order; p++) {
      for (let q = p + 1; q < order; q++) rotate(a, vectors, order, p, q);
    }
  }
  return { values: Float64Array.from({ length: order }, (_, i) => a[i * order + i]!), vectors };
}

/** Turns the axes p and q so that their entry off the diagonal is 0. */
function rotate(a: Float64Array, vectors: Float64Array, order: number, p: number, q: number): void {
  const off = a[p * order + q]!;
  if (off === 0) return;
  const half = (a[q * order + q]! - a[p * order + p]!) / (2 * off);
  const tangent = (half < 0 ? -1 : 1) / (Math.abs(half) + Math.hypot(half, 1));
  const cosine = 1 / Math.hypot(tangent, 1);
  const sine = tangent * cosine;
  for (let k = 0; k < order; k++) turn(a, k * order + p, k * order + q, cosine, sine);
  for (let k = 0; k < order; k++) turn(a, p * order + k, q * order + k, cosine, sine);
  for (let k = 0; k < order; k++) turn(vectors, k * order + p, k * order + q, cosine, sine);
}

function turn(entries: Float64Array, at: number, other: number, cosine: number, sine: number): void {
  const [x, y] = [entries[at]!, entries[other]!];
  entries[at] = cosine * x - sine * y;
  entries[other] = sine * x + cosine * y;
}

function isDiagonal(a: Float64Array, order: number): boolean {
  let off = 0;
  let all = 0;
  for (let i = 0; i < order; i++) {
    for (let j = 0; j < order; j++) {
      const square = a[i * order + j]! ** 2;
      all += square;
      if (i !== j) off += square;
    }
  }
  return off <= 1e-32 * all;
}
