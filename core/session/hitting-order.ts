import type { Problem } from "../problem";
import { inFile, problem } from "../problem";
import { fieldRange, rowRange } from "../table/delimited-text";
import type { ProblemList } from "../table/problem-list";
import { problemList } from "../table/problem-list";
import type { TextRange } from "../text-position";
import type { ClockLine } from "./clock-times";
import { onOneLine } from "./clock-times";
import type { ExportShots } from "./export-shots";
import { readTime } from "./read-time";
import type { ShotOrder } from "./session";

/** The order in which the shots of a session's exports were hit. */
export interface HittingOrder {
  /**
   * The shots in hitting order, each by its place when all exports are put under one another; `null` when that is
   * the hitting order already.
   */
  readonly places: Int32Array | null;
  /** False when neither a column nor the session tells the order of some export. */
  readonly known: boolean;
  readonly problems: readonly Problem[];
}

/**
 * Orders shots by what each source states, or else by its shot numbers, or else by its times.
 *
 * Sources follow one another as listed, unless all of them are stated to be in order by time, or by a shot number
 * that counts through the session: then the shots of all are put in one order. An order that cannot be made is said,
 * and the order of the file stands in for it.
 */
export function hittingOrder(exports: readonly ExportShots[], mostProblems: number): HittingOrder {
  const problems: Problem[] = [];
  const keys = withClocks(exports, exports.map((shots) => keysOf(shots, mostProblems, problems)), problems);
  const starts: number[] = [];
  let total = 0;
  for (const shots of exports) {
    starts.push(total);
    total += shots.rows.length;
  }
  const known = keys.every((key) => key.known);
  const places = Int32Array.from({ length: total }, (_, i) => i);
  if (isOneOrder(exports, keys)) {
    const values = new Float64Array(total);
    keys.forEach((key, i) => values.set(key.values!, starts[i]));
    const moved = sortPlaces(places, values);
    if (exports[0]!.source.order === "session shot") reportTwice(places, values, (place) => locate(place, exports, starts), mostProblems, problems);
    return { places: moved ? places : null, known, problems };
  }
  for (const shots of exports)
    if (shots.source.order === "session shot" && exports.length > 1) problems.push(orderProblem(shots, "session shot", "not every source is ordered so"));
  let moved = false;
  keys.forEach((key, i) => {
    if (key.values === null) return;
    const own = Int32Array.from({ length: key.values.length }, (_, row) => row);
    if (sortPlaces(own, key.values)) moved = true;
    const shots = exports[i]!;
    if (key.by === "shot") reportTwice(own, key.values, (row) => ({ shots, row }), mostProblems, problems);
    for (let row = 0; row < own.length; row++) places[starts[i]! + row] = starts[i]! + own[row]!;
  });
  return { places: moved ? places : null, known, problems };
}

interface Keys {
  /** What to sort by, ascending; `null` to leave the order of the file. */
  readonly values: Float64Array | null;
  readonly by: "shot" | "time" | "file";
  readonly sort: string;
  /** True for times that may all be of a clock of 12 hours. */
  readonly maybeHalfDay?: boolean;
  readonly known: boolean;
}

const asInFile = (known: boolean): Keys => ({ values: null, by: "file", sort: "file", known });

function keysOf(shots: ExportShots, mostProblems: number, problems: Problem[]): Keys {
  const stated = shots.source.order;
  const order: ShotOrder | null = stated ?? (shots.columns.has("shot") ? "shot" : shots.columns.has("time") ? "time" : null);
  if (order === "file" || shots.rows.length === 0) return asInFile(true);
  if (order === "shot" || order === "session shot") return shotKeys(shots, order, problems) ?? asInFile(false);
  if (order === "time") {
    const keys = timeKeys(shots, stated === null ? null : mostProblems, problems);
    if (keys !== null) return keys;
    if (stated !== null) return asInFile(false);
  }
  problems.push(problem("session.order-unknown", { file: shots.source.file }, shots.source.fileRange));
  return asInFile(false);
}

function shotKeys(shots: ExportShots, order: ShotOrder, problems: Problem[]): Keys | null {
  const column = shots.columns.get("shot");
  if (column?.column.kind !== "number") {
    // That the header of the shot numbers is not there is said already.
    const isSaid = shots.problems.some((found) => found.code === "session.unknown-header" && found.facts.column === "shot");
    if (!isSaid) problems.push(orderProblem(shots, order, "no column of shot numbers is mapped"));
    return null;
  }
  const { values } = column.column;
  const bad = values.findIndex((value) => !Number.isSafeInteger(value));
  if (bad < 0) return { values, by: "shot", sort: "shot", known: true };
  const line = shots.text.lines[shots.rows[bad]!]!;
  problems.push(orderProblem(shots, order, `the shot on line ${line} has no whole number`));
  return null;
}

