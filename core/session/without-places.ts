/** A session, or a part of one, as text but for where things stand and could be written: equal for what says the same. */
export function withoutPlaces(value: unknown): string {
  return JSON.stringify(value, (key, each: unknown) => (key === "range" || key.endsWith("Range") || key === "unitPlace" ? undefined : each));
}
