/**
 * The name among `names` that `written` was most likely meant to be; `undefined` when none is near.
 *
 * Near: the same but for case, spaces and underscores, or at most a third of its letters (but one in any case)
 * inserted, left out, changed or swapped with the next. The first of the nearest wins.
 * @example nearestName("ball speed", ["carry", "ball_speed"]) // "ball_speed"
 */
export function nearestName(written: string, names: readonly string[]): string | undefined {
  const plain = (text: string): string => text.toLowerCase().replace(/[\s_-]+/gu, "");
  const wanted = plain(written).slice(0, 100);
  let best: string | undefined;
  let least = Math.max(1, Math.floor(wanted.length / 3)) + 1;
  for (const name of names) {
    const candidate = plain(name).slice(0, 100);
    if (Math.abs(candidate.length - wanted.length) >= least) continue;
    const distance = editDistance(wanted, candidate);
    if (distance < least) {
      best = name;
      least = distance;
    }
  }
  return best;
}

/** Optimal string alignment distance: insertions, deletions, substitutions and swaps of neighbours. */
function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      let cost = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, before[j - 2]! + 1);
      next.push(cost);
    }
    before = row;
    row = next;
  }
  return row[b.length]!;
}