/** The same keys, times of day put on one line; without those that a clock of 12 hours would put in another order. */
function withClocks(exports: readonly ExportShots[], keys: readonly Keys[], problems: Problem[]): readonly Keys[] {
  const together = isOneOrder(exports, keys);
  const groups = together ? [keys.map((_, i) => i)] : keys.map((_, i) => [i]);
  const settled = [...keys];
  for (const group of groups) {
    const timed = group.filter((i) => keys[i]!.by === "time");
    const line = lineOf(timed.map((i) => keys[i]!));
    let start = 0;
    for (const i of timed) {
      const { source } = exports[i]!;
      // What is missing of an export could tell the half of the day, and hold the longest pause.
      if (line === null && exports[i]!.isPart) {
        settled[i] = asInFile(true);
        continue;
      }
      if (line === null) {
        settled[i] = asInFile(false);
        const reason = "the times have no AM or PM, and a clock of 12 hours would put them in another order than one of 24";
        problems.push(source.order === null ? problem("session.order-unknown", { file: source.file }, source.fileRange) : orderProblem(exports[i]!, "time", reason));
        continue;
      }
      const key = keys[i]!;
      settled[i] = { ...key, values: line.seconds.subarray(start, (start += key.values!.length)) };
      if (line.pastMidnight && !exports[i]!.isPart) problems.push(problem("session.past-midnight", { file: source.file }, source.orderRange));
    }
  }
  return settled;
}

/** The times of some keys one after another, sorted as hit; `null` when that cannot be told. Dates tell it, but for the half of the day. */
function lineOf(keys: readonly Keys[]): ClockLine | null {
  const seconds = Float64Array.from(keys.flatMap((key) => [...key.values!]));
  const maybeHalfDay = keys.every((key) => key.maybeHalfDay === true);
  if (keys.every((key) => key.sort === "clock")) return onOneLine(seconds, maybeHalfDay);
  const dated = { seconds, pastMidnight: false };
  const days = new Set(seconds.map((time) => Math.floor(time / 86_400)));
  if (!maybeHalfDay || days.size > 1 || keys[0]?.sort !== "local") return dated;
  return onOneLine(seconds.map((time) => time % 86_400), true) === null ? null : dated;
}

/** @param most problems to list; `null` when times that cannot be read are no problem, because nobody asked for them. */
function timeKeys(shots: ExportShots, most: number | null, problems: Problem[]): Keys | null {
  const column = shots.columns.get("time");
  if (column?.column.kind !== "text") {
    problems.push(orderProblem(shots, "time", "no column of times is mapped"));
    return null;
  }
  const { codes, labels } = column.column;
  const times = labels.map(readTime);
  const list: ProblemList = problemList(most ?? 0);
  const sorts = new Set<string>();
  let missing = 0;
  let maybeHalfDay = true;
  const values = Float64Array.from(codes, (code, row) => {
    const time = code < 0 ? null : times[code]!;
    if (code < 0) missing++;
    else if (time === null) list.add("value.date", () => problem("value.date", { text: labels[code]!, what: "time" }, fieldRange(shots.text, shots.rows[row]!, column.index)));
    else {
      sorts.add(time.sort);
      maybeHalfDay &&= time.maybeHalfDay;
    }
    return time?.seconds ?? Number.NaN;
  });
  const unread = list.listed();
  if (missing === 0 && unread.length === 0 && sorts.size === 1) return { values, by: "time", sort: [...sorts][0]!, maybeHalfDay, known: true };
  if (most === null) return null;
  problems.push(...unread.map((found) => inFile(found, shots.source.file)));
  if (missing > 0) problems.push(orderProblem(shots, "time", `${missing} shots have no time`));
  if (sorts.size > 1) problems.push(orderProblem(shots, "time", "some times have a date or a time zone and some do not"));
  return null;
}

function isOneOrder(exports: readonly ExportShots[], keys: readonly Keys[]): boolean {
  const first = exports[0]?.source.order;
  if (first !== "time" && first !== "session shot") return false;
  return exports.every((shots) => shots.source.order === first) && keys.every((key) => key.values !== null && key.sort === keys[0]!.sort);
}

/** Sorts places by their values, equal ones as they were; false when they were in order already. */
function sortPlaces(places: Int32Array, values: Float64Array): boolean {
  let sorted = true;
  for (let i = 1; i < values.length && sorted; i++) sorted = values[i - 1]! <= values[i]!;
  if (sorted) return false;
  places.sort((a, b) => values[a]! - values[b]! || a - b);
  return true;
}

interface Located {
  readonly shots: ExportShots;
  /** Counted among the shots of its export. */
  readonly row: number;
}

function locate(place: number, exports: readonly ExportShots[], starts: readonly number[]): Located {
  let i = exports.length - 1;
  while (starts[i]! > place) i--;
  return { shots: exports[i]!, row: place - starts[i]! };
}

function reportTwice(sorted: Int32Array, values: Float64Array, find: (place: number) => Located, most: number, problems: Problem[]): void {
  const list = problemList(most);
  const range = ({ shots, row }: Located): TextRange => {
    const column = shots.columns.get("shot");
    return column === undefined ? rowRange(shots.text, shots.rows[row]!) : fieldRange(shots.text, shots.rows[row]!, column.index);
  };
  const words = (at: Located): string => `${at.shots.source.file}, line ${at.shots.text.lines[at.shots.rows[at.row]!]!}`;
  for (let i = 1; i < sorted.length; i++) {
    if (values[sorted[i]!] !== values[sorted[i - 1]!]) continue;
    list.add("schema.unique", () => {
      const [first, second] = [find(sorted[i - 1]!), find(sorted[i]!)];
      const facts = { what: "shot", value: String(values[sorted[i]!]), first: words(first), second: words(second) };
      return problem("schema.unique", facts, range(second), { file: second.shots.source.file });
    });
  }
  problems.push(...list.listed());
}

function orderProblem(shots: ExportShots, order: string, reason: string): Problem {
  return problem("session.order", { order, file: shots.source.file, reason }, shots.source.orderRange);
}
