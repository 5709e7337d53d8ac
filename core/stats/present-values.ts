/** The numbers that are there, in their order: a copy of `values` without its `NaN` (missing) entries. */
export function presentValues(values: ArrayLike<number>): Float64Array {
  const present = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isNaN(value)) present[count++] = value;
  }
  return count === values.length ? present : present.slice(0, count);
}

/** The same for those who only read: `values` itself where nothing is missing, since columns have millions of rows. */
export function readPresent(values: ArrayLike<number>): ArrayLike<number> {
  for (let i = 0; i < values.length; i++) if (Number.isNaN(values[i])) return presentValues(values);
  return values;
}
