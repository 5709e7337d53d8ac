/**
 * The product of two matrices, square ones unless told.
 *
 * @param a rows × inner numbers, row by row.
 * @param b inner × width numbers, row by row.
 * @returns rows × width numbers, row by row.
 */
export function product(a: Float64Array, b: Float64Array, rows: number, inner = rows, width = inner): Float64Array {
  const result = new Float64Array(rows * width);
  for (let i = 0; i < rows; i++) {
    for (let k = 0; k < inner; k++) {
      const factor = a[i * inner + k]!;
      for (let j = 0; j < width; j++) result[i * width + j]! += factor * b[k * width + j]!;
    }
  }
  return result;
}

/** The trace of the product of two symmetric matrices, by their entries side by side. */
export function traceOfProduct(a: Float64Array, b: Float64Array): number {
  return dot(a, b);
}

/** The sum of the products of the numbers of two lists of equal length. */
export function dot(x: ArrayLike<number>, y: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < x.length; i++) total += x[i]! * y[i]!;
  return total;
}

/** A matrix times a vector; the matrix row by row. */
export function timesVector(a: Float64Array, x: ArrayLike<number>): Float64Array {
  const order = x.length;
  return Float64Array.from({ length: a.length / order }, (_, i) => dot(a.subarray(i * order, (i + 1) * order), x));
}

/** x'Ay for a square matrix. */
export function bilinear(a: Float64Array, x: ArrayLike<number>, y: ArrayLike<number>): number {
  return dot(x, timesVector(a, y));
}

/** Adds `weight` times the matrix of all products of the numbers of `x` to `target`. */
export function addOuter(target: Float64Array, x: ArrayLike<number>, weight: number): void {
  const order = x.length;
  for (let i = 0; i < order; i++) {
    const factor = weight * x[i]!;
    for (let j = 0; j < order; j++) target[i * order + j]! += factor * x[j]!;
  }
}

/** The inverse of a symmetric positive definite matrix, and the logarithm of the matrix's determinant. */
export interface Inverted {
  readonly inverse: Float64Array;
  readonly logDeterminant: number;
}

/**
 * The inverse and the determinant of a symmetric positive definite matrix, by Cholesky's factors.
 *
 * @param a order × order numbers, row by row.
 * @returns `null` when a pivot is not above 1e-12 of its diagonal entry: the matrix is singular or nearly so.
 */
export function invertPositive(a: Float64Array, order: number): Inverted | null {
  const factor = choleskyFactor(a, order);
  if (factor === null) return null;
  const inverse = new Float64Array(order * order);
  let logDeterminant = 0;
  for (let column = 0; column < order; column++) {
    logDeterminant += 2 * Math.log(factor[column * order + column]!);
    for (let i = 0; i < order; i++) {
      let value = i === column ? 1 : 0;
      for (let k = 0; k < i; k++) value -= factor[i * order + k]! * inverse[k * order + column]!;
      inverse[i * order + column] = value / factor[i * order + i]!;
    }
    for (let i = order - 1; i >= 0; i--) {
      let value = inverse[i * order + column]!;
      for (let k = i + 1; k < order; k++) value -= factor[k * order + i]! * inverse[k * order + column]!;
      inverse[i * order + column] = value / factor[i * order + i]!;
    }
  }
  return { inverse, logDeterminant };
}

/** The lower triangle L with LL' = A. */
function choleskyFactor(a: Float64Array, order: number): Float64Array | null {
  const factor = new Float64Array(order * order);
  for (let i = 0; i < order; i++) {
    for (let j = 0; j <= i; j++) {
      let value = a[i * order + j]!;
      for (let k = 0; k < j; k++) value -= factor[i * order + k]! * factor[j * order + k]!;
      if (i !== j) factor[i * order + j] = value / factor[j * order + j]!;
      else if (value > 1e-12 * a[i * order + i]!) factor[i * order + i] = Math.sqrt(value);
      else return null;
    }
  }
  return factor;
}
