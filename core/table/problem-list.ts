import type { Problem, ProblemCode } from "../problem";
import { problem } from "../problem";
import { textStart } from "../text-position";

/** Collects problems of one file: so many of each code, and the true total of every code. */
export interface ProblemList {
  /** Counts one problem of `code`; `make` is called only while there is room for it in the list. */
  readonly add: (code: ProblemCode, make: () => Problem) => void;
  /** Counts `more` problems of `code` that are not listed. */
  readonly count: (code: ProblemCode, more: number) => void;
  /** The problems in the order of their places, then one for each code that has more than are listed. */
  readonly listed: () => readonly Problem[];
}

/** Returns an empty list that takes at most `most` problems of each code. */
export function problemList(most: number): ProblemList {
  const list: Problem[] = [];
  const totals = new Map<ProblemCode, number>();
  const kept = new Map<ProblemCode, number>();
  return {
    add: (code, make) => {
      totals.set(code, (totals.get(code) ?? 0) + 1);
      const already = kept.get(code) ?? 0;
      if (already >= most) return;
      kept.set(code, already + 1);
      list.push(make());
    },
    count: (code, more) => totals.set(code, (totals.get(code) ?? 0) + more),
    listed: () => {
      const place = (p: Problem): number => p.range.start.line * 1e6 + p.range.start.column;
      const sorted = [...list].sort((a, b) => (a.file === b.file ? place(a) - place(b) : 0));
      for (const [code, total] of totals) {
        const listed = kept.get(code) ?? 0;
        if (total > listed) sorted.push(problem("csv.more-problems", { of: code, total, listed }, textStart));
      }
      return sorted;
    },
  };
}
