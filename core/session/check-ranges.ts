import type { Problem } from "../problem";
import { problem } from "../problem";
import { fieldText } from "../table/delimited-text";
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
  /** The limits in words, as a person states or would state them. */
  readonly words: readonly [low: string, high: string];
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
    const words = [inWords(stated.low, stated.unit), inWords(stated.high, stated.unit)] as const;
    if (stated.unit === null || unit === null) return { low: stated.low, high: stated.high, words };
    return { low: convert(stated.low, stated.unit, unit), high: convert(stated.high, stated.unit, unit), words };
  }
  if (name === "speed_ratio" && kind !== null) {
    const [low, high] = headDefaults[kind].speedRatio;
    return { low, high, words: [inWords(low, null), inWords(high, null)] };
  }
  const usual = usualLimits(name, unit);
  if (usual === null) return null;
  const [low, high] = usual;
  return { low, high, words: [inWords(low, unit), inWords(high, unit)] };
}

/** The plausible limits of a shot column in `unit`, rounded outwards; they hold where a session states none. `null` where any value will do. */
export function usualLimits(name: ShotColumn, unit: Unit | null): readonly [low: number, high: number] | null {
  const { range }: ShotColumnFacts = shotColumns[name];
  if (range === null || unit === null) return range;
  return [rounded(range[0] / units[unit].factor, Math.floor), rounded(range[1] / units[unit].factor, Math.ceil)];
}

/** A limit to two digits in its own unit, below 1 to one: 440 yd rather than 437.45 yd. Never inside the exact limit. */
function rounded(limit: number, outward: (value: number) => number): number {
  // The twelfth digit only says how a limit in degrees was made from radians.
  const exact = Number(limit.toPrecision(12));
  if (exact === 0) return 0;
  const size = Math.floor(Math.log10(Math.abs(exact)));
  const step = Math.max(0, size - 1);
  return size < 1 ? outward(Number((exact * 10).toPrecision(12))) / 10 : outward(Number((exact / 10 ** step).toPrecision(12))) * 10 ** step;
}

function inWords(value: number, unit: Unit | null): string {
  return `${Number(value.toPrecision(5))}${unit === null ? "" : ` ${unit}`}`;
}

function report(draft: Draft, session: Session, list: ProblemList, column: NumberColumn, name: ShotColumn, row: number, limits: Limits): void {
  const value = column.values[row]!;
  const [low, high] = limits.words;
  const field = value === 0 ? fieldOf(draft, name, row) : null;
  const zero = field === null ? null : fieldText(field.shots.text, field.shots.rows[field.row]!, field.read.index);
  const facts = { value: inWords(value, column.unit), column: name, low, high, ...(zero === null ? {} : { zero: zero.trim() }) };
  const make = (range: Problem["range"]): Problem => problem("value.out-of-range", facts, range);
  const shot = draft.numbers.values[row]!;
  const corrected = session.corrections.findLast((each) => each.column === name && each.shots.some(({ from, to }) => from <= shot && shot <= to));
  if (corrected !== undefined) list.add("value.out-of-range", () => make(corrected.valueRange));
  else if (fieldOf(draft, name, row) !== null) addAtField(draft, list, name, row, "value.out-of-range", make);
}
