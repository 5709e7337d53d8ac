/** A stretch of a text in UTF-16 offsets, and what stands in its place. */
export interface Replacement {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The text with stretches replaced, in time that grows with the text. They do not overlap; of two at one place the first comes first. */
export function replaceSpans(text: string, replacements: readonly Replacement[]): string {
  const parts: string[] = [];
  let at = 0;
  for (const one of [...replacements].sort((a, b) => a.from - b.from)) {
    parts.push(text.slice(at, one.from), one.text);
    at = one.to;
  }
  return parts.join("") + text.slice(at);
}
