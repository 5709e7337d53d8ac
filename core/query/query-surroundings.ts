import type { Limits } from "../limits";
import type { NotebookChoice } from "../notebook/choice";
import type { Schema } from "../table/schema";
import type { UnitSystem } from "../units";
import type { Vocabulary } from "./vocabulary";

/** What a query cell is checked against. */
export interface QuerySurroundings {
  readonly vocabulary: Vocabulary;
  /** What is known of `shots` and of the tables that other cells give. */
  readonly tables: ReadonlyMap<string, Schema>;
  /** Every name that stands for a cell or `shots`; one without a table is passed over here, since its own cell says why. */
  readonly cells: ReadonlySet<string>;
  /** Names to suggest where a table is not known: those that stand for a table, but for the cell's own. */
  readonly tableNames: () => readonly string[];
  /** What is known of a session by its path as written; `null` when nothing is. */
  readonly sessions: (path: string) => Schema | null;
  readonly units: UnitSystem;
  /** The named choices of the front matter; none when absent. */
  readonly choices?: readonly NotebookChoice[];
  readonly limits: Limits;
}
