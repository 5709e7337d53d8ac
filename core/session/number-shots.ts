import type { Problem } from "../problem";
import { problem } from "../problem";
import type { NumberColumn } from "../table/table";
import type { ExportShots } from "./export-shots";
import type { Session } from "./session";

/** The number by which each shot of a session goes, in hitting order: whole numbers from 1, each greater than the one before. */
export interface ShotNumbers {
  readonly values: Float64Array;
  /** True when they are those of the exports; otherwise the shots are counted from 1. */
  readonly fromExport: boolean;
}

/** The longest number that a list of shots can name has 15 digits, and a double holds it exactly. */
const greatest = 999_999_999_999_999;

/**
 * The numbers of shots in hitting order: the exports' own where they are whole numbers that count up, otherwise their
 * places from 1.
 *
 * @param own the exports' numbers in hitting order; `undefined` when no column of them is mapped.
 */
export function numberShots(own: NumberColumn | undefined, rowCount: number): ShotNumbers {
  if (own !== undefined && reasonAgainst(own.values) === null) return { values: own.values.slice(), fromExport: true };
  return { values: Float64Array.from({ length: rowCount }, (_, row) => row + 1), fromExport: false };
}

/**
 * Says that the shots do not go by the numbers of the exports, and why; nothing when they do or there are none.
 *
 * It is a warning where the session names shots by number: those numbers are not what the export shows.
 */
export function reportNumbers(own: NumberColumn | undefined, session: Session, exports: readonly ExportShots[]): Problem[] {
  const reason = own === undefined ? null : reasonAgainst(own.values);
  const numbered = exports.find((shots) => shots.columns.has("shot"));
  if (reason === null || numbered === undefined || own!.values.every((value, row) => value === row + 1)) return [];
  const header = numbered.text.header[numbered.columns.get("shot")!.index]!.name;
  const range = session.columns.find((map) => map.column === "shot")?.headerRange ?? numbered.source.orderRange;
  const facts = { header, reason, count: own!.values.length };
  return [problem(namesShots(session) ? "session.lists-renumbered" : "session.renumbered", facts, range)];
}

function reasonAgainst(values: Float64Array): string | null {
  let back = false;
  for (let row = 0; row < values.length; row++) {
    const value = values[row]!;
    if (!Number.isInteger(value) || value < 1 || value > greatest) return "not all of them are whole numbers from 1";
    if (row > 0 && value <= values[row - 1]!) back = true;
  }
  if (!back) return null;
  return new Set(values).size < values.length ? "some of them are there more than once" : "they do not count up in hitting order";
}

function namesShots({ shots, breaks, corrections, setAside }: Session): boolean {
  return shots.length + breaks.length + corrections.length + setAside.length > 0;
}
