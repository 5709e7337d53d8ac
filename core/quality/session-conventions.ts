import type { Problem } from "../problem";
import type { Session } from "../session/session";
import type { Table } from "../table/table";
import { readingsOf } from "./session-readings";
import { signProblems } from "./session-signs";
import { unitProblems } from "./session-units";

/**
 * Warnings where the shots of a session say that a unit or a sign is not what the session file states, at the column's
 * entry in it, with a fix where there is a safe one. Units come first: where they are off, signs are not looked at.
 *
 * @param text the session file.
 * @param found what reading the shots has found already.
 */
export function conventionProblems(table: Table, session: Session, text: string, found: readonly Problem[]): readonly Problem[] {
  const [readings] = readingsOf(table);
  if (readings === undefined) return [];
  const assumed = new Set(found.flatMap((each) => (each.code === "session.unit-assumed" ? [each.facts.column] : [])));
  const hasUnitsRow = found.some(({ code }) => code === "csv.units-row");
  const inUnits = unitProblems(readings, session, { text, hasUnitsRow, assumed });
  return inUnits.length > 0 ? inUnits : signProblems(readings, session, text);
}
