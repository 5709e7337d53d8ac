/** The numbers that are there, in their order: a copy of `values` without its `NaN` (missing) entries. */
export function presentValues(values: ArrayLike<number>): Float64Array {
  const present = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isNaN(value)) present[count++] = value;
  }
  return present.slice(0, count);
}
