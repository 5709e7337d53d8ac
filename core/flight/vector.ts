/** A vector of space: to the right of the target line, along it, up. Right-handed. */
export type Vector = readonly [right: number, downrange: number, up: number];

/** A 3 by 3 matrix by rows. */
export type Matrix = readonly [Vector, Vector, Vector];

/** The sum of two vectors. */
export function add(a: Vector, b: Vector): Vector {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

/** The vector `a` less the vector `b`. */
export function subtract(a: Vector, b: Vector): Vector {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/** The vector `a` times the number `factor`. */
export function scale(a: Vector, factor: number): Vector {
  return [a[0] * factor, a[1] * factor, a[2] * factor];
}

/** The scalar product. */
export function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** The vector product `a × b`. */
export function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** The length of a vector. */
export function length(a: Vector): number {
  return Math.hypot(a[0], a[1], a[2]);
}

/** The vector of length 1 along `a`; the zero vector for the zero vector. */
export function unit(a: Vector): Vector {
  const size = length(a);
  return size === 0 ? a : scale(a, 1 / size);
}

/** The unit vector at `azimuth` to the right of the target line and `elevation` above the horizon, in radians. */
export function directionOf(azimuth: number, elevation: number): Vector {
  const level = Math.cos(elevation);
  return [level * Math.sin(azimuth), level * Math.cos(azimuth), Math.sin(elevation)];
}

/** The level unit vector at right angles to the azimuth, on its right-hand side. */
export function levelRightOf(azimuth: number): Vector {
  return [Math.cos(azimuth), -Math.sin(azimuth), 0];
}

/** The azimuth of a vector, in radians, positive to the right of the target line. */
export function azimuthOf(a: Vector): number {
  return Math.atan2(a[0], a[1]);
}

/** The elevation of a vector above the horizon, in radians. */
export function elevationOf(a: Vector): number {
  return Math.atan2(a[2], Math.hypot(a[0], a[1]));
}

/** The solution of `m · x = b` by the adjugate; `NaN` throughout when the matrix is singular. */
export function solve(m: Matrix, b: Vector): Vector {
  const rows = [cross(m[1], m[2]), cross(m[2], m[0]), cross(m[0], m[1])] as const;
  const determinant = dot(m[0], rows[0]);
  if (determinant === 0) return [Number.NaN, Number.NaN, Number.NaN];
  const sum = add(add(scale(rows[0], b[0]), scale(rows[1], b[1])), scale(rows[2], b[2]));
  return scale(sum, 1 / determinant);
}
