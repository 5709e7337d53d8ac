import type { ShotColumn } from "../table/shot-columns";
import type { SessionReadings } from "./session-readings";

/** One reading that a rule doubts. Numbers are SI and radians, as in `SessionReadings`. */
export interface Finding {
  /** The place of the shot among the session's readings. */
  readonly at: number;
  /** The column whose value is doubted. */
  readonly column: ShotColumn;
  /** What the other channels imply instead; `null` where they only say that it cannot be. */
  readonly implied: number | null;
  /** How far from what is implied a value may be; `null` where there is no such thing. */
  readonly tolerance: number | null;
  /** `strong` for what cannot be, or is far beyond the tolerance; `some` for what is worth a look. */
  readonly doubt: "some" | "strong";
  /** One sentence with the value, what other channels imply, and the tolerance, numbers with units. */
  readonly evidence: string;
  /** What single channels imply, each by a name for a reader, for the picture; may be empty. */
  readonly witnesses: readonly { readonly name: string; readonly implied: number }[];
}

/** One rule by which a reading is doubted: an entry of the one table of rules. */
export interface MisreadRule {
  /** A short name in plain words, as the column `rule` shows it: `start direction`. Unique. */
  readonly name: string;
  /** What it looks at and why that tells, in one sentence. */
  readonly summary: string;
  /** Columns that it can doubt. */
  readonly doubts: readonly ShotColumn[];
  /** Columns without which it cannot be asked. */
  readonly needs: readonly ShotColumn[];
  /** The tolerance in words, with units. */
  readonly tolerance: string;
  /** Where rule and tolerance come from: a publication, "common practice, no source", or "from memory". */
  readonly source: string;
  /**
   * What it finds in one session; called only when all of `needs` are there.
   *
   * A rule whose evidence is the agreement of columns of which one is calculated from the other finds nothing there.
   */
  readonly find: (readings: SessionReadings) => readonly Finding[];
  /** Why the rule cannot tell anything in this session although its columns are there, as a sentence; `null` when it can. */
  readonly silent?: (readings: SessionReadings) => string | null;
}
