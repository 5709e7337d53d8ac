import type { Fix, TextEdit } from "./problem";
import type { TextPosition } from "./text-position";

/** Whatever may have a fix. */
export interface Fixable {
  readonly fix?: Fix;
}

/** True for what has a fix that says nothing which only a person can know. */
export function needsNobody({ fix }: Fixable): boolean {
  return fix !== undefined && fix.byPerson !== true;
}

/**
 * The edits of the fixes of all problems of one text that are safe to make together, in the order of the text.
 *
 * Of fixes that overlap the first wins, and a fix is made whole or not at all; equal ones count once. Fixes that say what
 * only a person can know, and those of another file, are left out.
 */
export function fixAllEdits(problems: readonly Fixable[]): readonly TextEdit[] {
  return fixesTogether(problems.filter(needsNobody).flatMap(({ fix }) => (fix?.file === undefined ? [fix!] : []))).edits;
}

/** Fixes of one text that are made together. */
export interface FixesTogether<F> {
  /** In the order of the text. */
  readonly edits: readonly TextEdit[];
  /** Those that are made, equal ones among them. */
  readonly made: readonly F[];
  /** How many of these differ. */
  readonly different: number;
}

/** Those of the fixes that do not overlap one that comes before them. */
export function fixesTogether<F extends Pick<Fix, "edits">>(fixes: readonly F[]): FixesTogether<F> {
  const kept: TextEdit[] = [];
  const made: F[] = [];
  const known = new Set<string>();
  // Kept sorted by their start, so that only neighbours need to be looked at.
  for (const fix of fixes) {
    const { edits } = fix;
    const key = JSON.stringify(edits);
    if (!known.has(key)) {
      const places = edits.map((edit) => placeIn(kept, edit));
      if (places.includes(null) || edits.some((edit, i) => edits.slice(0, i).some((other) => overlap(edit, other)))) continue;
      known.add(key);
      for (const edit of edits) kept.splice(placeIn(kept, edit)!, 0, edit);
    }
    made.push(fix);
  }
  return { edits: kept, made, different: known.size };
}

/** Where an edit belongs among sorted ones; `null` when it overlaps one of them. */
function placeIn(sorted: readonly TextEdit[], edit: TextEdit): number | null {
  let from = 0;
  let to = sorted.length;
  while (from < to) {
    const middle = (from + to) >> 1;
    if (compare(sorted[middle]!.range.start, edit.range.start) <= 0) from = middle + 1;
    else to = middle;
  }
  const [before, after] = [sorted[from - 1], sorted[from]];
  return (before !== undefined && overlap(before, edit)) || (after !== undefined && overlap(after, edit)) ? null : from;
}

function overlap(a: TextEdit, b: TextEdit): boolean {
  if (compare(a.range.start, b.range.start) === 0) return true;
  return compare(a.range.start, b.range.end) < 0 && compare(b.range.start, a.range.end) < 0;
}

/** Below 0 when `a` comes before `b`. */
function compare(a: TextPosition, b: TextPosition): number {
  return a.line - b.line || a.column - b.column;
}
