import { inWords } from "../chart/field-name";
import { formatMeasure, formatNumber } from "../present/format-number";
import type { HeadBuild, SessionFacts } from "../session/session-facts";
import { isShotColumn } from "../table/shot-columns";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import type { Measure, Unit } from "../units";
import { convert, isConvertible } from "../units";
import type { UsedShots } from "./used-shots";

/** How many values of one column are there and missing in one group. */
export interface GroupCount {
  readonly name: string;
  readonly shots: number;
  readonly missing: number;
  /** Values that a person set aside; these are among the missing. */
  readonly setAside: number;
}

/** For each group the count of values of `column` that are there, missing, and set aside by a person. */
export function countValues(table: Table, column: NumberColumn, used: UsedShots): readonly GroupCount[] {
  const isSetAside = setAsideIn(table, column, used);
  const counts = used.groups.map((name) => ({ name, shots: 0, missing: 0, setAside: 0 }));
  used.rows.forEach((row, i) => {
    const count = counts[used.group[i]!]!;
    count.shots++;
    if (!Number.isNaN(column.values[row]!)) return;
    count.missing++;
    if (isSetAside(row, i)) count.setAside++;
  });
  return counts;
}

/** Whether the value of a used shot was set aside; never where the table no longer has shot numbers. */
function setAsideIn(table: Table, column: NumberColumn, used: UsedShots): (row: number, i: number) => boolean {
  const shot = findColumn(table, "shot");
  if (shot?.kind !== "number") return () => false;
  const shots = table.sessions.map(
    (session) => new Set((session.setAsideValues ?? []).filter((each) => each.column === column.name).map((each) => each.shot)),
  );
  return (row, i) => shots[used.session[i]!]?.has(shot.values[row]!) ?? false;
}

/** How many values are missing and how many of these were set aside, group by group. */
export function missingSentence(column: string, counts: readonly GroupCount[]): string {
  const some = counts.filter((each) => each.missing > 0);
  if (some.length === 0) return `No value of ${inWords(column)} is missing.`;
  const parts = some.map((each) => {
    const aside = each.setAside > 0 ? ` (${each.setAside} set aside)` : "";
    return `${each.missing} of ${each.shots} shots of ${each.name}${aside}`;
  });
  return `${capitalised(inWords(column))} is missing in ${listed(parts)}.`;
}

/** Whether the column was worked out rather than read, and in which sessions; nothing for a measured one. */
export function originSentences(column: NumberColumn, sessions: readonly SessionFacts[]): readonly string[] {
  const name = capitalised(inWords(column.name));
  if (column.origin === "derived") return [`${name} was worked out here from other columns, not measured.`];
  if (column.origin !== "measured" && column.origin !== "calculated") return [];
  const calculated = sessions.filter((session) => session.calculated.some((each) => each === column.name));
  // A column that joins sessions counts as calculated when one of them calculates it, perhaps not one of these.
  const isTold = sessions.length > 0 && isShotColumn(column.name);
  if (calculated.length === 0 && (isTold || column.origin !== "calculated")) return [];
  const where = calculated.length === 0 || calculated.length === sessions.length ? "" : `, in ${listed(calculated.map((session) => session.name))}`;
  return [`${name} was calculated by the monitor from other readings, not measured${where}.`];
}

const measured = ["loft", "lie", "length"] as const;

/** How the builds of the heads differ, in numbers: one sentence for each property in which stated builds differ. */
export function buildSentences(heads: readonly string[], sessions: readonly SessionFacts[]): readonly string[] {
  const builds = heads.flatMap((name) => sessions.flatMap((session) => session.heads).find((head) => head.name === name) ?? []);
  const sentences = measured.flatMap((property) => {
    const stated = builds.filter((build) => build[property] !== undefined);
    const unit = stated[0]?.[property]?.unit;
    if (unit === undefined || !differ(stated.map((build) => build[property]!), unit)) return [];
    return [differing(property, stated, (build) => asStated(build[property]!))];
  });
  const shafts = builds.filter((build) => build.shaft !== undefined);
  if (new Set(shafts.map((build) => build.shaft)).size > 1) sentences.push(differing("shaft", shafts, (build) => build.shaft!));
  return sentences;
}

function differing(property: string, builds: readonly HeadBuild[], show: (build: HeadBuild) => string): string {
  return `The builds differ in ${property}: ${builds.map((build) => `${build.name} ${show(build)}`).join(", ")}.`;
}

function differ(measures: readonly Measure[], unit: Unit): boolean {
  const values = measures.map((measure) => (isConvertible(measure.unit, unit) ? convert(measure.value, measure.unit, unit) : Number.NaN));
  return values.some((value) => !(Math.abs(value - values[0]!) < 1e-9));
}

/** How many errors the files of these sessions have, so that nobody takes what is left for all that was recorded. */
export function errorSentences(sessions: readonly SessionFacts[]): readonly string[] {
  const found = sessions.filter((session) => (session.errors ?? 0) > 0);
  const count = found.reduce((total, session) => total + session.errors!, 0);
  if (count === 0) return [];
  const files = listed(found.map((session) => (session.file === "" ? session.name : session.file)));
  const exports = found.length === 1 ? "its exports concern this session" : "their exports concern these sessions";
  return [`${count} ${count === 1 ? "error" : "errors"} in ${files} or ${exports}: the values concerned are missing.`];
}

/** What is said last: whose shots these were, so that nobody takes one tester's day for the heads themselves. */
export function closingSentence(used: UsedShots): string {
  const testers = used.players === null ? "Tester not known" : used.players === 1 ? "One tester" : `${used.players} testers`;
  const sessions = used.sessions.length < 2 ? "one session" : `${used.sessions.length} sessions`;
  return `${testers}, ${sessions}.`;
}

/** A measure with the digits it was stated with, at most two decimals. */
export function asStated(measure: Measure): string {
  return formatMeasure(measure.value, digitsOf(measure.value), measure.unit);
}

/** Decimals that a number needs, at most two. */
export function digitsOf(value: number): number {
  return [0, 1].find((digits) => Math.abs(value - Number(value.toFixed(digits))) < 1e-9) ?? 2;
}

/** A share as a percentage with the decimals it needs: `95 %`. */
export function percent(share: number): string {
  const value = share * 100;
  return `${formatNumber(value, digitsOf(value))} %`;
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(parts: readonly string[]): string {
  return parts.length < 2 ? (parts[0] ?? "") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)!}`;
}

/** The text with a capital at its beginning. */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
