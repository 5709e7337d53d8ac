import { inWords } from "../chart/field-name";
import { digitsAsStated, formatMeasure } from "../present/format-number";
import type { HeadBuild, SessionFacts } from "../session/session-facts";
import { isShotColumn } from "../table/shot-columns";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import type { Measure } from "../units";
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

/** What is stated of a build and told where it differs, with how each is shown and compared. */
const told: readonly (readonly [property: string, shown: (build: HeadBuild) => string | null, isSame: (a: HeadBuild, b: HeadBuild) => boolean])[] = [
  ...(["loft", "lie", "length"] as const).map(
    (property) =>
      [
        property,
        (build: HeadBuild) => (build[property] === undefined ? null : asStated(build[property])),
        (a: HeadBuild, b: HeadBuild) => isSameMeasure(a[property]!, b[property]!),
      ] as const,
  ),
  ["shaft", (build) => build.shaft ?? null, (a, b) => a.shaft === b.shaft],
];

/** What is stated of one head in one session. */
interface StatedBuild {
  readonly build: HeadBuild;
  readonly session: string;
}

/**
 * How the builds of the heads differ, in numbers: a sentence for each property in which stated builds differ, and one
 * for each head whose own build is not the same in all sessions.
 */
export function buildSentences(heads: readonly string[], sessions: readonly SessionFacts[]): readonly string[] {
  const stated = heads.map((name) =>
    sessions.flatMap((session) => session.heads.filter((head) => head.name === name).map((build): StatedBuild => ({ build, session: session.name }))),
  );
  return told.flatMap(([property, shown, isSame]) => {
    const builds = stated.map((own) => own.filter(({ build }) => shown(build) !== null)).filter((own) => own.length > 0);
    const differ = (all: readonly StatedBuild[]): boolean => all.some(({ build }) => !isSame(build, all[0]!.build));
    const perHead = builds.map((own) => `${own[0]!.build.name} ${[...new Set(own.map(({ build }) => shown(build)!))].join(" or ")}`);
    return [
      ...(builds.length > 1 && differ(builds.flat()) ? [`The builds differ in ${property}: ${perHead.join(", ")}.`] : []),
      ...builds.filter(differ).map((own) => {
        const places = own.map(({ build, session }) => `${shown(build)!} in ${session}`);
        return `The ${property} of ${own[0]!.build.name} is not the same in all sessions: ${listed(places)}.`;
      }),
    ];
  });
}

function isSameMeasure(a: Measure, b: Measure): boolean {
  return isConvertible(a.unit, b.unit) && Math.abs(convert(a.value, a.unit, b.unit) - b.value) < 1e-9;
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
  return formatMeasure(measure.value, digitsAsStated(measure.value), measure.unit);
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(parts: readonly string[]): string {
  return parts.length < 2 ? (parts[0] ?? "") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)!}`;
}

/** The text with a capital at its beginning. */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
