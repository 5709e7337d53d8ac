import { loadShots } from "../../core/session/load-shots";
import { readSession } from "../../core/session/read-session";
import type { Table } from "../../core/table/table";

/**
 * The shots of a session given as text, with its exports by their names.
 *
 * @throws {Error} when there are none, with everything that is wrong.
 */
export function loadedTable(session: string, exports: Readonly<Record<string, string>>): Table {
  const read = readSession(session);
  const files = new Map(Object.entries(exports).map(([name, text]) => [name, new TextEncoder().encode(text)]));
  const loaded = read.value === null ? read : loadShots(read.value, files);
  if (loaded.value === null || !("type" in loaded.value)) throw new Error([...read.problems, ...loaded.problems].map((found) => found.message).join("; "));
  return loaded.value;
}
