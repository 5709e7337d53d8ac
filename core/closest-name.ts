/** Longer names are not compared: nobody misspells them by a letter or two. */
const longest = 64;

/**
 * The candidate that `name` was most likely meant to be; `null` when none is near.
 *
 * Spaces, `_`, `-` and the case of letters do not count; then at most one slip for each three letters (a letter left
 * out, added, changed, or two exchanged). The first candidate wins a tie.
 *
 * Source: the distance is that of F. J. Damerau, CACM 7 (1964) 171, adjacent exchanges only.
 * @example closestName("ballspeed", ["carry", "ball_speed"]) // "ball_speed"
 */
export function closestName(name: string, candidates: readonly string[]): string | null {
  const wanted = plainForm(name);
  if (wanted.length === 0 || wanted.length > longest) return null;
  let best: string | null = null;
  // A name of one letter is near nothing but itself.
  let least = Math.min(wanted.length, Math.max(1, Math.floor(wanted.length / 3)) + 1);
  for (const candidate of candidates) {
    const form = plainForm(candidate);
    if (Math.abs(form.length - wanted.length) >= least) continue;
    const distance = slips(wanted, form);
    if (distance < least) {
      least = distance;
      best = candidate;
    }
  }
  return best;
}

function plainForm(name: string): string {
  return name.toLowerCase().replace(/[\s_-]+/g, "");
}

function slips(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const changed = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      let cost = Math.min(changed, row[j]! + 1, next[j - 1]! + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, before[j - 2]! + 1);
      next.push(cost);
    }
    before = row;
    row = next;
  }
  return row[b.length]!;
}
