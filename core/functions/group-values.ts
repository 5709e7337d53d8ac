/** The numbers of each group that are not missing, side by side: group `g` is `values` from `starts[g]` to `starts[g + 1]`. */
export interface GroupedNumbers {
  readonly values: Float64Array;
  readonly starts: Int32Array;
}

/** Puts the numbers of each group together, in the order of their rows; missing numbers and rows in no group are left out. */
export function groupNumbers(numbers: Float64Array, groups: Int32Array, groupCount: number): GroupedNumbers {
  const starts = new Int32Array(groupCount + 1);
  for (let row = 0; row < groups.length; row++) {
    const value = numbers[row]!;
    if (groups[row]! >= 0 && value === value) starts[groups[row]! + 1]!++;
  }
  for (let group = 0; group < groupCount; group++) starts[group + 1]! += starts[group]!;
  const next = starts.slice(0, groupCount);
  const values = new Float64Array(starts[groupCount]!);
  for (let row = 0; row < groups.length; row++) {
    const value = numbers[row]!;
    if (groups[row]! >= 0 && value === value) values[next[groups[row]!]!++] = value;
  }
  return { values, starts };
}

/** One number a group, computed from the group's numbers. */
export function eachGroup({ values, starts }: GroupedNumbers, compute: (values: Float64Array) => number): Float64Array {
  return Float64Array.from({ length: starts.length - 1 }, (_, group) => compute(values.subarray(starts[group], starts[group + 1])));
}
