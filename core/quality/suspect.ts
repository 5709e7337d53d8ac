import type { ShotColumn } from "../table/shot-columns";

/** One doubtful value of a table. Numbers are in the unit of the table's column and in its frame. */
export interface Suspect {
  /** The row of the table. */
  readonly row: number;
  /** The name of the session. */
  readonly session: string;
  readonly shot: number;
  readonly head: string | null;
  readonly column: ShotColumn;
  readonly recorded: number;
  readonly implied: number | null;
  readonly tolerance: number | null;
  /** The name of the rule with the strongest doubt. */
  readonly rule: string;
  readonly doubt: "some" | "strong";
  /** Whole sentences; those of other rules that doubt the same value follow the strongest one's. */
  readonly evidence: string;
  readonly witnesses: readonly { readonly name: string; readonly implied: number }[];
}

/** A column that reads otherwise in a part of a session than in the rest. Numbers are in the unit of the table's column and in its frame. */
export interface DoubtedStretch {
  readonly session: string;
  readonly column: ShotColumn;
  /** Numbers of its first and its last shot. */
  readonly from: number;
  readonly to: number;
  /** What it reads there beyond what it reads elsewhere, with a 95 % interval. */
  readonly bias: number;
  readonly low: number;
  readonly high: number;
  /** The bias that would not matter. */
  readonly tolerance: number;
  /** Shot by shot through the session, by how much the column is off what the other readings imply, heads taken apart. */
  readonly course: readonly { readonly shot: number; readonly off: number }[];
  /** Whole sentences: bias with interval, first and last shot, and that it is relative to the rest. */
  readonly sentence: string;
}

/** What the rules say of a table. */
export interface Doubts {
  /** By session, shot and column; one for each doubted value. */
  readonly suspects: readonly Suspect[];
  /** By session and first shot; also those of which no value is listed, since the column cannot be told from another. */
  readonly stretches: readonly DoubtedStretch[];
  /** Sentences: columns that are doubted as a whole; rules that could tell nothing, with the reason. Those of stretches are with them. */
  readonly sentences: readonly string[];
}
