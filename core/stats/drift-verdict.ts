import type { Interval } from "./mean-contrast";
import { verdictOf } from "./verdict";

/** Every verdict on a change over a session. Not finding one is never reported as steadiness. */
export const driftVerdicts = [
  "changed by more than the margin",
  "changed",
  "changed but too little to matter",
  "practically steady",
  "undecided",
  "do not change alike",
  "no verdict",
] as const;

/** One of the verdicts on a change over a session. */
export type DriftVerdict = (typeof driftVerdicts)[number];

/** The two intervals of one change: of the chosen confidence, and of 90 %. */
export interface Bounds {
  readonly wide: Interval;
  readonly narrow: Interval;
}

/**
 * The verdict on a change that two methods agree on.
 *
 * Where one leaves out 0 and the other does not, the verdict is "undecided", unless both keep the change inside the
 * margin. Where both leave it out, the weaker of the two holds.
 *
 * @param other the intervals of the second method; `null` when it has none.
 * @param margin what is too small to matter, above 0; `null` when it is not known, and then nothing is called steady.
 * @example driftVerdict({ wide: { from: 1, to: 3 }, narrow: { from: 1.2, to: 2.8 } }, null, null).verdict // "changed"
 */
export function driftVerdict(own: Bounds, other: Bounds | null, margin: number | null): { readonly verdict: DriftVerdict; readonly dependsOnMethod: boolean } {
  const first = verdictBy(own, margin);
  const second = other === null ? first : verdictBy(other, margin);
  if (first === second || second === "no verdict") return { verdict: first, dependsOnMethod: false };
  const both = [first, second];
  const isSmall = (verdict: DriftVerdict): boolean => verdict === "changed but too little to matter" || verdict === "practically steady";
  if (both.every(isSmall)) return { verdict: "practically steady", dependsOnMethod: false };
  if (both.every((verdict) => verdict.startsWith("changed"))) return { verdict: "changed", dependsOnMethod: false };
  return { verdict: "undecided", dependsOnMethod: true };
}

function verdictBy({ wide, narrow }: Bounds, margin: number | null): DriftVerdict {
  if (margin === null) return Number.isNaN(wide.from) ? "no verdict" : wide.from > 0 || wide.to < 0 ? "changed" : "undecided";
  switch (verdictOf(wide, narrow, margin)) {
    case "different by more than the margin":
      return "changed by more than the margin";
    case "different":
      return "changed";
    case "different but too small to matter":
      return "changed but too little to matter";
    case "practically equivalent":
      return "practically steady";
    case "undecided":
      return "undecided";
    case "no verdict":
      return "no verdict";
  }
}
