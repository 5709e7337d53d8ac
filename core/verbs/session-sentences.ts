import { inWords } from "../chart/field-name";
import { digitsAsStated, formatMeasure } from "../present/format-number";
import type { HeadBuild, SessionFacts } from "../session/session-facts";
import { leastShots } from "../stats/judge-pair";
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
  /** Values that a person set aside, or that are derived from such; these are among the missing. */
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
    (session) => new Set([...(session.setAsideValues ?? []), ...(session.putBack ?? [])].filter((each) => each.column === column.name).map((each) => each.shot)),
  );
  return (row, i) => shots[used.session[i]!]?.has(shot.values[row]!) ?? false;
}

/** One column with its counts, group by group. */
export interface CountedColumn {
  readonly column: string;
  readonly counts: readonly GroupCount[];
}

/** Difference of the shares of missing values, between two groups, above which a warning is given. Common practice, no source. */
const mostShareDifference = 0.1;

/** How many values of each column are missing and how many of these were set aside, group by group; and whether that may bias. */
export function missingSentences(columns: readonly CountedColumn[]): readonly string[] {
  const each = columns.map((counted) => inGroups([counted])[0] ?? `No value of ${inWords(counted.column)} is missing.`);
  return [...each, ...unevenSentence(columns)];
}

/** The same in one sentence for all columns that are missing in the same way, none for those without a gap. */
export function missingTogether(columns: readonly CountedColumn[]): readonly string[] {
  return [...inGroups(columns), ...unevenSentence(columns)];
}

function inGroups(columns: readonly CountedColumn[]): readonly string[] {
  const gaps = columns.map(({ column, counts }) => [column, listed(counts.filter((each) => each.missing > 0).map(missingInWords))] as const);
  return sharedBy(gaps).map(([names, where]) => `${namesInWords(names)} ${names.length === 1 ? "is" : "are"} missing in ${where}.`);
}

/** Said once, where misreads may go with the groups: what was left out is then no longer the same of each. */
function unevenSentence(columns: readonly CountedColumn[]): readonly string[] {
  const missing = columns.filter(({ counts }) => isUneven(counts, "missing"));
  const uneven = columns.filter((each) => missing.includes(each) || isUneven(each.counts, "setAside"));
  if (uneven.length === 0) return [];
  const how = missing.length === uneven.length ? "are missing" : missing.length === 0 ? "were set aside" : "are missing or were set aside";
  return [`The shares of ${listed(uneven.map(({ column }) => inWords(column)))} that ${how} differ by more than 10 points: what made them missing may bias a comparison.`];
}

/** True where the shares of two groups differ by more than 10 points; groups too small for a verdict say nothing about shares. */
export function isUneven(counts: readonly GroupCount[], of: "missing" | "setAside"): boolean {
  const shares = counts.filter((each) => each.shots >= leastShots).map((each) => each[of] / each.shots);
  return Math.max(...shares) - Math.min(...shares) > mostShareDifference;
}

function missingInWords({ name, shots, missing, setAside }: GroupCount): string {
  const aside = setAside > 0 ? ` (${setAside} set aside)` : "";
  return `${missing} of ${shots} shots of ${name}${aside}`;
}

/** Whether the column was worked out rather than read, and in which sessions; nothing for a measured one. */
export function originSentences(column: NumberColumn, sessions: readonly SessionFacts[]): readonly string[] {
  return originsTogether([column], sessions);
}

/** The same for many columns: one sentence for all of the same origin, and one on the turf where a total is among them. */
export function originsTogether(columns: readonly NumberColumn[], sessions: readonly SessionFacts[]): readonly string[] {
  const origins = columns.map((column) => [column.name, originOf(column, sessions)] as const);
  return [
    ...sharedBy(origins).map(([names, origin]) => `${namesInWords(names)} ${names.length === 1 ? "was" : "were"} ${origin}.`),
    ...(columns.some((column) => column.name === "total") ? [turfSentence(sessions)] : []),
  ];
}

/** On which turf a total holds: it is worth nothing without that. */
function turfSentence(sessions: readonly SessionFacts[]): string {
  const stated = sharedBy(sessions.map(({ name, turf }) => [name, turf ?? ""]));
  const silent = sessions.filter(({ turf }) => (turf ?? "") === "").map(({ name }) => name);
  const [only] = stated;
  if (only === undefined) return `Total depends on the turf, which ${sessions.length < 2 ? "the session does" : "the sessions do"} not state.`;
  if (only[0].length === sessions.length) return `Total depends on the turf: ${only[1]}, as stated.`;
  const where = [...stated.map(([names, turf]) => `${turf} in ${listed(names)}`), ...(silent.length === 0 ? [] : [`not stated in ${listed(silent)}`])];
  return `Total depends on the turf, which is not ${silent.length === 0 ? "the same in all sessions" : "known to be the same"}: ${where.join("; ")}.`;
}

/** Empty for a column that was measured. */
function originOf(column: NumberColumn, sessions: readonly SessionFacts[]): string {
  if (column.origin === "derived") return "worked out here from other columns, not measured";
  if (column.origin !== "measured" && column.origin !== "calculated") return "";
  const calculated = sessions.filter((session) => session.calculated.some((each) => each === column.name));
  // A column that joins sessions counts as calculated when one of them calculates it, perhaps not one of these.
  const isTold = sessions.length > 0 && isShotColumn(column.name);
  if (calculated.length === 0 && (isTold || column.origin !== "calculated")) return "";
  const where = calculated.length === 0 || calculated.length === sessions.length ? "" : `, in ${listed(calculated.map((session) => session.name))}`;
  return `calculated by the monitor from other readings, not measured${where}`;
}

/** Which columns share which text, in order of first appearance; columns with an empty text are left out. */
function sharedBy(texts: readonly (readonly [column: string, text: string])[]): readonly (readonly [columns: readonly string[], text: string])[] {
  const columns = new Map<string, string[]>();
  for (const [column, text] of texts) if (text !== "") columns.set(text, [...(columns.get(text) ?? []), column]);
  return [...columns].map(([text, names]) => [names, text] as const);
}

function namesInWords(columns: readonly string[]): string {
  return capitalised(listed(columns.map(inWords)));
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
  const exports = found.length === 1 ? "its exports" : "their exports";
  return [`${count === 1 ? "1 error" : `${count} errors`} in ${files} or ${exports}: what ${count === 1 ? "it concerns" : "they concern"} is missing or not used.`];
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
