/** One whole set of merge markers: the lines of its markers, counted from 0. */
interface Markers {
  readonly start: number;
  /** The marker of the common ancestor (`|||||||`), where there is one. */
  readonly base: number | null;
  readonly middle: number;
  readonly end: number;
}

/** Where merge markers stand in a text. Lines are counted from 0. */
export interface Conflicts {
  /** The outermost whole sets of markers in order, each from its first line up to, not including, the line `to`. */
  readonly regions: readonly { readonly from: number; readonly to: number }[];
  /** Every line as it is before the merge on this side; markers and lines of the other side are "". */
  readonly ours: readonly string[];
  /** Lines that begin a set of markers which is never completed. */
  readonly strays: readonly number[];
}

/**
 * Finds merge markers: `<<<<<<<`, perhaps `|||||||`, `=======` and `>>>>>>>`, seven each, alone or before a space.
 *
 * Sets may be nested. A `=======` that belongs to no set is the underline of a heading. Linear in the lines.
 */
export function findConflicts(lines: readonly string[]): Conflicts {
  const { sets, strays } = findMarkers(lines);
  if (sets.length === 0) return { regions: [], ours: lines, strays };
  const regions: { from: number; to: number }[] = [];
  for (const set of [...sets].sort((a, b) => a.start - b.start)) {
    if (set.start >= (regions.at(-1)?.to ?? 0)) regions.push({ from: set.start, to: set.end + 1 });
  }
  const kept = keptLines(lines.length, sets, "ours");
  return { regions, ours: lines.map((line, i) => (kept[i] === 1 ? line : "")), strays };
}

/**
 * The text of a conflict with exactly the lines of one side, or of both (ours first where they stand first), and
 * without markers. Lines outside the markers stay; those of a common ancestor go.
 *
 * @param text lines that end in LF.
 */
export function resolveConflict(text: string, take: "ours" | "theirs" | "both"): string {
  const lines = text.split("\n");
  const kept = keptLines(lines.length, findMarkers(lines).sets, take);
  return lines.filter((_, i) => kept[i] === 1).join("\n");
}

function findMarkers(lines: readonly string[]): { readonly sets: readonly Markers[]; readonly strays: readonly number[] } {
  const open: { start: number; base: number | null; middle: number | null }[] = [];
  const sets: Markers[] = [];
  const strays: number[] = [];
  // How many of the open sets have their middle: only such a set can be completed.
  let halfway = 0;
  for (const [i, line] of lines.entries()) {
    const mark = /^(<{7}|\|{7}|={7}|>{7})(?: |$)/.exec(line)?.[1]?.[0];
    if (mark === undefined) continue;
    const top = open.at(-1);
    if (mark === "<") open.push({ start: i, base: null, middle: null });
    else if (mark === "|" && top?.middle === null && top.base === null) top.base = i;
    else if (mark === "=" && top?.middle === null) {
      top.middle = i;
      halfway++;
    } else if (mark === ">" && halfway > 0) {
      for (let set = open.pop(); set !== undefined; set = open.pop()) {
        if (set.middle === null) {
          strays.push(set.start);
          continue;
        }
        sets.push({ start: set.start, base: set.base, middle: set.middle, end: i });
        halfway--;
        break;
      }
    }
  }
  for (const set of open) strays.push(set.start);
  return { sets, strays: strays.sort((a, b) => a - b) };
}

/** 1 for each line that stays when the given side is taken of every set, 0 for markers and all others. */
function keptLines(count: number, sets: readonly Markers[], take: "ours" | "theirs" | "both"): Uint8Array {
  const isMarker = new Uint8Array(count);
  // How many more sets hide a line than hid the one before it.
  const hiding = new Int32Array(count + 1);
  const hide = (from: number, to: number): void => {
    hiding[from]!++;
    hiding[to]!--;
  };
  for (const { start, base, middle, end } of sets) {
    for (const at of [start, base, middle, end]) if (at !== null) isMarker[at] = 1;
    if (base !== null) hide(base, middle);
    if (take === "theirs") hide(start, base ?? middle);
    if (take === "ours") hide(middle, end);
  }
  const kept = new Uint8Array(count);
  let hidden = 0;
  for (let i = 0; i < count; i++) {
    hidden += hiding[i]!;
    kept[i] = hidden === 0 && isMarker[i] === 0 ? 1 : 0;
  }
  return kept;
}
