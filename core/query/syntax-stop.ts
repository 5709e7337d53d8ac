import type { LineTable } from "../text-position";

/** Where reading a cell's body ended. */
export interface SyntaxStop {
  readonly text: string;
  readonly bodyOffset: number;
  /** The offset in `text` at which it could not be read on. */
  readonly at: number;
  readonly lines: LineTable;
}

/** A change by which a body could be read on; without edits where only a person can say what was meant. */
export interface Change {
  readonly title: string;
  readonly edits: readonly { readonly from: number; readonly to: number; readonly text: string }[];
  /** What would be accepted, where it is more than that a cell is names and an expression. */
  readonly instead?: string;
  readonly byPerson?: true;
}
