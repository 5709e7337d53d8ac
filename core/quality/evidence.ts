import { derivedFrom } from "../session/derive-columns";
import type { ShotColumn } from "../table/shot-columns";
import type { SessionReadings } from "./session-readings";

/** Columns that tell as much as the two readings do which they are derived from. */
const asGoodAsRead: ReadonlySet<ShotColumn> = new Set(["spin_rate", "spin_axis"]);

/** True for a column that is there and whose values were read, not calculated from others by the monitor. */
export function isEvidence(readings: SessionReadings, column: ShotColumn): boolean {
  if (readings.values(column) === null || readings.facts.calculated.includes(column)) return false;
  if (!readings.isCalculated(column)) return true;
  const parts = asGoodAsRead.has(column) ? derivedFrom[column] : undefined;
  return parts !== undefined && parts.every((part) => readings.values(part) !== null && !readings.isCalculated(part));
}

/** A column's values, or `null` where they are no evidence. */
export function evidenceOf(readings: SessionReadings, column: ShotColumn): Float64Array | null {
  return isEvidence(readings, column) ? readings.values(column) : null;
}

/** A column's name in the middle of a sentence: `face angle`. */
export function inWords(column: ShotColumn): string {
  return column.replaceAll("_", " ");
}

/** A sentence's beginning in capitals. */
export function sentence(text: string): string {
  return text[0]!.toUpperCase() + text.slice(1);
}

/**
 * Why a rule that compares columns tells nothing here: the first of them that is calculated from others, in a sentence that
 * is the same for all such rules; `null` where none is, or one is not there at all.
 */
export function silentWhereCalculated(readings: SessionReadings, columns: readonly ShotColumn[]): string | null {
  if (columns.some((column) => readings.values(column) === null)) return null;
  const calculated = columns.find((column) => !isEvidence(readings, column));
  if (calculated === undefined) return null;
  return `${sentence(inWords(calculated))} is calculated from other readings here, so that its agreement with them is no evidence: rules that compare the two tell nothing.`;
}

/** The name of a shot's head, or words for any. */
export function headName(readings: SessionReadings, i: number): string {
  return readings.heads[readings.head[i]!]?.name ?? "this session";
}
