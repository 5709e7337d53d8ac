import type { Schema } from "../table/schema";
import { schemaOf } from "../table/schema";
import { zones, type Zone } from "../table/shot-columns";
import type { Table } from "../table/table";

/** What a checker knows of a table of shots without its rows. */
export interface Profile {
  readonly schema: Schema;
  /** Names of the sessions behind the rows. */
  readonly sessions: readonly string[];
  /** Names of the heads that the sessions describe or that were hit, each once. */
  readonly heads: readonly string[];
  readonly zones: readonly Zone[];
}

/** The profile of a table at hand. */
export function profileOf(table: Table): Profile {
  return {
    schema: schemaOf(table),
    sessions: table.sessions.map((session) => session.name),
    heads: [...new Set(table.sessions.flatMap((session) => session.heads.map((head) => head.name)))],
    zones,
  };
}
