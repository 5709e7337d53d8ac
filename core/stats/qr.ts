import { dot } from "./matrix";

/** What is left of a column, as a share of it, below which it counts as made of the columns before it. */
const dependentShare = 1e-10;

/** Columns as orthonormal columns times an upper triangle. */
export interface ThinQr {
  /** p columns of N numbers, of length 1 and at right angles to one another. */
  readonly q: readonly Float64Array[];
  /** p × p, row by row; nothing below the diagonal, which is positive. */
  readonly r: Float64Array;
}

/** A column taken apart: what the columns of Q make of it, and the rest. */
export interface Projection {
  /** One a column of Q: how much of it there is. Its square is the sum of squares that this column adds to those before. */
  readonly effects: Float64Array;
  readonly residuals: Float64Array;
}

/**
 * The QR decomposition of p columns, or `null` when they are linearly dependent or more than their numbers.
 *
 * Gram and Schmidt's method, each column orthogonalised twice, after which Q is orthonormal to rounding whatever the
 * units and the common parts of the columns.
 * Source: L. Giraud, J. Langou, M. Rozložník, J. van den Eshof, Numerische Mathematik 101 (2005) 87.
 *
 * @param columns p columns of N numbers, none missing.
 */
export function thinQr(columns: readonly Float64Array[]): ThinQr | null {
  const order = columns.length;
  const q: Float64Array[] = [];
  const r = new Float64Array(order * order);
  for (const [j, column] of columns.entries()) {
    const { effects, residuals } = projectOn(q, column);
    const length = Math.sqrt(dot(residuals, residuals));
    if (!(length > dependentShare * Math.sqrt(dot(column, column)))) return null;
    effects.forEach((effect, i) => (r[i * order + j] = effect));
    r[j * order + j] = length;
    q.push(residuals.map((value) => value / length));
  }
  return order > (columns[0]?.length ?? 0) ? null : { q, r };
}

/** `column` taken apart by orthonormal columns, twice, so that what is left is at right angles to them to rounding. */
export function projectOn(q: readonly Float64Array[], column: Float64Array): Projection {
  const effects = new Float64Array(q.length);
  const residuals = Float64Array.from(column);
  for (let pass = 0; pass < 2; pass++) {
    for (const [i, direction] of q.entries()) {
      const effect = dot(direction, residuals);
      effects[i]! += effect;
      for (let row = 0; row < residuals.length; row++) residuals[row]! -= effect * direction[row]!;
    }
  }
  return { effects, residuals };
}

/** x with Rx = b, for an upper triangle R. */
export function solveUpper(r: Float64Array, b: ArrayLike<number>): Float64Array {
  const order = b.length;
  const x = Float64Array.from(b);
  for (let i = order - 1; i >= 0; i--) {
    for (let j = i + 1; j < order; j++) x[i]! -= r[i * order + j]! * x[j]!;
    x[i]! /= r[i * order + i]!;
  }
  return x;
}

/** x with R'x = b: the weights that a sum of coefficients has when it is written with the columns of Q. */
export function solveUpperTransposed(r: Float64Array, b: ArrayLike<number>): Float64Array {
  const order = b.length;
  const x = Float64Array.from(b);
  for (let i = 0; i < order; i++) {
    for (let j = 0; j < i; j++) x[i]! -= r[j * order + i]! * x[j]!;
    x[i]! /= r[i * order + i]!;
  }
  return x;
}

/**
 * Whether residuals are more than the rounding of the values they are left from: 1e-13 of the largest, in the root of
 * their mean square.
 */
export function hasScatter(residuals: Float64Array, value: Float64Array): boolean {
  let largest = 0;
  for (const v of value) largest = Math.max(largest, Math.abs(v));
  return Math.sqrt(dot(residuals, residuals) / residuals.length) > 1e-13 * largest;
}
