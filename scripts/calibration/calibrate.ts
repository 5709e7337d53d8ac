import type { Table } from "../../core/table/table";
import { findColumn, valueAt } from "../../core/table/table";
import { compare } from "../../core/verbs/compare";
import type { TrueHead, Truth } from "./invent-session";
import { inventSession, sameStrikesTruth } from "./invent-session";
import { quietContext } from "../quiet-context";

/** One row of a comparison, as far as calibration looks at it. */
export interface ComparedPair {
  readonly head: string;
  readonly against: string;
  readonly strikes: string;
  readonly from: number | null;
  readonly to: number | null;
  readonly verdict: string;
}

/** What many sessions of one truth gave. Shares are of sessions, 0 to 1; `null` where nothing was to be counted. */
export interface Calibration {
  readonly sessions: number;
  /** Sessions in which some pair was called different, as struck and at the same strikes. */
  readonly anyDifferent: { readonly asStruck: number; readonly same: number };
  /** Share of single same-strikes intervals that hold the truth, and of sessions in which all of them do. */
  readonly coverage: { readonly single: number | null; readonly all: number | null };
  /** Sessions in which the first pair is called different at the same strikes. */
  readonly found: { readonly asStruck: number; readonly same: number };
  /** Share of verdicts, over all pairs whose true difference is beyond the margin, that call them equivalent. */
  readonly wronglyEquivalent: number | null;
  /** Sessions with any verdict but "no verdict". */
  readonly anyVerdict: number;
}

/** The margin of all simulated comparisons, in yd. */
const margin = 3;

const context = quietContext(1);

/** Compares one session by the verb itself, so that what is counted is what a person would read. */
export function comparedPairs(table: Table): readonly ComparedPair[] {
  const result = compare.run(table, [{ kind: "options", values: { of: "carry", by: "head", margin: { value: margin, unit: "yd" } } }], context);
  if (result.type === "refused") throw new Error("the comparison of an invented session is refused");
  const value = (name: string, row: number) => valueAt(findColumn(result, name)!, row);
  return Array.from({ length: result.rowCount }, (_, row) => ({
    head: value("head", row) as string,
    against: value("against", row) as string,
    strikes: value("strikes", row) as string,
    from: value("from", row) as number | null,
    to: value("to", row) as number | null,
    verdict: value("verdict", row) as string,
  }));
}

/** Makes `sessions` sessions of one truth and counts what the comparison said of them. */
export function calibrate(truth: Truth, sessions: number, firstSeed = 1): Calibration {
  const names = truth.heads.map((head) => head.name);
  const counts = { struck: 0, same: 0, foundStruck: 0, foundSame: 0, verdict: 0, intervals: 0, held: 0, judged: 0, allHeld: 0, beyond: 0, equivalent: 0 };
  for (let i = 0; i < sessions; i++) {
    const session = inventSession(truth, firstSeed + i);
    const level = sameStrikesTruth(session, names.length);
    const pairs = comparedPairs(session.table);
    const differs = (pair: ComparedPair): boolean => pair.verdict.startsWith("different");
    const same = pairs.filter((pair) => pair.strikes === "same");
    const struck = pairs.filter((pair) => pair.strikes === "as struck");
    const isFirst = (pair: ComparedPair): boolean => [pair.head, pair.against].every((name) => names.indexOf(name) < 2);
    counts.struck += Number(struck.some(differs));
    counts.same += Number(same.some(differs));
    counts.foundStruck += Number(struck.some((pair) => isFirst(pair) && differs(pair)));
    counts.foundSame += Number(same.some((pair) => isFirst(pair) && differs(pair)));
    counts.verdict += Number(pairs.some((pair) => pair.verdict !== "no verdict"));
    const bounded = same.filter((pair) => pair.from !== null && pair.to !== null);
    const held = bounded.map((pair) => {
      const difference = level[names.indexOf(pair.head)]! - level[names.indexOf(pair.against)]!;
      if (Math.abs(difference) > margin) {
        counts.beyond++;
        counts.equivalent += Number(pair.verdict === "practically equivalent" || pair.verdict === "different but too small to matter");
      }
      return pair.from! <= difference && difference <= pair.to!;
    });
    counts.intervals += held.length;
    counts.held += held.filter(Boolean).length;
    counts.judged += Number(held.length > 0);
    counts.allHeld += Number(held.length > 0 && held.every(Boolean));
  }
  const share = (part: number, whole: number): number | null => (whole === 0 ? null : part / whole);
  return {
    sessions,
    anyDifferent: { asStruck: counts.struck / sessions, same: counts.same / sessions },
    coverage: { single: share(counts.held, counts.intervals), all: share(counts.allHeld, counts.judged) },
    found: { asStruck: counts.foundStruck / sessions, same: counts.foundSame / sessions },
    wronglyEquivalent: share(counts.equivalent, counts.beyond),
    anyVerdict: counts.verdict / sessions,
  };
}

const head = (name: string, given: Partial<TrueHead> = {}): TrueHead => ({ name, adds: 0, strike: [0, 0], fallOff: 1, scatter: 1, ...given });

