import { defaultLimits, type Limits } from "../limits";
import type { Checked, Problem } from "../problem";
import { findColumn, valueAt, type Table } from "../table/table";
import { loadShots } from "./load-shots";
import { readSession } from "./read-session";
import type { GivenExport } from "./session-proposal";

/** How many shots one head has in a session, and in how many stints they were hit. */
export interface HeadCount {
  /** `null` counts the shots of which no head is known. */
  readonly head: string | null;
  readonly shots: number;
  readonly stints: number;
}

/** What a session file makes of its exports: its shots by head, in the order in which the heads were first hit. */
export type ReadBack = Checked<readonly HeadCount[] | null>;

/**
 * Reads exports by the text of a session file, as a notebook will: what a new session gives before it is written.
 *
 * @param text a session file whose sources are these exports.
 * @returns `null` where there would be no table of shots. A problem without a `file` is in `text`.
 */
export function readBack(text: string, exports: readonly GivenExport[], limits: Limits = defaultLimits): ReadBack {
  const { value: session, problems } = readSession(text);
  if (session === null) return { value: null, problems };
  const loaded = loadShots(session, new Map(exports.map(({ file, bytes }) => [file, bytes])), limits);
  const all: readonly Problem[] = [...problems, ...loaded.problems];
  return { value: loaded.value === null ? null : countHeads(loaded.value), problems: all };
}

function countHeads(table: Table): readonly HeadCount[] {
  const heads = findColumn(table, "head");
  const stints = findColumn(table, "stint");
  const counts = new Map<string | null, { shots: number; readonly stints: Set<unknown> }>();
  for (let row = 0; row < table.rowCount; row++) {
    const value = heads === undefined ? null : valueAt(heads, row);
    const head = typeof value === "string" ? value : null;
    const count = counts.get(head) ?? { shots: 0, stints: new Set() };
    count.shots++;
    if (stints !== undefined) count.stints.add(valueAt(stints, row));
    counts.set(head, count);
  }
  return [...counts].map(([head, count]) => ({ head, shots: count.shots, stints: count.stints.size }));
}
