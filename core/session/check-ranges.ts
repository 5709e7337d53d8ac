import type { Problem } from "../problem";
import { problem } from "../problem";
import type { ProblemList } from "../table/problem-list";
import { shotColumnNames, shotColumns, type ShotColumn, type ShotColumnFacts } from "../table/shot-columns";
import type { NumberColumn } from "../table/table";
import type { Unit } from "../units";
import { convert, units } from "../units";
import type { Draft } from "./draft";
import { addAtField, fieldOf } from "./draft";
import { headDefaults } from "./head-defaults";
import type { Session } from "./session";
import type { HeadKind } from "./session-facts";

interface Limits {
  readonly low: number;
  readonly high: number;
}

/**
 * Warns of every value from an export that is not plausible for its column; the value is kept.
 *
 * The session's limits count, then those of the kind of head, then the column's own. Values are as the export has
 * them: strikes from the monitor's origin, directions not mirrored.
 */
export function checkRanges(draft: Draft, session: Session, kinds: readonly (HeadKind | null)[], list: ProblemList): void {
  const heads = draft.columns.get("head");
  for (const name of shotColumnNames) {
    const column = draft.columns.get(name);
    if (column?.kind !== "number" || shotColumns[name].group === "identity") continue;
    const general = limitsOf(name, null, column.unit, session);
    if (general === null) continue;
    const byHead = kinds.map((kind) => limitsOf(name, kind, column.unit, session) ?? general);
    const differ = byHead.some((limits) => limits.low !== general.low || limits.high !== general.high);
    const { values } = column;
    for (let row = 0; row < values.length; row++) {
      const value = values[row]!;
      const code = differ && heads?.kind === "text" ? heads.codes[row]! : -1;
      const limits = code < 0 ? general : byHead[code]!;
      // A missing value is neither below nor above.
      if (value < limits.low || value > limits.high) report(draft, session, list, column, name, row, limits);
    }
  }
}

function limitsOf(name: ShotColumn, kind: HeadKind | null, unit: Unit | null, session: Session): Limits | null {
  const stated = session.plausible[name];
  if (stated !== undefined) {
    if (stated.unit === null || unit === null) return stated;
    return { low: convert(stated.low, stated.unit, unit), high: convert(stated.high, stated.unit, unit) };
  }
  if (name === "speed_ratio" && kind !== null) {
    const [low, high] = headDefaults[kind].speedRatio;
    return { low, high };
  }
  const { range }: ShotColumnFacts = shotColumns[name];
  if (range === null) return null;
  const factor = unit === null ? 1 : units[unit].factor;
  return { low: range[0] / factor, high: range[1] / factor };
}

function report(draft: Draft, session: Session, list: ProblemList, column: NumberColumn, name: ShotColumn, row: number, limits: Limits): void {
  const words = (value: number): string => `${Number(value.toPrecision(5))}${column.unit === null ? "" : ` ${column.unit}`}`;
  const facts = { value: words(column.values[row]!), column: name, low: words(limits.low), high: words(limits.high) };
  const make = (range: Problem["range"]): Problem => problem("value.out-of-range", facts, range);
  const shot = draft.numbers.values[row]!;
  const corrected = session.corrections.findLast((each) => each.column === name && each.shots.some(({ from, to }) => from <= shot && shot <= to));
  if (corrected !== undefined) list.add("value.out-of-range", () => make(corrected.valueRange));
  else if (fieldOf(draft, name, row) !== null) addAtField(draft, list, name, row, "value.out-of-range", make);
}