/** The scatter of carry that a fit of one clean session of 72 shots gives, at the same strikes: ρ = 0.05. */
const loose = { stintSd: 1, shotSd: 4.4 };

/** Shots of a stint that share more: ρ = 0.2. */
const close = { stintSd: 2, shotSd: 4 };

const alike: Truth = {
  heads: [head("Wren"), head("Heron"), head("Plover")],
  passes: 10,
  shotsInStint: [3, 3, 3],
  ...close,
  drift: (time) => -4 * time,
  order: "random in each pass",
};

const apart: Truth = { ...alike, heads: [head("Wren", { strike: [-2, 1] }), head("Heron", { strike: [3, -3] }), head("Plover", { strike: [-1, 2] })] };

/** The same, with what is added to the carry of its second head. */
const secondLonger = (yards: number): readonly TrueHead[] => apart.heads.map((each, i) => ({ ...each, adds: i === 1 ? yards : 0 }));

/** The truths that are simulated, each with what is asked of it. Without a goal a figure is shown for comparison only. */
export const scenarios: readonly { readonly name: string; readonly truth: Truth; readonly goals: readonly Goal[] }[] = [
  {
    name: "heads alike, strikes alike",
    truth: alike,
    goals: [goal("any pair different, same strikes", (c) => c.anyDifferent.same, 0.03, 0.06), goal("any pair different, as struck", (c) => c.anyDifferent.asStruck), ...coverage()],
  },
  {
    name: "heads alike, strikes that differ by head",
    truth: apart,
    goals: [goal("any pair different, same strikes", (c) => c.anyDifferent.same, 0, 0.06), goal("any pair different, as struck", (c) => c.anyDifferent.asStruck), ...coverage()],
  },
  {
    name: "heads alike, strikes that differ, shots of a stint share little",
    truth: { ...apart, ...loose },
    goals: [goal("any pair different, same strikes", (c) => c.anyDifferent.same, 0, 0.06), ...coverage(1)],
  },
  {
    name: "heads alike, strikes that differ, warm-up and fatigue bend the session",
    truth: { ...apart, drift: (time) => -12 * (time - 0.4) ** 2 },
    goals: [goal("any pair different, same strikes", (c) => c.anyDifferent.same, 0, 0.06), ...coverage()],
  },
  {
    name: "one head 5.4 yd longer, strikes that differ, shots of a stint share little",
    truth: { ...apart, ...loose, heads: secondLonger(5.4) },
    goals: [goal("the 5.4 yd found, same strikes", (c) => c.found.same, 0.8, 1), goal("the 5.4 yd found, as struck", (c) => c.found.asStruck), ...coverage(1)],
  },
  {
    name: "one head 5.4 yd longer, strikes that differ",
    truth: { ...apart, heads: secondLonger(5.4) },
    goals: [goal("the 5.4 yd found, same strikes", (c) => c.found.same), goal("the 5.4 yd found, as struck", (c) => c.found.asStruck), ...coverage()],
  },
  {
    name: "heads unlike in length, fall-off and scatter, strikes that differ",
    truth: { ...apart, heads: apart.heads.map((each, i) => ({ ...each, adds: [0, 4.5, -3.6][i]!, fallOff: [1, 0.7, 1.35][i]!, scatter: [1, 0.8, 1.2][i]! })) },
    goals: coverage(),
  },
  {
    name: "one head just beyond the margin (3.3 yd), little scatter",
    truth: { ...apart, shotSd: 2.2, stintSd: 0.5, heads: secondLonger(3.3) },
    goals: [goal("called equivalent though beyond the margin", (c) => c.wronglyEquivalent, 0, 0.03), ...coverage()],
  },
  {
    name: "stints of 2, 3 and 5 shots, scatter doubled where they are short",
    truth: { ...apart, passes: 8, shotsInStint: [2, 3, 5], heads: apart.heads.map((each, i) => ({ ...each, scatter: i === 0 ? 2 : 1 })) },
    goals: [goal("any pair different, same strikes", (c) => c.anyDifferent.same, 0, 0.06)],
  },
  {
    name: "each head in one go",
    truth: { ...apart, shotsInStint: [30, 30, 30], order: "in one go" },
    goals: [goal("sessions with any verdict", (c) => c.anyVerdict, 0, 0)],
  },
];

/** One figure of a calibration and the bounds that it should keep, 0 to 1. */
export interface Goal {
  readonly says: string;
  readonly figure: (calibration: Calibration) => number | null;
  readonly bounds: readonly [least: number, most: number] | null;
}

function goal(says: string, figure: Goal["figure"], least?: number, most?: number): Goal {
  return { says, figure, bounds: least === undefined || most === undefined ? null : [least, most] };
}

/** Where the scatter between stints is next to nothing its estimate is too large on average, and so are intervals. */
function coverage(most = 0.98): readonly Goal[] {
  return [
    goal("all three same-strikes intervals hold the truth", (c) => c.coverage.all, 0.94, most),
    goal("single same-strikes intervals hold the truth", (c) => c.coverage.single),
  ];
}
