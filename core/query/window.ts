import type { Unit } from "../units";

/** A range of values of one column, in the column's unit; its bounds belong to it. */
export interface Window {
  readonly column: string;
  /** `null` for a window that is open below. */
  readonly from: number | null;
  /** `null` for a window that is open above. */
  readonly to: number | null;
  /** The column's own; `null` for a pure number, or while the column is not known. */
  readonly unit: Unit | null;
}

/** One bound as it was written: its number and what stood after it. */
export interface WrittenBound {
  readonly value: number;
  readonly unit: string;
}

/** The bounds of a window as they were written; one of them is there at least. */
export interface WrittenWindow {
  readonly from: WrittenBound | null;
  readonly to: WrittenBound | null;
}

/**
 * Reads the bounds of a window: `14 to 18 deg`, `14..18 deg`, `14-18 deg`, `from 90 ft`, `up to 4500 rpm`; `null` for any other text.
 *
 * A unit after one of two bounds holds for both. Which units there are is not looked at.
 */
export function readWindow(text: string): WrittenWindow | null {
  const upTo = /^\s*up\s+to\s(.*)$/iu.exec(text);
  if (upTo !== null) return oneSided(upTo[1]!, (to) => ({ from: null, to }));
  // A hyphen or a dash between two numbers, too, as ranges without negative bounds are often written.
  const dashed = /^\s*(\d+(?:\.\d+)?)\s*[-\u2013]\s*(\d.*)$/u.exec(text);
  const parts = dashed === null ? text.replace(/^\s*from\s/iu, "").split(/\.\.|\sto\s/u) : dashed.slice(1);
  if (parts.length === 1 && /^\s*from\s/iu.test(text)) return oneSided(parts[0]!, (from) => ({ from, to: null }));
  if (parts.length !== 2) return null;
  const [from, to] = parts.map(readBound);
  if (!from || !to) return null;
  return { from: { ...from, unit: from.unit || to.unit }, to: { ...to, unit: to.unit || from.unit } };
}

/** True for a value that lies in the window; `NaN` lies in none. */
export function isInside(value: number, { from, to }: Window): boolean {
  return (from === null ? !Number.isNaN(value) : value >= from) && (to === null || value <= to);
}

function oneSided(text: string, windowOf: (bound: WrittenBound) => WrittenWindow): WrittenWindow | null {
  const bound = readBound(text);
  return bound === null ? null : windowOf(bound);
}

function readBound(text: string): WrittenBound | null {
  const match = /^\s*([-+\u2212]?\d+(?:\.\d+)?)\s*([^\d\s].*?)?\s*$/u.exec(text);
  return match === null ? null : { value: Number(match[1]!.replace("\u2212", "-")), unit: match[2] ?? "" };
}
