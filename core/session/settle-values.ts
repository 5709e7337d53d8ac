import { closestName } from "../closest-name";
import type { Problem } from "../problem";
import { problem } from "../problem";
import type { NumberForm, Sides } from "../table/read-number";
import { readNumber } from "../table/read-number";
import { isShotColumn, shotColumnFacts } from "../table/shot-columns";
import type { NumberColumn, TextColumn } from "../table/table";
import { valueAt } from "../table/table";
import { convert, isConvertible } from "../units";
import type { Draft } from "./draft";
import { fieldOf, noSuchColumn, settle } from "./draft";
import { settableColumns } from "../table/settable-columns";
import type { Session, ShotRange } from "./session";
import type { SetAsideCount, SetAsideValue } from "./session-facts";

/**
 * The rows of some shots, from 0, by their numbers. Numbers that no shot has are reported, but for gaps inside a range.
 */
export function rowsOfShots(ranges: readonly ShotRange[], { numbers: { values, fromExport } }: Draft, problems: Problem[]): number[] {
  return ranges.flatMap(({ from, to, range }) => {
    const start = firstNotBelow(values, from);
    const end = firstNotBelow(values, to + 1);
    const [first = 0, last = 0] = [values[0], values.at(-1)];
    if (start === end || from < first || to > last) {
      const shots = from === to ? `shot ${from}` : `shots ${from}-${to}`;
      problems.push(problem("session.no-such-shot", { shots, count: values.length, first, last, fromExport }, range));
    }
    return Array.from({ length: end - start }, (_, i) => start + i);
  });
}

/** The index of the first of ascending values that is not below `least`; their count when all are. */
function firstNotBelow(values: Float64Array, least: number): number {
  let from = 0;
  let to = values.length;
  while (from < to) {
    const middle = (from + to) >> 1;
    if (values[middle]! < least) from = middle + 1;
    else to = middle;
  }
  return from;
}

/** Puts the corrected values in. */
export function applyCorrections(draft: Draft, session: Session, problems: Problem[]): void {
  for (const correction of session.corrections) {
    const rows = rowsOfShots(correction.shots, draft, problems);
    const column = draft.columns.get(correction.column);
    if (column === undefined || column.kind === "truth") {
      problems.push(noSuchColumn(draft, correction.column, correction.columnRange, closestName(correction.column, [...draft.columns.keys()]) ?? undefined));
      continue;
    }
    if (column.kind === "text") draft.columns.set(column.name, withText(column, rows, correction.value));
    else {
      const writing = writingOf(column.name, session);
      const value = numberIn(column, correction.value, writing);
      if (value === null) {
        const number = column.unit === null ? "a plain number" : `a number, with or without its unit: 3 ${column.unit}`;
        const wanted = writing.sides === null ? number : `${number}${writing.sideNeeded ? "; the export does not go by sign alone, so say the side" : ", or with its side"}: ${sideExamples(writing.sides)}`;
        problems.push(problem("session.wrong-number", { what: column.name, text: correction.value, wanted }, correction.valueRange));
        continue;
      }
      for (const row of rows) column.values[row] = value;
    }
    for (const row of rows) settle(draft, correction.column, row);
  }
}

function withText(column: TextColumn, rows: readonly number[], label: string): TextColumn {
  const at = column.labels.indexOf(label);
  const code = at < 0 ? column.labels.length : at;
  for (const row of rows) column.codes[row] = code;
  return at < 0 ? { ...column, labels: [...column.labels, label] } : column;
}

/** How a correction of one column may be written. */
interface Writing {
  readonly sides: Sides | null;
  /** True where a sign alone does not tell the side: the export has letters, or its signs mean the opposite. */
  readonly sideNeeded: boolean;
}

/** Sides as in the export, or else by the first letters of the column's directions. */
function writingOf(name: string, session: Session): Writing {
  const direction = shotColumnFacts(name)?.direction ?? null;
  if (direction === null) return { sides: null, sideNeeded: false };
  const map = session.columns.find((each) => each.column === name);
  const [positive, negative] = direction;
  const letters = { positive: positive[0]!.toUpperCase(), negative: negative[0]!.toUpperCase() };
  return { sides: map?.sides ?? letters, sideNeeded: map !== undefined && (map.sides !== null || map.flipped) };
}

function sideExamples({ positive, negative }: Sides): string {
  return `3 ${negative}, 3 ${positive}`;
}

/**
 * The number that a correction states, in the column's unit; without a unit it is in that unit already. Without a side
 * it is positive to the right, to the toe and up.
 */
function numberIn(column: NumberColumn, text: string, { sides, sideNeeded }: Writing): number | null {
  const form: NumberForm = { decimal: ".", decimalKnown: true, unit: null, sides: null, missing: new Set() };
  const plain = sideNeeded ? null : readNumber(text, form);
  const reading = plain?.kind === "number" || sides === null ? plain : readNumber(text, { ...form, sides });
  if (reading?.kind !== "number") return null;
  if (reading.unit === null || reading.unit === column.unit) return reading.value;
  return column.unit !== null && isConvertible(reading.unit, column.unit) ? convert(reading.value, reading.unit, column.unit) : null;
}

/**
 * Makes the values missing that the session sets aside.
 *
 * @returns every value set aside, by shot and then by column, as the export has it; nothing for one that was missing.
 */
export function setValuesAside(draft: Draft, session: Session, problems: Problem[]): SetAsideValue[] {
  const values: SetAsideValue[] = [];
  const known = new Set<string>();
  for (const { shots, column: named, columnRange, because } of session.setAside) {
    const rows = rowsOfShots(shots, draft, problems);
    if (named !== "all" && !draft.columns.has(named)) problems.push(noSuchColumn(draft, named, columnRange, undefined));
    for (const name of named === "all" ? settableColumns : [named]) {
      const column = draft.columns.get(name);
      if (column?.kind !== "number" || !isShotColumn(name)) continue;
      for (const row of rows) {
        const recorded = valueAt(column, row) as number | null;
        settle(draft, name, row);
        // What is set aside twice counts once, with the first reason.
        if (known.has(`${row} ${name}`) || (recorded === null && !isWrongField(draft, name, row))) continue;
        known.add(`${row} ${name}`);
        values.push({ shot: draft.numbers.values[row]!, head: headOf(draft, row), column: name, recorded, unit: column.unit, because });
        column.values[row] = Number.NaN;
      }
    }
  }
  const order = (value: SetAsideValue): number => settableColumns.indexOf(value.column);
  return values.sort((a, b) => a.shot - b.shot || order(a) - order(b));
}

function isWrongField(draft: Draft, column: string, row: number): boolean {
  const field = fieldOf(draft, column, row);
  return field !== null && field.read.wrong.includes(field.row);
}

/** How many values were set aside by head and column, in the order of first appearance; without a head under "". */
export function countSetAside(values: readonly SetAsideValue[]): SetAsideCount[] {
  const counts = new Map<string, SetAsideCount>();
  for (const { head, column } of values) {
    const key = JSON.stringify([head, column]);
    counts.set(key, { head: head ?? "", column, count: (counts.get(key)?.count ?? 0) + 1 });
  }
  return [...counts.values()];
}

function headOf(draft: Draft, row: number): string | null {
  const heads = draft.columns.get("head");
  return heads?.kind === "text" ? (valueAt(heads, row) as string | null) : null;
}
