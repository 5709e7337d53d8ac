/** A session, or a part of one, as text but for where in the file things stand: equal for what says the same. */
export function withoutPlaces(value: unknown): string {
  return JSON.stringify(value, (key, each: unknown) => (key === "range" || key.endsWith("Range") ? undefined : each));
}
