import type { PresentedCell } from "../../core/present/present-outcome";

/** A short text, and the same for whoever hears it or wants to know more. */
export interface StatusWords {
  readonly short: string;
  readonly long: string;
}

/** What a cell says of its last run: rows in and out, and time. `null` where it has nothing to say. */
export function rowsInWords({ inputs, rowCount }: Pick<PresentedCell, "inputs" | "rowCount">, milliseconds: number | null): StatusWords | null {
  if (inputs === null) return null;
  const taken = milliseconds === null ? null : timeInWords(milliseconds);
  const from = inputs.rows.join(" + ");
  const short = rowCount === null ? (from === "" ? "" : `${from} rows in`) : `${from === "" ? "" : `${from} → `}${rowCount} ${rowCount === 1 ? "row" : "rows"}`;
  const rows = [from === "" ? [] : [`${from} rows in`], rowCount === null ? [] : [`${rowCount} out`]].flat().join(", ");
  return { short: [short, taken].filter(Boolean).join(" · "), long: `${rows}${taken === null ? "" : `${rows === "" ? "" : ", "}computed in ${taken}`}` };
}

/** `12 ms`, `1.4 s`. */
function timeInWords(milliseconds: number): string {
  return milliseconds < 1000 ? `${Math.max(1, Math.round(milliseconds))} ms` : `${(milliseconds / 1000).toFixed(1)} s`;
}

/** `3 values set aside`; `null` where there are none. */
export function setAsideInWords({ inputs }: Pick<PresentedCell, "inputs">): StatusWords | null {
  const count = inputs?.setAside ?? 0;
  if (count === 0) return null;
  const short = `${count} ${count === 1 ? "value" : "values"} set aside`;
  return { short, long: `${short} among the shots that this cell takes: missing here, and kept in the export` };
}

/** What has changed, short enough to stand below a cell; the long text names all of it. */
export function changedInWords(changed: readonly string[]): StatusWords {
  const [first = "", ...others] = changed;
  const short = others.length < 2 ? changed.join(", ") : `${first} and ${others.length} more`;
  return { short: `Out of date: ${short} changed`, long: `Out of date: ${changed.join(", ")} changed since this was computed. Run what is out of date.` };
}
