/**
 * What a result was computed from: a key for each text and file, by what it is called for a reader (`the text of gap`,
 * `sessions/spring-bay-1.session.yaml`). Keys are equal as long as what they stand for is.
 */
export type Basis = Readonly<Record<string, string>>;

/**
 * What has changed between what a result was computed from and what it would be computed from now, for a reader; empty
 * while the result holds.
 */
export function changedSince(before: Basis, now: Basis): readonly string[] {
  return [...new Set([...Object.keys(before), ...Object.keys(now)])].filter((name) => before[name] !== now[name]);
}
