import type { BootstrapInterval } from "./bca";
import { bcaFromReplicates, resampledEstimates, usualResamples } from "./bca";
import type { ComparisonData } from "./comparison";
import type { ScatterSums } from "./scatter-sums";
import { scatterSums, sdOfSums, totalScatter, withoutScatter } from "./scatter-sums";

/** Stints of each head below which stints are not resampled. Common practice, no source. */
export const leastToResample = 8;

/** What resampling stints says of the scatter of each group; `null` where a group has too few stints. */
export interface ResampledSpread {
  readonly resamples: number;
  /** For each group, the BCa interval of its standard deviation, in the unit of the values. */
  readonly intervals: readonly BootstrapInterval[];
  /** For each group, the share of resamples in which no other scatters less: 0..1. */
  readonly tightest: readonly number[];
}

/**
 * Standard deviations from resamples of whole stints within each group: an interval each, and how often each is smallest.
 *
 * The shares describe how clear the order is in these shots; they are no verdict on any pair. Even at 13 stints such an
 * interval covers some 90 % where it says 95 %.
 *
 * @param data residuals, one a shot, their stints known.
 * @param random a seeded source of numbers from 0 to below 1.
 * Source: A. C. Davison, D. V. Hinkley, Bootstrap Methods and their Application (1997), 3.8 and 5.3; the coverage is our
 * own simulation.
 */
export function resampleSpread(data: ComparisonData, confidence: number, random: () => number, checkpoint: () => void = () => {}): ResampledSpread | null {
  const groups = Array.from({ length: data.groupCount }, (_, group) => stintSums(data, group));
  if (groups.some((stints) => stints.length < leastToResample)) return null;
  const replicates = groups.map((stints) =>
    resampledEstimates(stints, (drawn) => {
      checkpoint();
      return sdOfSums(totalScatter(drawn));
    }, random),
  );
  const intervals = groups.map((stints, group) => {
    const total = totalScatter(stints);
    const leftOut = stints.map((stint) => sdOfSums(withoutScatter(total, stint)));
    return bcaFromReplicates({ estimate: sdOfSums(total), replicates: replicates[group]!, leftOut }, confidence);
  });
  return { resamples: usualResamples, intervals, tightest: sharesOfSmallest(replicates) };
}

/** How often each list has the smallest entry, ties shared. */
function sharesOfSmallest(lists: readonly Float64Array[]): readonly number[] {
  const counts = lists.map(() => 0);
  const length = lists[0]?.length ?? 0;
  for (let i = 0; i < length; i++) {
    let [least, tied] = [Infinity, 0];
    for (const list of lists) {
      tied = list[i]! < least ? 1 : list[i] === least ? tied + 1 : tied;
      least = Math.min(least, list[i]!);
    }
    for (const [group, list] of lists.entries()) if (list[i] === least) counts[group]! += 1 / tied;
  }
  return counts.map((count) => count / length);
}

function stintSums(data: ComparisonData, group: number): readonly ScatterSums[] {
  const found = new Map<string, number[]>();
  data.value.forEach((value, i) => {
    if (data.group[i] !== group) return;
    const key = `${data.session[i]!} ${data.stint[i]!}`;
    const known = found.get(key);
    if (known === undefined) found.set(key, [value]);
    else known.push(value);
  });
  return [...found.values()].map((values) => scatterSums(values));
}
