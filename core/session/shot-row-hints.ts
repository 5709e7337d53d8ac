/** How rows that are no shots are told. */
export interface ShotRowHints {
  /** The index of the column of shot numbers, and of the column of heads; −1 when there is none. */
  readonly shotColumn: number;
  readonly headColumn: number;
  /** True for the columns of shots, heads and times, which hold no opinions. */
  readonly isNamed: (column: number) => boolean;
  /** Columns in which the word of a summary row may stand. */
  readonly mayNameSummary: (column: number) => boolean;
  /** True for the name of a head, which is never the word of a summary. */
  readonly isHead: (text: string) => boolean;
  /** True for a text that means missing. */
  readonly isMissing: (text: string) => boolean;
  /** Whether the first row holds units; `null` when the session does not say. */
  readonly unitsRow: boolean | null;
}
