/**
 * The p values adjusted so that the chance of any false finding among them stays below α, by Holm's method.
 *
 * @param p p values in any order, none missing.
 * @returns adjusted p values in the same order, at most 1, never below the one given.
 * Source: S. Holm, Scandinavian Journal of Statistics 6 (1979) 65.
 * @example holm([0.01, 0.04, 0.03]) // [0.03, 0.06, 0.06]
 */
export function holm(p: readonly number[]): readonly number[] {
  const order = p.map((_, i) => i).sort((a, b) => p[a]! - p[b]!);
  const adjusted = [...p];
  let most = 0;
  order.forEach((index, place) => {
    most = Math.max(most, Math.min(1, (p.length - place) * p[index]!));
    adjusted[index] = most;
  });
  return adjusted;
}
