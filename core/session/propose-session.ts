import type { Limits } from "../limits";
import { inFile, type Checked, type Problem } from "../problem";
import { fieldText, type DelimitedText, type Delimiter } from "../table/delimited-text";
import { problemList } from "../table/problem-list";
import { readDelimited } from "../table/read-csv";
import type { Unit } from "../units";
import { onOneLine } from "./clock-times";
import { findShots } from "./find-shots";
import { missingTexts, numbersUnder, proposeColumn } from "./propose-column";
import { askedForHead, headsIn } from "./propose-heads";
import { heldAgainstPhysics } from "./propose-physics";
import { joined } from "./propose-shots";
import type { Field } from "./propose-sides";
import { columnWords, headerWords } from "./propose-words";
import { isDate, readTime } from "./read-time";
import type { ShotOrder } from "./session";
import type { GivenExport, PreviewRow, ProposedColumn, ProposedExport, SessionProposal, WholeNumbers } from "./session-proposal";

/** Rows that a preview shows. */
const previewRows = 8;

const delimiterNames = { ",": "comma", ";": "semicolon", "\t": "tab", "|": "bar" } as const;

interface ReadExport {
  readonly proposed: ProposedExport;
  readonly text: DelimitedText;
  readonly rows: Int32Array;
  readonly units: ReadonlyMap<number, Unit>;
  readonly problems: readonly Problem[];
}

/**
 * Returns what the exports seem to be. Whatever the headers, units and values do not tell is left to be asked.
 *
 * Problems are those of reading the exports; each names its file. An export that cannot be read has no header.
 */
export function proposeSession(given: readonly GivenExport[], limits: Limits): Checked<SessionProposal> {
  const read = given.map((each) => readOne(each, limits));
  const headers = [...new Set(read.flatMap(({ text }) => text.header.map(({ name }) => name)))];
  const fields = (header: string, absent: readonly Field[]): readonly Field[] =>
    read.flatMap(({ text, rows }) => {
      const at = text.header.findIndex(({ name }) => name === header);
      return at < 0 ? [...rows].flatMap(() => absent) : [...rows].map((row) => ({ text: fieldText(text, row, at) ?? "", decimal: text.decimal }));
    });
  const values = (header: string): readonly string[] => fields(header, []).map(({ text }) => text);
  const told = headers.map((header): ProposedColumn => {
    const having = read.filter(({ text }) => text.header.some(({ name }) => name === header));
    const units = having.map(({ text, units: ofRow }) => ofRow.get(text.header.findIndex(({ name }) => name === header)) ?? null);
    return proposeColumn({ header, files: having.map(({ proposed }) => proposed.file), values: fields(header, []), unitOfRow: units[0] ?? null });
  });
  const columns = told.some(({ column }) => column === "head") ? told : told.map((column) => askedForHead(column, values(column.header)));
  const single = columns.map((column) => (column.column === null || column.column === "keep" || columns.filter((other) => other.column === column.column).length === 1 ? column : asked(column)));
  const once = heldAgainstPhysics(single, (header) => numbersUnder(fields(header, [{ text: "", decimal: "." }]), single.find((each) => each.header === header)!));
  const stem = (given[0]?.file ?? "").replace(/^.*[/\\]/u, "").replace(/\.[^.]*$/u, "");
  const day = /\d{4}-\d{2}-\d{2}/u.exec(stem)?.[0] ?? null;
  return {
    value: {
      exports: read.map(({ proposed }) => proposed),
      columns: once,
      heads: Object.fromEntries(once.flatMap(({ header, columns: possible }) => (possible.includes("head") ? headsIn(header, values(header)) : []))),
      order: orderOf(once, values, given.length),
      missing: [...new Set(once.filter(({ isNumber }) => isNumber).flatMap(({ header }) => values(header).map((value) => value.trim()).filter((value) => missingTexts.has(value))))].toSorted(),
      name: stem === "" ? "session" : stem,
      date: day !== null && isDate(day) ? day : null,
    },
    problems: read.flatMap(({ problems }) => problems),
  };
}

/** The problems that leave nothing to propose: bytes that are no text that can be read, so that headers and names are not what they were. */
export function unreadText(problems: readonly Problem[]): readonly Problem[] {
  return problems.filter(({ code }) => code === "csv.encoding");
}

function asked(column: ProposedColumn): ProposedColumn {
  return { ...column, column: null, certainty: "ask", evidence: `${column.evidence}; another header says so too` };
}

function readOne({ file, bytes }: GivenExport, limits: Limits): ReadExport {
  const delimiter = delimiterOf(bytes, limits);
  const first = readDelimited(bytes, { limits, ...delimiter });
  const above = first.problems.find((found) => found.code === "csv.lines-above-header");
  const skipLines = above?.code === "csv.lines-above-header" ? above.facts.count : 0;
  const duplicateHeaders = readDelimited(bytes, { limits, skipLines, ...delimiter }).problems.some(({ code }) => code === "csv.duplicate-header");
  const { value: text, problems } = readDelimited(bytes, { limits, skipLines, ...delimiter, ...(duplicateHeaders ? { duplicateHeaders: "number" } : {}) });
  const named = (column: "shot" | "head" | "time"): number => text.header.findIndex(({ name }) => (columnWords[column] ?? []).includes(headerWords(name)) && !/[([]/u.test(name));
  const [shotColumn, headColumn, timeColumn] = [named("shot"), named("head"), named("time")];
  const list = problemList(limits.problems);
  const { rows, units } = findShots(
    text,
    {
      shotColumn,
      headColumn,
      isNamed: (index) => [shotColumn, headColumn, timeColumn].includes(index),
      mayNameSummary: () => true,
      isHead: () => false,
      isMissing: (word) => missingTexts.has(word),
      unitsRow: null,
    },
    list,
  );
  const shots = new Set(rows);
  const preview = (row: number): PreviewRow => ({ line: text.lines[row]!, fields: text.header.map((_, column) => fieldText(text, row, column) ?? "") });
  const left = Array.from({ length: text.rowCount }, (_, row) => row).filter((row) => !shots.has(row) && !(row === 0 && units.size > 0)).map((row) => preview(row));
  const proposed: ProposedExport = {
    file,
    delimiter: delimiterNames[text.delimiter],
    decimal: text.decimal,
    skipLines,
    duplicateHeaders,
    shotCount: rows.length,
    header: text.header.map(({ name }) => name),
    preview: Array.from({ length: Math.min(previewRows, text.rowCount) }, (_, row) => preview(row)),
    numbers: Object.fromEntries(text.header.flatMap(({ name }, column) => wholeNumbers(name, [...rows].map((row) => fieldText(text, row, column) ?? "")))),
    summaryRows: left.filter(({ fields }) => fields.some((field) => field.trim() !== "")),
  };
  return { proposed, text, rows, units, problems: [...problems, ...list.listed()].map((found) => inFile(found, file)) };
}

/** Spans of numbers that are kept of one header: numbers with more gaps count no shots. */
const mostSpans = 200;

function wholeNumbers(header: string, values: readonly string[]): readonly (readonly [string, WholeNumbers])[] {
  if (values.length === 0 || !values.every((value) => /^\s*\d{1,15}\s*$/u.test(value))) return [];
  const numbers = values.map(Number);
  const spans = joined(numbers.map((number) => [number, number]));
  const isDistinct = new Set(numbers).size === numbers.length && spans[0]![0] >= 1;
  return isDistinct && spans.length <= mostSpans ? [[header, { spans, isAscending: numbers.every((number, at) => at === 0 || numbers[at - 1]! < number) }]] : [];
}

/** The delimiter, where the one that is told makes the header a line above it, as decimal commas may, and another does not. */
function delimiterOf(bytes: Uint8Array, limits: Limits): { readonly delimiter?: Delimiter } {
  const isAbove = (options: { readonly delimiter?: Delimiter }): boolean => readDelimited(bytes, { limits, ...options }).problems.some(({ code, severity }) => code === "csv.lines-above-header" || severity === "error");
  if (!isAbove({})) return {};
  const delimiter = ([";", "\t", "|"] as const).find((each) => !isAbove({ delimiter: each }) && readDelimited(bytes, { limits, delimiter: each }).value.header.length > 1);
  return delimiter === undefined ? {} : { delimiter };
}

/** Distinct whole numbers count shots; clock times of every shot tell their order, unless a clock of 12 hours would tell another. */
function orderOf(columns: readonly ProposedColumn[], values: (header: string) => readonly string[], files: number): ShotOrder | null {
  const shot = columns.find(({ column }) => column === "shot");
  const numbers = shot === undefined ? [] : values(shot.header);
  if (numbers.length > 0 && numbers.every((value) => /^\s*\d+\s*$/u.test(value)) && new Set(numbers.map(Number)).size === numbers.length) return files > 1 ? "session shot" : "shot";
  const time = columns.find(({ column, missing, present }) => column === "time" && missing === 0 && present > 0);
  return time !== undefined && tellOrder(values(time.header)) ? "time" : null;
}

function tellOrder(values: readonly string[]): boolean {
  const times = values.map((value) => readTime(value)).filter((time) => time !== null);
  const sorts = new Set(times.map(({ sort }) => sort));
  if (times.length < values.length || sorts.size !== 1) return false;
  const isHalf = times.every(({ maybeHalfDay }) => maybeHalfDay);
  return !isHalf || onOneLine(Float64Array.from(times, ({ seconds }) => seconds % 86_400), true) !== null;
}
